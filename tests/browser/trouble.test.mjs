// @ts-check
/** What the browser lacks or takes away: plain words, and always a way to the data. */
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';

import { openLab } from './harness.mjs';

/** @type {import('./harness.mjs').Lab} */
let lab;
before(async () => { lab = await openLab(); });
after(() => lab.close());

const lose = () => {
  const canvas = /** @type {HTMLCanvasElement} */ (document.getElementById('canvas'));
  const lossy = canvas.getContext('webgl2')?.getExtension('WEBGL_lose_context');
  Object.assign(globalThis, { lossy });
  lossy?.loseContext();
};

/** Whether anything but one colour is on screen. @param {import('./hands.mjs').Hands} app */
async function drawn(app) {
  await app.settled();
  const picture = (await app.page.screenshot()).toString('base64');
  return app.page.evaluate(async (data) => {
    const image = new Image();
    image.src = `data:image/png;base64,${data}`;
    await image.decode();
    const canvas = new OffscreenCanvas(image.width, image.height);
    const context = canvas.getContext('2d');
    context?.drawImage(image, 0, 0);
    const pixels = new Uint32Array(
      context?.getImageData(0, 0, image.width, image.height).data.buffer ?? new ArrayBuffer(0));
    return new Set(pixels).size > 20;
  }, picture);
}

test('a lost drawing context that comes back: the same picture again', async () => {
  const app = await lab.open();
  assert.equal(await drawn(app), true);
  const before = await app.page.screenshot();
  await app.page.evaluate(lose);
  await app.page.waitForTimeout(200);
  await app.page.evaluate(() => /** @type {any} */ (globalThis).lossy.restoreContext());
  await app.page.waitForTimeout(500);
  await app.settled();
  assert.ok(before.equals(await app.page.screenshot()), 'the picture differs');
});

test('one that does not come back: a plain page that saves the plan', async () => {
  const app = await lab.open();
  await app.page.evaluate(lose);
  await app.see('heading', 'Tallyround cannot run here');
  assert.deepEqual(await app.axe(), []);
  const [download] = await Promise.all([app.page.waitForEvent('download'),
    app.find('button', 'Save what is stored to a file').click()]);
  assert.equal(download.suggestedFilename(), 'tallyround-plan.json');
});

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
