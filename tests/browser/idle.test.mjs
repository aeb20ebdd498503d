// @ts-check
/** Nothing happens when nothing happens. */
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';

import { openLab } from './harness.mjs';

/** @type {import('./harness.mjs').Lab} */
let lab;
before(async () => { lab = await openLab(); });
after(() => lab.close());

test('0 frames in 10 idle seconds, and one as soon as something happens', async () => {
  const app = await lab.open();
  await app.page.waitForTimeout(1000);  // the service worker has taken the files in
  await app.settled();
  const before = await app.frames();
  await app.page.waitForTimeout(10000);
  assert.equal(await app.frames(), before);
  await app.tapAt(5, 5);
  await app.page.waitForFunction((n) =>
    /** @type {any} */ (globalThis).tallyround.frames > n, before);
});
