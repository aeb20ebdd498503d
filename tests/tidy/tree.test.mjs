// The rules on every file of the repository, one test a rule.
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { test } from 'node:test';

import { applyExceptions, readExceptions } from './exceptions.mjs';
import { checkFormat, findClangFormat } from './format.mjs';
import { checkTree, ownFiles, ROOT } from './tree.mjs';

const RULES = ['arrow', 'pure-core', 'file-length', 'function-length', 'line-length',
  'trailing-space', 'tab', 'word', 'format'];

const program = findClangFormat();
const exceptions = readExceptions(readFileSync(join(ROOT, 'tests/tidy/exceptions.txt'), 'utf8'))
  .filter((exception) => program || exception.rule !== 'format');
const faults = [...checkTree(), ...(program ? checkFormat(program, ROOT, ownFiles()) : [])];
const left = applyExceptions(faults, exceptions);

for (const rule of RULES) {
  const skip = rule === 'format' && !program ? 'clang-format 14 is not installed' : false;
  test(`no ${rule} fault`, { skip }, () => {
    const own = left.filter((fault) => fault.rule === rule);
    const lines = own.map(({ path, line, text }) => `${path}:${line}: ${text}`);
    assert.equal(lines.length, 0, `\n${lines.join('\n')}`);
  });
}

test('every exception names a rule', () => {
  assert.deepEqual(exceptions.filter(({ rule }) => !RULES.includes(rule)), []);
});
