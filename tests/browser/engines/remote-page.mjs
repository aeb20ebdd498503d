// @ts-check
/**
 * A page of a browser that is not driven by Playwright, with as much of Playwright's page as the
 * tests use. What it stands on is a `Remote`: the few things that WebDriver can do.
 */
import { setTimeout as sleep } from 'node:timers/promises';

import { findAll } from './finder.mjs';

/**
 * @typedef {object} Remote
 * @property {(source: string, args: string) => Promise<string|undefined>} call runs the function of
 *   that source with the arguments of that JSON and gives its answer as JSON
 * @property {(source: string) => Promise<void>} preload runs a script in every page from now on
 * @property {(url: string) => Promise<void>} goto
 * @property {() => Promise<void>} reload
 * @property {() => Promise<Buffer>} screenshot
 * @property {(keys: string[]) => Promise<void>} press pressed in order, lifted in reverse
 * @property {(type: string, points: {x: number, y: number}[]) => Promise<void>} touch
 * @property {() => Promise<void>} front
 * @property {() => Promise<void>} close
 * @property {(kind: string) => {ready: Promise<void>, event: Promise<any>}} await a download or a
 *   file chooser
 */

const POLL_MS = 40;
/** WebDriver's codes of keys that write nothing: W3C WebDriver, 17.4.2. */
const KEYS = { Enter: '\ue007', Tab: '\ue004', Escape: '\ue00c', Delete: '\ue017',
  Backspace: '\ue003', ArrowLeft: '\ue012', ArrowUp: '\ue013', ArrowRight: '\ue014',
  ArrowDown: '\ue015', Home: '\ue011', End: '\ue010', PageUp: '\ue00e', PageDown: '\ue00f',
  Space: ' ', Control: '\ue009', Shift: '\ue008', Alt: '\ue00a', Meta: '\ue03d' };

/** @param {string|RegExp} words @returns {import('./finder.mjs').Words} */
const plain = (words) => words instanceof RegExp
  ? { pattern: words.source, flags: words.flags } : { text: words };

/** @typedef {import('./finder.mjs').Step} Step */

export class RemoteLocator {
  /** @param {RemotePage} page @param {Step[]} steps */
  constructor(page, steps) {
    this.page = page;
    this.steps = steps;
  }

  /** @param {Step} step */
  #then(step) { return new RemoteLocator(this.page, [...this.steps, step]); }

  /** @param {string} role @param {{name?: string|RegExp, exact?: boolean}} [options] */
  getByRole(role, { name } = {}) {
    return this.#then(name === undefined ? { role } : { role, name: plain(name) });
  }
  /** @param {string|RegExp} words */
  getByText(words) {
    const says = words instanceof RegExp ? plain(words)
      : { pattern: words.replace(/[.*+?^${}()|[\]\\]/g, '\\$&'), flags: 'i' };
    return this.#then({ says });
  }
  /** @param {{hasText: string|RegExp}} options */
  filter({ hasText }) { return this.#then({ has: plain(hasText) }); }
  /** @param {RemoteLocator} other */
  and(other) { return this.#then({ and: other.steps }); }
  /** @param {string} css */
  locator(css) { return this.#then({ css }); }
  first() { return this.#then({ at: 0 }); }
  async all() {
    return Array.from({ length: await this.count() }, (_, at) => this.#then({ at }));
  }

  /** @param {Function|string} run @param {unknown} [arg] */
  evaluateAll(run, arg) {
    return this.page.evaluate(`([steps, arg]) => (${run})((${findAll})(steps), arg)`,
      [this.steps, arg]);
  }

  count() { return this.evaluateAll((/** @type {Element[]} */ all) => all.length); }

  /** Of the first one, once it is there. @param {Function|string} run @param {unknown} [arg] */
  async evaluate(run, arg) {
    await this.waitFor();
    return this.evaluateAll(`(all, arg) => (${run})(all[0], arg)`, arg);
  }

  /** @param {{state?: 'attached'|'detached'|'visible'}} [options] */
  async waitFor({ state = 'attached' } = {}) {
    const end = Date.now() + this.page.patience;
    while ((await this.count() > 0) === (state === 'detached')) {
      if (Date.now() > end) {
        throw new Error(`not ${state} in time: ${JSON.stringify(this.steps)}`);
      }
      await sleep(POLL_MS);
    }
  }

  textContent() { return this.evaluate((/** @type {Element} */ e) => e.textContent); }
  innerText() { return this.evaluate((/** @type {HTMLElement} */ e) => e.innerText); }
  click() { return this.evaluate((/** @type {HTMLElement} */ e) => e.click()); }
  /** @param {string} type */
  dispatchEvent(type) {
    return this.evaluate((/** @type {Element} */ e, /** @type {string} */ t) => {
      e.dispatchEvent(new Event(t, { bubbles: true, cancelable: true, composed: true }));
    }, type);
  }
  isDisabled() {
    return this.evaluate((/** @type {HTMLButtonElement} */ e) =>
      e.disabled || e.getAttribute('aria-disabled') === 'true');
  }
  async isVisible() {
    return await this.count() > 0 && this.evaluate((/** @type {HTMLElement} */ e) =>
      e.offsetWidth > 0 && getComputedStyle(e).visibility === 'visible');
  }
}

export class RemotePage {
  patience = 15000;
  /** @type {((event: any) => void)[]} */
  #onConsole = [];
  keyboard = {
    press: (/** @type {string} */ key) => this.remote.press(key.split('+').map((one) =>
      KEYS[/** @type {keyof typeof KEYS} */ (one)] ?? one)),
    type: async (/** @type {string} */ text) => {
      for (const letter of text) {
        await this.remote.press([letter === '\n' ? KEYS.Enter : letter]);
      }
    },
    insertText: (/** @type {string} */ text) => this.evaluate((/** @type {string} */ words) => {
      document.execCommand('insertText', false, words);
    }, text),
  };

  /** @param {Remote} remote @param {any} context */
  constructor(remote, context) {
    this.remote = remote;
    this.owner = context;
  }

  context() { return this.owner; }
  /** @param {number} ms */
  setDefaultTimeout(ms) { this.patience = ms; }
  /** @param {string} kind @param {(event: any) => void} heard */
  on(kind, heard) { if (kind === 'console') this.#onConsole.push(heard); }
  /** @param {string} type @param {string} text */
  logged(type, text) {
    for (const heard of this.#onConsole) heard({ type: () => type, text: () => text });
  }
  /** @param {Function|string} script */
  addInitScript(script) {
    return this.remote.preload(typeof script === 'string' ? script : `(${script})()`);
  }
  /** @param {string} url */
  goto(url) { return this.remote.goto(url); }
  reload() { return this.remote.reload(); }
  close() { return this.remote.close(); }
  bringToFront() { return this.remote.front(); }
  /** @param {{path?: string}} [options] */
  async screenshot({ path } = {}) {
    const png = await this.remote.screenshot();
    if (path) (await import('node:fs')).writeFileSync(path, png);
    return png;
  }
  /** @param {number} ms */
  waitForTimeout(ms) { return sleep(ms); }

  /** Runs a function, or a script, in the page. @param {Function|string} run
   *  @param {unknown} [arg] @returns {Promise<any>} */
  async evaluate(run, arg) {
    const source = typeof run === 'string' && !/^\s*(async\s*)?[([]/.test(run)
      ? `() => {\n${run}\n}` : String(run);
    const answer = await this.remote.call(source, JSON.stringify(arg === undefined ? [] : [arg]));
    return answer === undefined ? undefined : JSON.parse(answer);
  }

  /** @param {Function|string} run @param {unknown} [arg] */
  async waitForFunction(run, arg) {
    const end = Date.now() + this.patience;
    while (!await this.evaluate(`async (arg) => Boolean(await (${run})(arg))`, arg)) {
      if (Date.now() > end) throw new Error(`not true in time: ${run}`);
      await sleep(POLL_MS);
    }
  }

  /** @param {string} kind 'download' or 'filechooser' */
  async waitForEvent(kind) {
    const { ready, event } = this.remote.await(kind);
    await ready;
    return event;
  }

  /** @param {string} css */
  locator(css) { return new RemoteLocator(this, [{ css }]); }
  /** @param {string} css @param {string} name */
  getAttribute(css, name) {
    return this.locator(css).evaluate((/** @type {Element} */ e, /** @type {string} */ n) =>
      e.getAttribute(n), name);
  }
}
