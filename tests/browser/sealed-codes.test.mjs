// @ts-check
/** Codes where files are sealed with a passcode: asked first, and as many as open ones. */
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';

import { openLab } from './harness.mjs';

/** @type {import('./harness.mjs').Lab} */
let lab;
before(async () => { lab = await openLab(); });
after(() => lab.close());

/** In the page: a camera that sees what is put on `globalThis.lens`. */
function standInCamera() {
  const lens = document.createElement('canvas');
  [lens.width, lens.height] = [800, 800];
  lens.getContext('2d');
  Object.assign(globalThis, { lens });
  navigator.mediaDevices.getUserMedia = async () => lens.captureStream(30);
}

/** One device reads the codes that another one shows.
 *  @param {import('./hands.mjs').Hands} from @param {import('./hands.mjs').Hands} to */
async function carry(from, to) {
  const canvas = from.page.locator('.codes canvas');
  await canvas.waitFor();
  assert.deepEqual(await from.violations(), []);
  await to.tap('button', 'Read codes');
  await to.page.locator('.codes video').waitFor();
  for (let i = 0; i < 400 && await to.page.locator('dialog.codes').count() > 0; i++) {
    const picture = await canvas.evaluate(
      (/** @type {HTMLCanvasElement} */ one) => one.toDataURL());
    await to.page.evaluate(async (source) => {
      const image = new Image();
      image.src = source;
      await image.decode();
      const lens = /** @type {HTMLCanvasElement} */ (/** @type {any} */ (globalThis).lens);
      const pen = /** @type {CanvasRenderingContext2D} */ (lens.getContext('2d'));
      pen.fillStyle = '#999';
      pen.fillRect(0, 0, 800, 800);
      pen.drawImage(image, 100, 100, 600, 600);
    }, picture);
    await to.page.waitForTimeout(60);
  }
  const left = to.page.locator('dialog.codes');
  assert.equal(await left.count(), 0, await left.count() ? await left.innerText() : '');
}

test('under a passcode: asked before anything is shown; sealed codes open with it alone',
  async () => {
    const to = await lab.open({ width: 390, height: 844, before: standInCamera });
    await to.tap('button', 'Settings and files');
    const from = await lab.open();
    await from.tap('button', /demo class/);
    await from.tap('button', 'Settings and files');
    await from.tap('button', 'Privacy and safety');
    await from.tap('button', 'Set a passcode');
    await from.type('New passcode', 'four words of chalk');
    await from.type('The same once more', 'four words of chalk');
    await from.tap('checkbox', 'I know that forgetting it is final');
    await from.tap('button', 'Set it');
    await from.see('button', 'Lock now');
    await from.reload();
    await from.type('Passcode', 'four words of chalk');
    await from.tap('button', 'Open');
    await from.tap('button', 'Settings and files');
    await from.tap('button', 'Show as codes');
    const dialog = from.page.getByRole('dialog', { name: 'Sealed or open?' });
    await dialog.waitFor();
    assert.equal(await from.page.locator('.codes canvas').count(), 0);
    assert.deepEqual(await from.axe(), []);
    await dialog.getByRole('button', { name: 'Sealed codes' }).click();
    const told = await from.page.getByText(/\d+ codes, \d+ seconds at best/).innerText();
    // 32 open ones: packed before it is sealed, for nothing packs afterwards.
    assert.ok(Number(/(\d+) codes/.exec(told)?.[1]) < 50, told);
    await carry(from, to);
    await to.see('heading', 'This file is sealed');
    await to.type('Passcode of the file', 'four words of chalk');
    await to.tap('button', 'Open the file');
    await to.see('button', /^Back to /);
    await from.page.locator('.codes button').click();
    await from.tap('button', 'Show as codes');
    await dialog.getByRole('button', { name: 'Open codes' }).click();
    await from.page.getByText(/Whoever films it has the plan/).waitFor();
    await from.page.close();
    await to.page.close();
  });
