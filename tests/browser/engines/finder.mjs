// @ts-check
/**
 * Finding elements by role and name where Playwright is not there to do it. `findAll` runs inside
 * the page. It knows the roles that the mirror uses; that they are what a screen reader is told is
 * checked in Chromium, where the browser's own accessibility tree has them.
 *
 * @typedef {{text: string}|{pattern: string, flags: string}} Words a whole text, or a pattern
 * @typedef {{css: string}|{role: string, name?: Words}|{has: Words}|{says: Words}|
 *   {and: Step[]}|{at: number}} Step each narrows or leads on from what the ones before found
 */

/** @param {Step[]} steps @returns {Element[]} */
export function findAll(steps) {
  /** @type {Record<string, string>} */
  const byTag = { MAIN: 'main', NAV: 'navigation', HEADER: 'banner', SECTION: 'region',
    H1: 'heading', H2: 'heading', H3: 'heading', P: 'paragraph', BUTTON: 'button',
    INPUT: 'textbox', TEXTAREA: 'textbox', UL: 'list', LI: 'listitem' };
  const tidy = (/** @type {string|null|undefined} */ text) => (text ?? '').replace(/\s+/g, ' ')
    .trim();
  const roleOf = (/** @type {Element} */ e) => e.getAttribute('role') ?? byTag[e.tagName];
  const nameOf = (/** @type {Element} */ e) => {
    const labels = [.../** @type {HTMLInputElement} */ (e).labels ?? []]
      .map((label) => label.textContent).join(' ');
    return tidy(e.getAttribute('aria-label') || labels || e.textContent);
  };
  const fits = (/** @type {string} */ text, /** @type {any} */ words) => 'pattern' in words
    ? new RegExp(words.pattern, words.flags).test(text) : text === tidy(words.text);
  /** @param {any} step @param {Element[]} found @returns {Element[]} */
  const take = (step, found) => {
    if ('at' in step) return found.slice(step.at).slice(0, 1);
    if ('and' in step) {
      const others = new Set(findAll(step.and));
      return found.filter((e) => others.has(e));
    }
    if ('has' in step) return found.filter((e) => fits(tidy(e.textContent), step.has));
    const below = [...new Set(found.flatMap((e) => [...e.querySelectorAll(step.css ?? '*')]))];
    if ('css' in step) return below;
    if ('says' in step) {
      return below.filter((e) => fits(tidy(e.textContent), step.says) &&
        ![...e.children].some((child) => fits(tidy(child.textContent), step.says)));
    }
    return below.filter((e) => roleOf(e) === step.role && !e.closest('[hidden]') &&
      (!step.name || fits(nameOf(e), step.name)));
  };
  let found = [/** @type {Element} */ (document.documentElement)];
  for (const step of steps) found = take(step, found);
  return found;
}
