// @ts-check
/** Every screen and every sheet in Chromium: what axe-core finds, in each look. */
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';

import { openLab, SIZES } from './harness.mjs';
import { tour } from './tour.mjs';

/** @type {import('./harness.mjs').Lab} */
let lab;
before(async () => { lab = await openLab(); });
after(() => lab.close());

/** Text twice as large, in the app's own preferences. */
async function enlarge(/** @type {import('./hands.mjs').Hands} */ app) {
  await app.tap('button', 'Settings and files');
  for (let percent = 110; percent <= 200; percent += 10) await app.tap('button', 'More Text size');
  await app.read('200 %');
  await app.tap('button', 'All classes');
}

for (const { name, size, options, large } of [
  { name: 'phone, light', size: 'phone', options: {}, large: false },
  { name: 'phone, dark, text at 200 %', size: 'phone', options: { colors: 'dark' }, large: true },
  { name: 'tablet, high contrast', size: 'lying', options: { contrast: 'more' }, large: false },
]) {
  test(`${name}: axe-core finds nothing wrong on any screen or sheet`, async () => {
    const [width, height] = SIZES[/** @type {'phone'} */ (size)];
    const app = await lab.open({ width, height, .../** @type {any} */ (options) });
    if (large) await enlarge(app);
    let looked = 0;
    await tour(app, async (where) => {
      assert.deepEqual(await app.axe(), [], where);
      looked += 1;
    });
    assert.ok(looked > 50, `${looked} screens and sheets`);
    assert.deepEqual(app.complaints, []);
    await app.page.close();
  });
}
