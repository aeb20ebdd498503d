// @ts-check
/** A share of the simulated lessons: run.mjs runs all of them. */
import assert from 'node:assert/strict';
import { test } from 'node:test';

import { Device } from './device.mjs';
import { simulate } from './run.mjs';

const FIRST_SEED = 1;
const LESSONS = 800;

test(`${LESSONS} lessons on a device that fails, seeds from ${FIRST_SEED}`, async () => {
  const { tally, failures } = await simulate(LESSONS, FIRST_SEED);
  assert.deepEqual(failures, []);
  console.log(tally);
  for (const fault of ['quota', 'hang', 'close', 'open', 'evict', 'keep', 'drop', 'tear',
    'duplicate', 'several unflushed', 'flip', 'lose']) {
    assert.ok(tally[fault] > 0, `${fault} never came`);
  }
});

test('a device that says "flushed" too early: the loss is seen', async () => {
  const { prototype } = Device;
  const honest = Object.getOwnPropertyDescriptor(prototype, 'commit');
  const open = prototype.open;
  // Every transaction is taken as a relaxed one.
  prototype.commit = function (tx) {
    tx.strict = tx.version > 0;
    honest?.value.call(this, tx);
  };
  try {
    const { failures } = await simulate(200, FIRST_SEED);
    assert.ok(failures.some((one) => one.includes('nothing that was stored is lost')));
  } finally {
    Object.assign(prototype, { commit: honest?.value, open });
  }
});
