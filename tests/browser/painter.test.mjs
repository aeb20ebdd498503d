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

/** A name in each script that the tests' own fonts (web-shell/setup) have letters of. */
const NAMES = { Greek: 'Νίκος Παππάς', Cyrillic: 'Олена Шевчук', Chinese: '王小雨',
  Japanese: '佐藤はると', Korean: '김서연', Arabic: 'ليلى حداد', Hebrew: 'נועה לוי',
  Devanagari: 'आरव शर्मा', Thai: 'ณัฐพล ใจดี',
  Latin: 'Kateřina Dvořáková', Vietnamese: 'Hồ Minh Anh' };

/** The picture's ink as a string, to compare. */
const print = (text) => app.page.evaluate((t) => globalThis.print(t), text);

test('every letter of a name in any script is drawn, none as an empty box', async () => {
  await app.page.evaluate(async () => {
    const { Painter } = await import(String('./js/painter.mjs'));
    const painter = new Painter();
    painter.measureLike('Tallyround');
    globalThis.print = (text) => {
      const { pixels, width, height } = painter.paint(text, 40, 1, false);
      let out = `${width}x${height} `;
      for (let i = 3; i < pixels.length; i += 4) out += pixels[i] > 128 ? '#' : '.';
      return out;
    };
  });
  for (const [script, name] of Object.entries(NAMES)) {
    // A code point that no font has: what a letter without a glyph looks like.
    const missing = await print('\u{e8f0}');
    for (const letter of new Set(name.replace(/\s/g, ''))) {
      if (/\p{M}/u.test(letter)) continue;  // drawn with the letter that carries it
      const drawn = await print(letter);
      assert.match(drawn, /#/, `${script}: ${letter}`);
      assert.notEqual(drawn, missing, `${script}: ${letter}`);
    }
  }
});

test('marks stand on their letter, and letters that join do', async () => {
  const width = async (text) => Number((await print(text)).split('x')[0]);
  // A vowel above may stand out at the side a little; beside its letter it would double the width.
  assert.ok(await width('ณั') < await width('ณ') * 1.5, 'Thai vowel above');
  assert.ok(await width('र्मा') < await width('र\u200c') + await width('मा'), 'Devanagari repha');
  assert.ok(await width('ř') - await width('r') <= 1, 'Latin háček');
  assert.ok(await width('שָׁ') - await width('ש') <= 1, 'Hebrew points');
});

test('right to left: the first letter stands at the right', async () => {
  // Lamed is the only one of these that rises above the others' tops.
  const side = async (text) => {
    const box = await app.page.evaluate((t) => {
      const [size, ink] = globalThis.print(t).split(' ');
      const [width, height] = size.split('x').map(Number);
      for (let y = 0; y < height; y++) {
        const row = ink.slice(y * width, (y + 1) * width);
        if (row.includes('#')) return row.indexOf('#') / width;
      }
      return NaN;
    }, text);
    return box < 0.5 ? 'left' : 'right';
  };
  assert.equal(await side('לוווו'), 'right');
  assert.equal(await side('ווווול'), 'left');
});
