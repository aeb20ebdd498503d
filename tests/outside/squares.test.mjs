// Balanced charts against an independent library of balanced squares (npm @quentinroy/latin-square,
// after Williams 1949): both must follow every center by every other one equally often.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { dirname, join } from 'node:path';
import { test } from 'node:test';
import { fileURLToPath } from 'node:url';

import latinSquare from '@quentinroy/latin-square';

const ROOT = join(dirname(fileURLToPath(import.meta.url)), '../..');
const PROGRAM = process.env.TALLYROUND_PROGRAM ?? join(ROOT, 'build/native/tallyround');

function chart(groups, centers, order, holds = 1) {
  const input = JSON.stringify({
    groups: groups.map((g) => `Group ${g}`),
    centers: centers.map((id) => ({ id, holds })),
    rounds: centers.length,
    order,
  });
  return JSON.parse(execFileSync(PROGRAM, ['chart'], { input })).chart;
}

/** How often each center is followed by each other one: "a>b" -> count, sorted. */
function followed(rows) {
  const counts = new Map();
  for (const row of rows) {
    for (let i = 1; i < row.length; i += 1) {
      const pair = `${row[i - 1]}>${row[i]}`;
      counts.set(pair, (counts.get(pair) ?? 0) + 1);
    }
  }
  return [...counts].sort(([a], [b]) => (a < b ? -1 : 1));
}

const letters = (n) => [...'abcdefghijkl'].slice(0, n);
const isLatin = (rows) => rows.every((row) => new Set(row).size === row.length);

for (const n of [4, 5, 6, 8, 10]) {
  test(`${n} centers: neighbours as often as in the library's square`, () => {
    const theirs = latinSquare(letters(n), true);
    // An odd number takes twice as many groups, so that each center holds two.
    const ours = chart(theirs.map((_, i) => i), letters(n), 'balanced', theirs.length / n);
    assert.ok(isLatin(theirs) && isLatin(ours));
    assert.deepEqual(followed(ours), followed(theirs));
    assert.equal(followed(ours).length, n * (n - 1));
  });

  test(`${n} centers: the cyclic square is not balanced`, () => {
    const rows = chart(letters(n), letters(n), 'cyclic');
    assert.equal(followed(rows).length, n);
    assert.notDeepEqual(followed(rows), followed(latinSquare(letters(n), true)));
  });
}
