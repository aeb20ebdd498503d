/** What a test program says it did, read from its output: {passed, failed, skipped} or null. */

/** doctest's closing line: "[doctest] test cases: 3 | 2 passed | 1 failed | 0 skipped". */
export function countDoctest(output) {
  const line = output.replace(/\x1b\[[0-9;]*m/g, '').match(/^\[doctest\] test cases:.*$/gm)?.at(-1);
  if (!line) return null;
  const number = (word) => Number(new RegExp(`(\\d+) ${word}`).exec(line)?.[1] ?? NaN);
  const [passed, failed, skipped] = ['passed', 'failed', 'skipped'].map(number);
  return Number.isNaN(passed + failed) ? null : { passed, failed, skipped: skipped || 0 };
}

/** Node's test runner: "ℹ pass 3" in its spec report, "# pass 3" in TAP. */
export function countNode(output) {
  const number = (word) => {
    const line = output.match(new RegExp(`^[#ℹ] ${word} \\d+$`, 'gm'))?.at(-1);
    return Number(line?.split(' ').at(-1) ?? NaN);
  };
  const [passed, failed, cancelled, skipped] = ['pass', 'fail', 'cancelled', 'skipped'].map(number);
  if (Number.isNaN(passed + failed + cancelled)) return null;
  return { passed, failed: failed + cancelled, skipped: skipped + (number('todo') || 0) };
}

/**
 * The final count of one program: what it printed, made to agree with how it ended. A program that
 * counted nothing, or ended badly without counting a failure, counts as one failure more.
 */
export function settle(counted, endedWell) {
  const count = counted ?? { passed: 0, failed: 0, skipped: 0 };
  const ranNone = count.passed + count.failed === 0;
  const diedSilently = !endedWell && count.failed === 0;
  return {
    passed: count.passed,
    failed: count.failed + (ranNone || diedSilently ? 1 : 0),
    skipped: count.skipped,
  };
}

export function add(a, b) {
  return {
    passed: a.passed + b.passed,
    failed: a.failed + b.failed,
    skipped: a.skipped + b.skipped,
  };
}
