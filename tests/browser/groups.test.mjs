// @ts-check
/** Groups by thumb: rules, what a swap would do, dragging, a late student, a plan given up. */
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';

import { needs } from './engines/choose.mjs';
import { openLab, SIZES } from './harness.mjs';
import { goTo } from './pictures.mjs';

/** @type {import('./harness.mjs').Lab} */
let lab;
before(async () => { lab = await openLab(); });
after(() => lab.close());

/** @typedef {import('./hands.mjs').Hands} Hands */

/** The demo class on its groups. @param {'phone'|'lying'} size */
async function demoGroups(size) {
  const [width, height] = SIZES[size];
  const app = await lab.open({ width, height });
  await app.tap('button', /demo class/);
  await goTo(app, size === 'lying', 5);
  await app.see('group', 'Group 1');
  return app;
}

/** The names in a group. @param {Hands} app @param {number} group */
async function members(app, group) {
  const chips = await (await app.see('group', `Group ${group}`)).getByRole('checkbox').all();
  return Promise.all(chips.map((one) =>
    one.evaluate((e) => e.getAttribute('aria-label') ?? e.textContent ?? '')));
}

/** Holds a chip until it is lifted and carries it to a point. @param {Hands} app
 *  @param {string} name @param {{x: number, y: number}} to */
async function drag(app, name, to) {
  const from = await app.spot('checkbox', name);
  await app.touch('touchStart', from.x, from.y);
  await app.page.waitForTimeout(600);
  for (let i = 1; i <= 10; i += 1) {
    await app.touch('touchMove', from.x + (to.x - from.x) * i / 10,
      from.y + (to.y - from.y) * i / 10);
    await app.page.waitForTimeout(20);
  }
  await app.touch('touchEnd');
  await app.settled();
}

for (const size of /** @type {('phone'|'lying')[]} */ (['phone', 'lying'])) {
  test(`${size}: a swap shows what it would do, by tap and by drag`, async () => {
    const app = await demoGroups(size);
    const [first] = await members(app, 1);
    const [, second] = await members(app, 2);
    await app.tap('checkbox', first);
    const other = await app.see('checkbox', second);
    assert.match(await other.evaluate((e) => e.getAttribute('aria-description') ?? ''), /./);
    assert.deepEqual(await app.axe(), []);
    await app.tap('checkbox', second);
    assert.ok((await members(app, 2)).includes(first));
    await app.tap('button', 'Undo');
    assert.ok((await members(app, 1)).includes(first));
    await app.tap('checkbox', first);  // brought into view …
    await app.tap('checkbox', first);  // … and put down again
    if (size === 'lying') {
      await drag(app, first, await app.spot('checkbox', second));
      assert.ok((await members(app, 2)).includes(first));
      assert.ok((await members(app, 1)).includes(second));
    } else {
      const mate = (await members(app, 1))[1];
      const at = await app.spot('checkbox', mate);
      await drag(app, first, at);
      assert.deepEqual((await members(app, 1)).slice(0, 2), [mate, first]);
    }
    assert.deepEqual(app.complaints, []);
    await app.page.close();
  });
}

test('rules by thumb, a conflict in words, one tap to resolve it', async () => {
  const app = await demoGroups('phone');
  const [a, b] = await members(app, 1);
  await app.tap('button', /^Rules for groups/);
  await app.see('dialog', 'Rules for groups');
  assert.deepEqual(await app.axe(), []);
  await app.tap('checkbox', 'Together');
  await app.tap('checkbox', a);
  await app.tap('checkbox', b);
  await app.tap('checkbox', 'In a group');
  await app.tap('checkbox', a);
  await app.tap('checkbox', 'Group 1');
  await app.tap('checkbox', b);
  await app.tap('checkbox', 'Group 2');
  await app.tap('button', 'Done');
  await app.tap('button', 'Mix again');
  await app.see('dialog', 'This cannot all be');
  assert.deepEqual(await app.axe(), []);
  await app.tap('button', `Take away: ${b} always works in Group 2`);
  await app.gone('dialog', 'This cannot all be');
  const now = await members(app, 1);
  assert.ok(now.includes(a) && now.includes(b));
  assert.deepEqual(app.complaints, []);
  await app.page.close();
});

test('a late student is offered a seat, taken only after the yes', needs('narrow'), async () => {
  const app = await demoGroups('phone');
  await goTo(app, false, 1);
  await app.spot('button', /^Names from a file/);  // brings the field into view
  await app.type('Add names, one a line', 'Late Comer');
  await app.tap('button', 'Add these names');
  await app.see('dialog', 'Change the groups?');
  assert.deepEqual(await app.axe(), []);
  await app.tap('button', 'Make this change');
  await goTo(app, false, 5);
  await app.see('checkbox', 'Late Comer');
  await app.gone('heading', 'Not in a group yet');
  await app.page.close();
});
