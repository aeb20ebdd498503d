// @ts-check
/** A frame draws only what changed; what is on screen is what drawing all of it would give. */
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';

import { SIZES, openLab } from './harness.mjs';

/** @type {import('./harness.mjs').Lab} */
let lab;
before(async () => { lab = await openLab(); });
after(() => lab.close());

/**
 * Draws all of the picture again and compares. A message on screen may end just then: one more try.
 * @param {import('./hands.mjs').Hands} app @param {string} where
 */
async function same(app, where) {
  let fits = false;
  for (let tries = 0; tries < 2 && !fits; tries += 1) {
    await app.settled();
    fits = await app.page.evaluate(async () => {
      const canvas = /** @type {HTMLCanvasElement} */ (document.getElementById('canvas'));
      const kept = canvas.toDataURL();
      dispatchEvent(new Event('resize'));
      for (let i = 0; i < 2; i++) await new Promise((done) => { requestAnimationFrame(done); });
      return canvas.toDataURL() === kept;
    });
  }
  assert.ok(fits, `${where}: parts drawn over each other differ from the whole`);
}

for (const [name, scale] of /** @type {const} */ ([['lying', 1], ['phone', 1.5]])) {
  test(`parts drawn again fit the rest: ${name} at scale ${scale}`, async () => {
    const [width, height] = SIZES[name];
    const app = await lab.open({ width, height, scale });
    await app.tap('button', /demo class/);
    await same(app, 'the path');
    await app.tap('button', 'To the lesson');
    await app.tap('button', 'Start the lesson');
    await app.tap('button', /^Start round/);
    await app.tap('button', 'Pause');  // or the clock would go on between two pictures
    await same(app, 'the room');
    const marks = (await app.names('button')).filter((n) => /: (secure|shaky|stuck)$/.test(n));
    for (const mark of marks.slice(0, 3)) {
      await app.tap('button', mark);
      await same(app, mark);
    }
    await app.swipe([0.7, 0.5, 0.4].map((part) => [width / 2, height * part]));
    await same(app, 'scrolled');
    await app.page.close();
  });
}

test('a frame in which nothing looks different hands nothing to the screen', async () => {
  const app = await lab.open({ width: 1024, height: 768, before: () => {
    const draw = WebGL2RenderingContext.prototype.drawElements;
    Object.assign(globalThis, { draws: 0 });
    WebGL2RenderingContext.prototype.drawElements = function count(...all) {
      /** @type {any} */ (globalThis).draws += 1;
      return draw.apply(this, all);
    };
  } });
  await app.tap('button', /demo class/);
  await app.settled();
  const draws = () => app.page.evaluate(() => /** @type {any} */ (globalThis).draws);
  const [frames, drawn] = [await app.frames(), await draws()];
  // On empty paper a finger changes nothing.
  await app.tapAt(1020, 764);
  await app.settled();
  assert.ok(await app.frames() > frames, 'a frame was made');
  assert.equal(await draws(), drawn, 'and nothing drawn');
});
