// @ts-check
/** Strings in the device's own fonts. */
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';

import { ENGINE } from './engines/choose.mjs';
import { openLab } from './harness.mjs';

/** @type {import('./harness.mjs').Lab} */
let lab;
/** @type {import('./hands.mjs').Hands} */
let app;
before(async () => {
  lab = await openLab();
  app = await lab.open();
  await app.page.evaluate(async () => {
    const { Painter, runsRightToLeft } = await import(String('./js/painter.mjs'));
    const painter = new Painter();
    painter.measureLike('Tallyround');
    /** Size, and the rows and columns that hold ink. */
    const ink = (...given) => {
      const { pixels, width, height } = painter.paint(...given);
      const box = { width, height, top: height, bottom: -1, left: width, right: -1, white: true };
      for (let at = 0; at < width * height; at++) {
        // Some browsers keep colors multiplied by their opacity: that costs one step.
        if (pixels[at * 4] < 254 || pixels[at * 4 + 2] < 254) box.white = false;
        if (pixels[at * 4 + 3] < 128) continue;
        const [x, y] = [at % width, Math.floor(at / width)];
        box.top = Math.min(box.top, y);
        box.bottom = Math.max(box.bottom, y);
        box.left = Math.min(box.left, x);
        box.right = Math.max(box.right, x);
      }
      return box;
    };
    Object.assign(globalThis, { ink, runsRightToLeft });
  });
});
after(() => lab.close());

const ink = (...given) => app.page.evaluate((a) => globalThis.ink(...a), given);

test('white letters, wholly inside the picture, on the bundled font’s base line', async () => {
  const box = await ink('HxH', 100, 2, false);
  assert.equal(box.white, true);
  assert.equal(box.height, 200);
  assert.ok(box.left >= 0 && box.right < box.width);
  // The bundled font's ascent is 2500 and its descent 800 units (its hhea table): the base line is
  // 2500/3300 down the line. H stands on it.
  assert.ok(Math.abs(box.bottom + 1 - 200 * 2500 / 3300) <= 1.5, `stands at ${box.bottom + 1}`);
});

test('twice the scale, twice the pixels; bold is wider; high marks are whole', async () => {
  const one = await ink('Wim', 20, 1, false);
  const two = await ink('Wim', 20, 2, false);
  assert.ok(Math.abs(two.width - 2 * one.width) <= 2);
  assert.equal(two.height, 2 * one.height);
  assert.ok((await ink('Wim', 20, 2, true)).width > two.width);
  const high = await ink('Ẫ̂̂̂̂̂̂̂̂̂̂̂', 20, 2, false);
  // WebKitGTK does not pile marks up; what it draws is as high as it says.
  if (ENGINE !== 'webkit') assert.ok(high.height > two.height);
  assert.equal((high.height - two.height) % 2, 0, 'as much above as below');
  assert.ok(high.top >= 0 && high.bottom < high.height);
});

test('direction goes by the first letter', async () => {
  const directions = await app.page.evaluate(() =>
    ['محمد', 'שרה', '12 نور', 'Ada نور', '王', ''].map((text) =>
      globalThis.runsRightToLeft(text)));
  assert.deepEqual(directions, [true, true, true, false, false, false]);
});

test('Arabic letters join: the word is narrower than its letters apart', async () => {
  const word = await ink('سلمى', 40, 1, false);
  const apart = await ink([...'سلمى'].join('\u200c'), 40, 1, false);
  assert.ok(word.width < apart.width, `${word.width} and ${apart.width}`);
});
