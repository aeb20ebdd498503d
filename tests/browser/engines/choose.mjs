// @ts-check
/** Which browser the tests run in: TALLYROUND_ENGINE=chromium, firefox or webkit. */

/** What each engine's driver can do besides what every test needs. */
const ABLE = {
  chromium: ['devtools', 'preload', 'profile', 'requests', 'snapshot', 'pdf', 'narrow', 'camera'],
  firefox: ['preload', 'profile', 'requests', 'narrow', 'camera'],
  webkit: [],
};

const WHY = {
  devtools: 'the DevTools protocol', preload: 'scripts before the page',
  profile: 'data kept from start to start',
  requests: 'seeing every request', snapshot: 'accessibility snapshots', pdf: 'printing to PDF',
  narrow: 'a window as narrow as a phone', camera: 'a stand-in for the camera',
};

export const ENGINE = /** @type {keyof typeof ABLE} */ (process.env.TALLYROUND_ENGINE ??
  'chromium');
if (!(ENGINE in ABLE)) throw new Error(`TALLYROUND_ENGINE=${ENGINE}: there is no such engine`);

/** @typedef {keyof typeof WHY} Ability */

/** @param {Ability} what */
export const can = (what) => /** @type {string[]} */ (ABLE[ENGINE]).includes(what);

/**
 * Options of a test that needs more than every engine can: it is skipped where that is missing.
 * @param {Ability[]} what
 */
export function needs(...what) {
  const missing = what.filter((one) => !can(one));
  return { skip: missing.length > 0 &&
    `${ENGINE}: no driver for ${missing.map((one) => WHY[one]).join(', ')}` };
}

/**
 * A browser that is not started yet.
 * @param {string} [profile] folder that keeps its data
 * @param {(url: string) => void} [asked] hears of every request, where the driver tells
 */
export async function newBrowser(profile, asked) {
  switch (ENGINE) {
    case 'firefox': {
      const { Firefox } = await import('./firefox.mjs');
      return new Firefox(profile, asked);
    }
    case 'webkit': {
      const { WebKits } = await import('./webkit.mjs');
      return new WebKits();
    }
    default: {
      const { Chromium } = await import('./chromium.mjs');
      return new Chromium(profile, asked);
    }
  }
}
