// @ts-check
/** Walks through tests/tour/demo.txt (its head says how it is read) in a browser. */
import { readFileSync } from 'node:fs';

const LINES = readFileSync(new URL('../tour/demo.txt', import.meta.url), 'utf8').split('\n');

/** A name with * at its ends as a pattern for the whole name; a space stands for one or more, as
 *  browsers count them. @param {string} name */
function pattern(name) {
  const words = name.replace(/[.+?^${}()|[\]\\]/g, '\\$&').replace(/ +/g, ' +')
    .replace(/^\*/, '.*').replace(/\*$/, '.*');
  return new RegExp(`^${words}$`, 's');
}

/** First word and the rest. @param {string} line @returns {[string, string]} */
function cut(line) {
  const at = line.indexOf(' ');
  return at < 0 ? [line, ''] : [line.slice(0, at), line.slice(at + 1)];
}

/**
 * @param {import('./hands.mjs').Hands} app just opened, with no class
 * @param {(name: string) => Promise<void>} look called with the name of everything looked at
 */
export async function tour(app, look) {
  const wide = (app.page.viewportSize()?.width ?? 0) >= 900;
  /** @param {string} what */
  const spot = (what) => {
    const [role, name] = cut(what);
    return /** @type {[any, RegExp]} */ ([role, pattern(name)]);
  };
  /** @type {Record<string, (rest: string) => Promise<unknown>>} */
  const verbs = {
    look,
    tap: (what) => app.tap(...spot(what)),
    hold: (what) => app.hold(...spot(what)),
    escape: () => app.press('Escape'),
    type: (what) => {
      const [field, text] = what.split(' = ');
      return app.type(field, text);
    },
    step: async (number) => {
      if (!wide) await app.tap('button', /all steps$/i);
      await app.tap('button', pattern(`${number}. *`));
    },
  };
  for (const line of LINES) {
    if (!line || line.startsWith('#')) continue;
    let [verb, rest] = cut(line);
    if (verb === 'narrow' || verb === 'wide') {
      if ((verb === 'wide') !== wide) continue;
      [verb, rest] = cut(rest);
    }
    try {
      await verbs[verb](rest);
    } catch (error) {
      throw new Error(`on the tour, at "${line}"`, { cause: error });
    }
  }
}
