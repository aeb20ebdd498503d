// @ts-check
/**
 * The one Trusted Types policy. Where browsers have them, the page's policy lets no text reach a
 * place from which it could run, except through these two.
 */

/** @typedef {{createHTML: (text: string) => any, createScriptURL: (text: string) => any}} Policy */

/** @type {{createPolicy: (name: string, rules: object) => Policy}|undefined} */
const types = /** @type {any} */ (globalThis).trustedTypes;

const policy = types?.createPolicy('tallyround', {
  createHTML: (/** @type {string} */ text) => text,
  createScriptURL: (/** @type {string} */ path) => {
    if (path !== 'sw.js') throw new TypeError(`${path} is not a script of this app.`);
    return path;
  },
});

/** A document of its own, in which nothing runs and nothing is fetched. @param {string} html */
export function inertDocument(html) {
  return new DOMParser().parseFromString(policy ? policy.createHTML(html) : html, 'text/html');
}

/** The service worker's address. @returns {string} */
export function workerAddress() {
  return policy ? policy.createScriptURL('sw.js') : 'sw.js';
}
