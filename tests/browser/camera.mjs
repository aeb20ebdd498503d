// @ts-check
/** A stand-in for a camera, and two devices of which one reads the other's codes with it. */
import assert from 'node:assert/strict';

/** In the page: a camera that sees what is put on `globalThis.lens`. */
export function standInCamera() {
  const lens = document.createElement('canvas');
  [lens.width, lens.height] = [800, 800];
  lens.getContext('2d');
  Object.assign(globalThis, { lens });
  navigator.mediaDevices.getUserMedia = async () => lens.captureStream(30);
}

/** One device reads the codes that another one shows.
 *  @param {import('./hands.mjs').Hands} from @param {import('./hands.mjs').Hands} to */
export async function carryCodes(from, to) {
  const canvas = from.page.locator('dialog canvas');
  await canvas.waitFor();
  assert.deepEqual(await from.violations(), []);
  await to.tap('button', 'Read codes');
  await to.page.locator('dialog video').waitFor();
  for (let i = 0; i < 400 && await to.page.locator('dialog').count() > 0; i++) {
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
  const left = to.page.locator('dialog');
  assert.equal(await left.count(), 0, await left.count() ? await left.innerText() : '');
}
