// @ts-check
/** What the browser lacks or takes away: plain words, and always a way to the data. */
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';

import { openLab } from './harness.mjs';

/** @type {import('./harness.mjs').Lab} */
let lab;
before(async () => { lab = await openLab(); });
after(() => lab.close());

const MISSING = [
  ['WebGL 2', 'tallyround-plan.json', () => {
    const plain = HTMLCanvasElement.prototype.getContext;
    HTMLCanvasElement.prototype.getContext = /** @type {any} */ (
      /** @this {HTMLCanvasElement} @param {any[]} given */ function (...given) {
        return given[0] === 'webgl2' ? null : plain.apply(this, /** @type {any} */ (given));
      });
  }],
  ['WebAssembly', 'tallyround-stored.json', () => {
    delete /** @type {any} */ (globalThis).WebAssembly;
  }],
];

for (const [what, file, before] of MISSING) {
  test(`without ${what}: a plain page says so and saves what can be read`, async () => {
    const app = await lab.open({ before: /** @type {any} */ (before), ready: false });
    await app.see('heading', 'Tallyround cannot run here');
    assert.match(await app.page.locator('#plain').innerText(), new RegExp(String(what)));
    assert.deepEqual(await app.axe(), []);
    const [download] = await Promise.all([app.page.waitForEvent('download'),
      app.find('button', 'Save what is stored to a file').click()]);
    assert.equal(download.suggestedFilename(), file);
  });
}

test('without storage: the app runs and says that nothing is kept', async () => {
  const app = await lab.open({ before: () => {
    Object.defineProperty(globalThis, 'indexedDB', { value: undefined });
  } });
  await app.read(/no storage|not (be )?(saved|stored|kept)/i);
});

test('a file that does not arrive: a plain page', async () => {
  const app = await lab.open({ ready: false, before: () => {
    const plain = fetch;
    globalThis.fetch = (what, how) => String(what).endsWith('.ttf')
      ? Promise.reject(new TypeError('network')) : plain(what, how);
  } });
  await app.see('heading', 'Tallyround cannot run here');
});
