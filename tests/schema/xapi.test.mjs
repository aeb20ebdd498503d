// Statements of the Experience API against a schema written from IEEE 9274.1.1-2023, by a general
// validator (Ajv), and against the marks of the plan file that they come from.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { after, test } from 'node:test';
import { fileURLToPath } from 'node:url';

import Ajv2020 from 'ajv/dist/2020.js';

const HERE = dirname(fileURLToPath(import.meta.url));
const PROGRAM = process.env.TALLYROUND_PROGRAM ?? join(HERE, '../../build/native/tallyround');
const schema = JSON.parse(readFileSync(join(HERE, 'xapi-statement.schema.json'), 'utf8'));
const validate = new Ajv2020({ strict: true }).compile(schema);
const folder = mkdtempSync(join(tmpdir(), 'xapi-'));
after(() => rmSync(folder, { recursive: true }));

const plan = join(folder, 'demo.json');
execFileSync(PROGRAM, ['demo', '-o', plan]);
const { events } = JSON.parse(readFileSync(plan, 'utf8'));
const statements = (...options) => JSON.parse(execFileSync(PROGRAM,
  ['export', plan, '--xapi', ...options], { encoding: 'utf8', maxBuffer: 1 << 28,
    stdio: ['ignore', 'pipe', 'ignore'] }));

test('every statement is valid, named once, and says what the mark says', () => {
  const marks = events.filter(({ kind }) => kind === 'marked');
  const made = statements('--pseudonyms');
  assert.ok(made.length > 100);
  for (const one of made) assert.ok(validate(one), JSON.stringify([one, validate.errors]));
  assert.equal(new Set(made.map(({ id }) => id)).size, made.length);
  const level = (one) => one.result.extensions['urn:tallyround:level'];
  assert.deepEqual(made.map((one) => [Date.parse(one.timestamp), level(one),
    one.result.extensions['urn:tallyround:help']]),
  marks.map((mark) => [mark.at[0], mark.level, mark.help ?? 'none']));
  for (const { result } of made) {
    assert.equal(result.success, { secure: true, stuck: false }[
      result.extensions['urn:tallyround:level']]);
  }
  // One account a student, and no IRI that leads to a server.
  const students = new Map();
  marks.forEach(({ student }, i) => {
    const { name } = made[i].actor.account;
    assert.equal(students.get(student) ?? name, name);
    students.set(student, name);
  });
  assert.equal(new Set(students.values()).size, students.size);
  assert.doesNotMatch(JSON.stringify(made), /https?:/);
});

test('names go out only when they are asked for', () => {
  const names = events.filter(({ kind }) => kind === 'student_added').map(({ name }) => name);
  const without = JSON.stringify(statements('--pseudonyms'));
  for (const name of names) assert.ok(!without.includes(name), name);
  const withNames = statements();
  for (const one of withNames) assert.ok(validate(one), JSON.stringify(validate.errors));
  assert.ok(withNames.some(({ actor }) => names.includes(actor.name)));
});

test('the schema refuses what the standard refuses', () => {
  const [good] = statements('--pseudonyms');
  const spoilt = [(s) => { delete s.actor; }, (s) => { delete s.verb.id; },
    (s) => { delete s.object.id; }, (s) => { s.verb.id = 'showed'; },
    (s) => { s.result.success = 'yes'; }, (s) => { s.timestamp = 'Tuesday'; },
    (s) => { delete s.actor.account.homePage; }, (s) => { s.result.extensions = { level: 1 }; },
    (s) => { s.id = '1'; }];
  for (const spoil of spoilt) {
    const copy = structuredClone(good);
    spoil(copy);
    assert.ok(!validate(copy), spoil.toString());
  }
});
