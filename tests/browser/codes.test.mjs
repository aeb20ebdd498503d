// @ts-check
/** A plan from one device to another by codes: pieces, codes, pictures of them, the whole way. */
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';
import { pathToFileURL } from 'node:url';
import { join } from 'node:path';

import { pack, unpack } from '../../web-shell/js/packed.mjs';
import { PieceMaker, PieceTaker } from '../../web-shell/js/pieces.mjs';
import { carryCodes, standInCamera } from './camera.mjs';
import { needs } from './engines/choose.mjs';
import { SITE, openLab } from './harness.mjs';

/** @type {import('./harness.mjs').Lab} */
let lab;
before(async () => { lab = await openLab(); });
after(() => lab.close());

/** The demo class, at the settings. @param {object} [options] */
async function demo(options = {}) {
  const app = await lab.open({ width: 1024, height: 768, ...options });
  await app.tap('button', /demo class/);
  await app.tap('button', 'Settings and files');
  return app;
}

/** Runs of the same numbers each time: xorshift32. @param {number} seed */
function draws(seed) {
  let state = seed;
  return (/** @type {number} */ below) => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return (state >>> 0) % below;
  };
}

/** @param {number} length @param {(below: number) => number} draw */
const noise = (length, draw) => Uint8Array.from({ length }, () => draw(256));

test('any pieces do, in any order and with any missing, as long as there are enough', async () => {
  const draw = draws(20261126);
  let more = 0;
  const runs = 300;
  for (let run = 0; run < runs; run++) {
    const file = noise(1 + draw(20_000), draw);
    const maker = new PieceMaker(file, 100 + draw(400));
    const taker = new PieceTaker();
    const start = draw(1000);
    /** @type {number[]} */
    const numbers = Array.from({ length: maker.count * 2 + 30 }, (_, i) => start + i)
      .filter(() => draw(10) >= 3);
    for (let i = numbers.length - 1; i > 0; i--) {
      const k = draw(i + 1);
      [numbers[i], numbers[k]] = [numbers[k], numbers[i]];
    }
    let taken = 0;
    while (taken < numbers.length && taker.take(maker.piece(numbers[taken++])) !== 'done');
    assert.deepEqual(taker.file(), file, `run ${run}`);
    more += taken - maker.count;
  }
  // About 1.6 more than the fewest is what theory says of random linear codes over GF(2).
  assert.ok(more / runs < 2.5, `${(more / runs).toFixed(2)} pieces more than the fewest`);
});

test('what is no piece is passed over; another file\'s pieces start anew', async () => {
  const draw = draws(7);
  const [one, other] = [noise(900, draw), noise(700, draw)];
  const [makeOne, makeOther] = [new PieceMaker(one, 300), new PieceMaker(other, 300)];
  const taker = new PieceTaker();
  assert.equal(taker.take(new Uint8Array(0)), 'no piece');
  assert.equal(taker.take(noise(318, draw)), 'no piece');
  assert.equal(taker.take(makeOne.piece(0).subarray(0, 200)), 'no piece');
  assert.equal(taker.take(makeOne.piece(0)), 'new');
  assert.equal(taker.take(makeOne.piece(0)), 'known');
  for (const number of [0, 1, 2]) taker.take(makeOther.piece(number));
  assert.deepEqual(taker.file(), other);
  const wrong = makeOne.piece(1);
  wrong[100] ^= 1;  // as if misread
  const again = new PieceTaker();
  for (const piece of [makeOne.piece(0), wrong, makeOne.piece(2)]) again.take(piece);
  for (const number of [0, 1, 2]) again.take(makeOne.piece(number));
  assert.deepEqual(again.file(), one, 'the checksum finds it, and the next round is right');
});

/**
 * A code as a camera might see it: turned, smaller or larger, lit from one side, with noise.
 * @param {boolean[][]} code @param {(below: number) => number} draw
 */
function seen(code, draw) {
  const [width, height] = [960, 720];
  const side = code.length + 8;
  const module = 5 + draw(30) / 10;
  const turn = (draw(40) - 20) * Math.PI / 180;
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  const pixels = new Uint8ClampedArray(width * height * 4);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const [dx, dy] = [(x - width / 2) / module, (y - height / 2) / module];
      const column = Math.floor(dx * cos + dy * sin + side / 2) - 4;
      const row = Math.floor(dy * cos - dx * sin + side / 2) - 4;
      const paper = row >= -4 && column >= -4 && row < code.length + 4 && column < code.length + 4;
      const light = code[row]?.[column] ? 40 : paper ? 190 : 90;
      const value = light + x * 40 / width + draw(24) - 12;
      pixels.set([value, value, value, 255], (y * width + x) * 4);
    }
  }
  return { pixels, width, height };
}

test('codes read from poor pictures of them carry a plan in time', async () => {
  const codes = String(pathToFileURL(join(SITE, 'js/codes.mjs')));
  const { codeOf, readCode } = await import(codes);
  const app = await demo();
  const plan = await app.download('button', 'Save plan file');
  await app.page.close();
  const file = new Uint8Array(plan.bytes);
  const draw = draws(42);
  const maker = new PieceMaker(await pack(file), 440);
  const taker = new PieceTaker();
  let shown = 0;
  for (let done = false; !done; shown++) {
    assert.ok(shown < 240, 'thirty seconds at eight a second');
    if (draw(10) < 3) continue;  // not in focus
    const { pixels, width, height } = seen(codeOf(maker.piece(shown)), draw);
    const piece = readCode(pixels, width, height);
    done = piece !== null && taker.take(piece) === 'done';
  }
  assert.deepEqual(await unpack(taker.file()), file);
});

test('from one device to another: the plan is there', needs('camera'), async () => {
  const to = await lab.open({ width: 390, height: 844, before: standInCamera });
  await to.tap('button', 'Settings and files');
  const from = await lab.open();
  await from.tap('button', 'Start with your class');
  await from.tap('button', 'Make the class');
  await from.tap('button', 'Settings and files');
  await from.tap('button', 'Show as codes');
  await carryCodes(from, to);
  await to.see('button', /^Back to /);
  await from.page.locator('dialog button').click();
  await from.page.locator('dialog').waitFor({ state: 'detached' });
  await from.page.close();
  await to.page.close();
});

test('without a camera it says so and what to do', async () => {
  const app = await lab.open({ width: 390, height: 844, before: () => {
    if (!navigator.mediaDevices) return;
    navigator.mediaDevices.getUserMedia = async () => {
      throw new DOMException('no', 'NotAllowedError');
    };
  } });
  await app.tap('button', 'Settings and files');
  await app.tap('button', 'Read codes');
  const words = /(camera may not be used|no camera can be used).*carry a plan file/i;
  await app.page.locator('body').getByText(words).first().waitFor();
  await app.page.close();
});
