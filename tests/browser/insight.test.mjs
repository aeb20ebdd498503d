// @ts-check
/** What the marks say: every page of the review, reached and left as a teacher would. */
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';

import { openLab, SIZES } from './harness.mjs';
import { goTo, messageGone, REVIEW_PAGES } from './pictures.mjs';

/** @type {import('./harness.mjs').Lab} */
let lab;
before(async () => { lab = await openLab(); });
after(() => lab.close());

/** @param {'phone'|'lying'} size */
async function openReview(size) {
  const [width, height] = SIZES[size];
  const app = await lab.open({ width, height });
  await app.tap('button', /demo class/);
  await goTo(app, size === 'lying', 8);
  await app.see('heading', 'Who has what');
  await messageGone(app);
  return app;
}

for (const size of /** @type {const} */ (['phone', 'lying'])) {
  test(`${size}: every page of the review passes axe-core and leads back`, async () => {
    const app = await openReview(size);
    assert.deepEqual(await app.axe(), [], 'review');
    for (const { button, heading } of REVIEW_PAGES) {
      await app.tap('button', button);
      await app.see('heading', heading);
      assert.deepEqual(await app.axe(), [], String(heading));
      await app.tap('button', 'Back');
      await app.see('heading', 'Who has what');
    }
    assert.deepEqual(app.complaints, []);
    await app.page.close();
  });
}

test('a shape leads to its marks, and a mark can be taken back', async () => {
  const app = await openReview('lying');
  const cell = (await app.names('button')).find((n) => n.endsWith(': likely has it'));
  assert.ok(cell);
  await app.tap('button', cell);
  await app.see('dialog', cell.slice(0, cell.indexOf(',')));
  assert.deepEqual(await app.axe(), [], 'marks');
  const marks = () => app.page.locator('#mirror [aria-label^="Take back"]').count();
  const had = await marks();
  await app.tap('button', /^Take back/);
  assert.equal(await marks(), had - 1);
  await app.tap('button', 'Close');
  await app.tap('button', 'Undo');
  await app.tap('button', cell);
  await app.see('dialog');
  assert.equal(await marks(), had);
  await app.page.close();
});

test('files of marks name no one unless asked to', async () => {
  const app = await openReview('phone');
  await app.tap('button', 'Files of marks');
  const plain = await app.download('button', 'Every mark (CSV)');
  assert.match(plain.name, /^tallyround-marks-\d{4}-\d\d-\d\d\.csv$/);
  const text = Buffer.from(plain.bytes).toString('utf8');
  assert.match(text, /Student 01/);
  assert.doesNotMatch(text, /Kovačić/);
  await app.tap('radio', 'Real names');
  const named = await app.download('button', 'Counts a skill (CSV)');
  assert.match(Buffer.from(named.bytes).toString('utf8'), /Kovačić/);
  await app.page.close();
});

test('the next block is made in one go and taken back in one', async () => {
  const app = await openReview('lying');
  await app.tap('button', 'Next block');
  const ticked = await app.names('checkbox');
  assert.ok(ticked.length >= 3);
  await app.tap('button', /^Make this block with/);
  await app.see('heading', 'Centers');
  await app.tap('button', 'Undo');
  await app.tap('button', /^8\. Review/);
  await app.see('heading', 'Who has what');
  await app.page.close();
});
