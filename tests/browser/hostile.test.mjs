// @ts-check
/** Input made to do harm: names that are markup, JSON keys that reach for prototypes, paths. */
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';

import { openLab } from './harness.mjs';

/** @type {import('./harness.mjs').Lab} */
let lab;
before(async () => { lab = await openLab(); });
after(() => lab.close());

const NAMES = [
  'Ann Lee',  // a list that begins with markup is refused as a web page
  '<img src=x onerror="globalThis.intruder=1">',
  'Ann"><script>globalThis.intruder=1</script>',
  '<svg onload=globalThis.intruder=1>',
  '{{constructor.constructor("globalThis.intruder=1")()}}',
  '__proto__',
  'constructor',
];

/** Nothing ran, nothing was refused because nothing was tried, and prototypes are as they were.
 *  @param {import('./hands.mjs').Hands} app */
async function unharmed(app) {
  assert.deepEqual(await app.page.evaluate(() => ({
    ran: 'intruder' in globalThis,
    prototype: Object.keys(Object.prototype),
    polluted: 'polluted' in {},
  })), { ran: false, prototype: [], polluted: false });
  assert.deepEqual(await app.violations(), []);
}

test('names that are markup stay names: in the mirror, on paper, in files', async () => {
  const app = await lab.open();
  await app.tap('button', 'Start with your class');
  await app.type('Name of the class', NAMES[2]);
  await app.tap('button', 'Make the class');
  await app.type('Names, one a line', `${NAMES.join('\n')}\n`);
  await app.tap('button', 'Add these names');
  for (const name of NAMES) {
    await app.page.waitForFunction((wanted) =>
      [...document.querySelectorAll('#mirror *')]
        .some((e) => (e.getAttribute('aria-label') ?? e.textContent)?.includes(wanted)), name);
  }
  assert.equal(await app.page.locator('#mirror img, #mirror script, #mirror svg').count(), 0);
  await unharmed(app);
  const paper = await app.page.evaluate(async (names) => {
    const { printPage } = await import(String('./js/print.mjs'));
    globalThis.print = () => {};
    await printPage('Cards', `<!doctype html><body>${names.join('')}
      <a href="javascript:globalThis.intruder=1" id="trap">x</a>
      <svg><use href="#own"/><use href="https://elsewhere.invalid/a.svg#b"/></svg></body>`);
    const place = /** @type {Element} */ (document.getElementById('print'));
    place.querySelector('#trap')?.dispatchEvent(new Event('click'));
    return place.outerHTML;
  }, NAMES);
  assert.doesNotMatch(paper, /<script|onerror|onload|javascript:|elsewhere/);
  assert.match(paper, /href="#own"/);
  assert.equal(await app.page.evaluate(() => 'intruder' in globalThis), false);
});

test('JSON keys that reach for prototypes change nothing', async () => {
  const app = await lab.open();
  const poison = '"__proto__":{"polluted":1},"constructor":{"prototype":{"polluted":1}}';
  const file = (/** @type {string} */ text) => ({ name: '../../plan<b>.json',
    mimeType: 'application/json', buffer: Buffer.from(text) });
  for (const text of [
    `{${poison},"format":"tallyround-plan","version":1,"checksum":"x","events":[]}`,
    `{"format":"tallyround-plan","version":1,${poison},"events":[{${poison}}],"checksum":"x"}`,
    `{"format":"tallyround-sealed",${poison}}`,
    `[${poison}]`,
  ]) {
    await app.choose('button', 'Open a plan file', file(text));
    await unharmed(app);
    await app.press('Escape');
  }
  await app.page.evaluate((json) => {
    new BroadcastChannel('tallyround-records').postMessage(JSON.parse(json));
    new BroadcastChannel('tallyround-records').postMessage({ key: -1, text: json });
  }, `{${poison}}`);
  await app.settled();
  await unharmed(app);
  await app.see('button', 'Start with your class');
});

test('preferences and records that somebody wrote by hand do not stop the start', async () => {
  const app = await lab.open();
  await app.page.evaluate(() => new Promise((done) => {
    indexedDB.open('tallyround').onsuccess = ({ target }) => {
      const { result: db } = /** @type {IDBOpenDBRequest} */ (target);
      const tx = db.transaction(['settings'], 'readwrite');
      tx.objectStore('settings').put(
        '{"__proto__":{"polluted":1},"screen":"99999","text":"1e9","class":"../x","look":"<b>"}',
        'preferences');
      tx.oncomplete = () => { db.close(); done(null); };
    };
  }));
  await app.reload();
  await app.see('button', 'Start with your class');
  await unharmed(app);
});
