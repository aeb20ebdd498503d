import assert from 'node:assert/strict';
import { test } from 'node:test';

import { add, countDoctest, countNode, settle } from './counts.mjs';

test('doctest: the last summary counts, colours do not matter', () => {
  const line = '\x1b[0;36m[doctest] \x1b[0mtest cases:  12 | \x1b[0;32m11 passed\x1b[0m | 1 failed';
  assert.deepEqual(countDoctest(`[doctest] run\n${line}\n[doctest] assertions: 4 | 4 passed`),
    { passed: 11, failed: 1, skipped: 0 });
  assert.deepEqual(countDoctest('[doctest] test cases: 2 | 2 passed | 0 failed | 3 skipped\n'),
    { passed: 2, failed: 0, skipped: 3 });
  assert.equal(countDoctest('Segmentation fault'), null);
});

test('Node: both reports are read, cancelled tests have failed', () => {
  const tap = 'ok 1 - a\n# tests 4\n# suites 0\n# pass 2\n# fail 0\n# cancelled 1\n# skipped 1\n';
  assert.deepEqual(countNode(`${tap}# todo 0\n`), { passed: 2, failed: 1, skipped: 1 });
  const spec = '✔ # pass 9\nℹ pass 2\nℹ fail 1\nℹ cancelled 0\nℹ skipped 0\n✖ failing tests';
  assert.deepEqual(countNode(spec), { passed: 2, failed: 1, skipped: 0 });
  assert.equal(countNode('SyntaxError: nothing ran'), null);
});

test('a run that counted nothing or died counts as a failure', () => {
  const good = { passed: 3, failed: 0, skipped: 0 };
  assert.deepEqual(settle(good, true), good);
  assert.equal(settle(good, false).failed, 1);
  assert.equal(settle(null, true).failed, 1);
  assert.equal(settle({ passed: 0, failed: 0, skipped: 2 }, true).failed, 1);
  assert.equal(settle({ passed: 1, failed: 2, skipped: 0 }, false).failed, 2);
  assert.deepEqual(add(good, good), { passed: 6, failed: 0, skipped: 0 });
});
