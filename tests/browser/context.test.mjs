// @ts-check
/** The drawing context taken away, as browsers do: it comes back or it does not. */
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';

import { Clock } from './clock.mjs';
import { openLab } from './harness.mjs';
import { readByProgram } from './trial-record.mjs';

/** @type {import('./harness.mjs').Lab} */
let lab;
before(async () => { lab = await openLab(); });
after(() => lab.close());

/** @typedef {import('./hands.mjs').Hands} Hands */

/** Takes the context away and waits until the page has heard of it. @param {Hands} app */
const lose = (app) => app.page.evaluate(async () => {
  const canvas = /** @type {HTMLCanvasElement} */ (document.getElementById('canvas'));
  const lossy = canvas.getContext('webgl2')?.getExtension('WEBGL_lose_context');
  Object.assign(globalThis, { lossy });
  const heard = new Promise((done) => { canvas.addEventListener('webglcontextlost', done); });
  lossy?.loseContext();
  await heard;
});

/** @param {Hands} app */
async function restore(app) {
  await app.page.evaluate(async () => {
    const canvas = /** @type {HTMLCanvasElement} */ (document.getElementById('canvas'));
    const heard = new Promise((done) => { canvas.addEventListener('webglcontextrestored', done); });
    /** @type {any} */ (globalThis).lossy.restoreContext();
    await heard;
  });
  await app.settled();
}

/** @param {Hands} app */
async function picture(app) {
  await app.settled();
  return app.page.screenshot();
}

/** How many colors a picture has. @param {Hands} app @param {Buffer} png */
const colors = (app, png) => app.page.evaluate(async (data) => {
  const image = new Image();
  image.src = `data:image/png;base64,${data}`;
  await image.decode();
  const canvas = new OffscreenCanvas(image.width, image.height);
  const context = canvas.getContext('2d');
  context?.drawImage(image, 0, 0);
  const pixels = context?.getImageData(0, 0, image.width, image.height).data.buffer;
  return new Set(new Uint32Array(pixels ?? new ArrayBuffer(0))).size;
}, png.toString('base64'));

/** Someone whose mark can be put. @param {Hands} app */
async function someone(app) {
  const name = (await app.names('button')).find((one) => /: stuck$/.test(one));
  return String(name).replace(/: stuck$/, '');
}

test('in a lesson: taps count while it is lost, and everything is drawn again', async () => {
  const clock = new Clock(Date.parse('2027-03-09T09:10:00Z'));
  const app = await lab.open({ before: clock.script() });
  await app.startDemoRound();
  await clock.pass(app, 10_500);  // messages are gone, and no second is about to end
  const whole = await picture(app);
  assert.ok(await colors(app, whole) > 20);
  const name = await someone(app);
  await lose(app);
  await app.activate('button', `${name}: stuck`);
  await restore(app);
  const marked = await picture(app);
  assert.ok(!marked.equals(whole), 'the mark is seen');
  await app.tap('button', `Undo: mark for ${name}`);
  await clock.pass(app, 0);
  assert.ok(whole.equals(await picture(app)), 'the picture differs from the one before');
  assert.deepEqual(app.complaints.filter((one) => !/context/i.test(one)), []);
  await app.page.close();
});

test('lost three times in a row: the same picture each time', async () => {
  const clock = new Clock(Date.parse('2027-03-09T09:10:00Z'));
  const app = await lab.open({ before: clock.script() });
  const whole = await picture(app);
  for (let i = 0; i < 3; i += 1) {
    await lose(app);
    await restore(app);
    assert.ok(whole.equals(await picture(app)), `the picture differs after time ${i + 1}`);
  }
  await app.page.close();
});

test('it does not come back: a plain page that saves the plan with its last mark', async () => {
  const app = await lab.open();
  await app.startDemoRound();
  await app.activate('button', `${await someone(app)}: stuck`);
  await lose(app);
  await app.see('heading', 'Tallyround cannot run here');
  assert.deepEqual(await app.axe(), []);
  const saved = await app.download('button', 'Save what is stored to a file');
  assert.equal(saved.name, 'tallyround-plan.json');
  const { check, marks } = readByProgram(saved.bytes);
  assert.equal(check.ok, true);
  assert.equal(marks.at(-1)?.level, 'stuck');
  await app.page.close();
});

test('hidden when it is lost: nobody is told before the page is seen again', async () => {
  const app = await lab.open();
  /** @param {boolean} hidden */
  const hide = (hidden) => app.page.evaluate((is) => {
    Object.defineProperty(document, 'hidden', { configurable: true, value: is });
    document.dispatchEvent(new Event('visibilitychange'));
  }, hidden);
  await hide(true);
  await lose(app);
  await app.page.waitForTimeout(6000);
  assert.equal(await app.page.locator('#plain').isVisible(), false);
  await restore(app);
  await hide(false);
  await app.settled();
  assert.ok(await colors(app, await picture(app)) > 20);
  await hide(true);
  await lose(app);
  await hide(false);
  await app.see('heading', 'Tallyround cannot run here');
  await app.page.close();
});
