// @ts-check
/** Two tabs: one writes. */
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';

import { openLab } from './harness.mjs';

/** @type {import('./harness.mjs').Lab} */
let lab;
before(async () => { lab = await openLab(); });
after(() => lab.close());

const readOnly = (/** @type {import('./hands.mjs').Hands} */ app) =>
  app.page.evaluate(() => /** @type {any} */ (globalThis).tallyround.readOnly);

/** Waits until the tab is the one that writes. @param {import('./hands.mjs').Hands} app */
const writes = (app) =>
  app.page.waitForFunction(() => !/** @type {any} */ (globalThis).tallyround.readOnly);

test('the second tab only reads until it takes over; the first is told at once', async () => {
  const first = await lab.open();
  assert.equal(await readOnly(first), false);
  const second = await lab.tab(first);
  assert.equal(await readOnly(second), true);
  await second.tap('button', /take over/i);
  await writes(second);
  await first.page.waitForFunction(() => /** @type {any} */ (globalThis).tallyround.readOnly);
  await first.page.bringToFront();
  await first.see('button', /take over/i);
});

test('a reload keeps its place; when the writer closes the other tab writes', async () => {
  const first = await lab.open();
  await first.reload();
  await writes(first);
  const second = await lab.tab(first);
  assert.equal(await readOnly(second), true);
  await first.page.close();
  await writes(second);
});
