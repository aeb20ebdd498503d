// @ts-check
/** Chart, time and board, by touch and by role and name. */
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';

import { needs } from './engines/choose.mjs';
import { openLab, SIZES } from './harness.mjs';
import { goTo } from './pictures.mjs';

/** @type {import('./harness.mjs').Lab} */
let lab;
before(async () => { lab = await openLab(); });
after(() => lab.close());

/** @param {import('./hands.mjs').Hands} app @param {string} where */
async function accessible(app, where) {
  assert.deepEqual(await app.axe(), [], where);
}

test('phone: a row opens, two taps show a swap, one makes it', needs('narrow'), async () => {
  const [width, height] = SIZES.phone;
  const app = await lab.open({ width, height, touch: true });
  await app.tap('button', /demo class/);
  await goTo(app, false, 6);
  await app.tap('button', /^Group 2: round 1/);
  await app.tap('button', /^Group 2, round 3: /);
  await accessible(app, 'picked');
  await app.tap('button', /^Group 4, round 3: /);
  await app.see('dialog', 'Swap two groups');
  await app.read(/^! Group 2 is at .* twice\.$/);
  await accessible(app, 'swap');
  await app.tap('button', 'Make this change');
  await app.gone('dialog', 'Swap two groups');
  await app.tap('button', 'Undo');
  assert.deepEqual(app.complaints, []);
  await app.page.close();
});

test('tablet: rules by touch, a pin, another order, and a conflict that names them', async () => {
  const [width, height] = SIZES.lying;
  const app = await lab.open({ width, height, touch: true });
  await app.tap('button', /demo class/);
  await goTo(app, true, 6);
  await app.tap('button', /^Group 3, round 2: /);
  await app.tap('button', 'Pin it');
  await app.see('button', /^Group 3, round 2: .*, pinned$/);
  await app.gone('button', 'Undo');  // the message lies over what is below
  await app.tap('button', 'Rules for the chart');
  await app.see('button', /^Take away: Group 3 is at .* in round 2\.$/);
  await accessible(app, 'rules');
  await app.tap('radio', /^Balanced/);
  await app.tap('button', /^1 /);
  await accessible(app, 'rules of a center');
  await app.tap('checkbox', 'Must be visited');
  await app.tap('checkbox', 'Not in round 1');
  await app.see('dialog', 'These do not go together');
  await accessible(app, 'conflict');
  await app.tap('button', /^Take away: Every group goes to /);
  await app.gone('dialog', 'These do not go together');
  assert.deepEqual(app.complaints, []);
  await app.page.close();
});

test('time: the outcome follows every tap, a break is put in, all is undone', async () => {
  const [width, height] = SIZES.phone;
  const app = await lab.open({ width, height, touch: true });
  await app.tap('button', /demo class/);
  await goTo(app, false, 4);
  for (let i = 0; i < 8; i += 1) await app.tap('button', 'More One round');
  await app.read(/do not fit into/);
  await accessible(app, 'does not fit');
  await app.tap('button', /^Rounds of /);
  await app.see('button', 'Make groups');
  await app.tap('button', 'Undo: times');
  await app.read(/do not fit into/);
  await app.tap('button', /, \d+ min$/);
  await app.tap('button', /^Add a break/);
  await accessible(app, 'day');
  await app.tap('button', 'Keep');
  await app.read(/ · Break /);
  assert.deepEqual(app.complaints, []);
  await app.page.close();
});

test('the board in a second window turns with the lesson and writes nothing', async () => {
  const [width, height] = SIZES.lying;
  const app = await lab.open({ width, height, touch: true });
  await app.tap('button', /demo class/);
  await app.tap('button', 'To the lesson');
  await app.tap('button', 'Start the lesson');
  await app.tap('button', /^Start round 1/);
  await app.read('Saved on this device');
  const wall = await lab.tab(app, { path: '#board' });
  await wall.see('heading', /^Round 1 of /);
  await accessible(wall, 'board');
  assert.equal(await wall.page.evaluate(() =>
    /** @type {any} */ (globalThis).tallyround.readOnly), true);
  assert.equal(await app.page.evaluate(() =>
    /** @type {any} */ (globalThis).tallyround.readOnly), false);
  await app.page.bringToFront();
  await app.tap('button', 'Move on');
  await app.read('Saved on this device');
  await wall.page.bringToFront();
  await wall.see('heading', /^Move to round 2/);
  await wall.press('Escape');
  await wall.gone('heading', /^Move to round 2/);
  assert.deepEqual(wall.complaints, []);
  await app.page.close();
  await wall.page.close();
});
