// Statements of the Experience API, three ways: by rules that others wrote (npm's
// @learninglocker/xapi-validation, MIT License), by a schema of what we write (Ajv), and against
// the marks of the plan file that they come from. The schema in turn is held against the published
// specification, xAPI-Data 1.0.3 (github.com/adlnet/xAPI-Spec, Apache License 2.0): each rule that
// concerns us is named by its section and broken, and the schema must refuse it.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { after, test } from 'node:test';
import { fileURLToPath } from 'node:url';

import outside from '@learninglocker/xapi-validation';
import Ajv2020 from 'ajv/dist/2020.js';

const HERE = dirname(fileURLToPath(import.meta.url));
const PROGRAM = process.env.TALLYROUND_PROGRAM ?? join(HERE, '../../build/native/tallyround');
const schema = JSON.parse(readFileSync(join(HERE, 'xapi-statement.schema.json'), 'utf8'));
const validate = new Ajv2020({ strict: true }).compile(schema);
/** What the rules of others find wrong with a statement. */
const faults = (statement) => outside.default(statement);
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
  for (const one of made) {
    assert.ok(validate(one), JSON.stringify([one, validate.errors]));
    assert.deepEqual(faults(one), []);
  }
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
  for (const [address] of JSON.stringify(made).matchAll(/https?:[/][/][^/"]*/g)) {
    assert.equal(address, 'https://tallyround.invalid');
  }
});

test('names go out only when they are asked for', () => {
  const names = events.filter(({ kind }) => kind === 'student_added').map(({ name }) => name);
  const without = JSON.stringify(statements('--pseudonyms'));
  for (const name of names) assert.ok(!without.includes(name), name);
  const withNames = statements();
  for (const one of withNames) {
    assert.ok(validate(one), JSON.stringify(validate.errors));
    assert.deepEqual(faults(one), []);
  }
  assert.ok(withNames.some(({ actor }) => names.includes(actor.name)));
});

/** Sections of xAPI-Data 1.0.3 (the anchors in its text), the rule, and statements that break it.
 *  `alone`: only the schema refuses, since the rules of others leave it unchecked. */
const RULES = [
  ['2.2.s2.b3', 'a statement has actor, verb and object', [(s) => { delete s.actor; },
    (s) => { delete s.verb; }, (s) => { delete s.object; }]],
  ['2.2.s4.b1.b1', 'no value is null, except in extensions', [(s) => { s.result.success = null; },
    (s) => { s.context.platform = null; }, (s) => { s.object.definition.name.en = null; }]],
  ['2.2.s4.b1.b3', 'no string stands for a boolean', [(s) => { s.result.success = 'true'; }]],
  ['2.2.s4.b1.b4', 'no format is missed by an empty string', [(s) => { s.verb.id = ''; },
    (s) => { s.id = ''; }, (s) => { s.object.id = ''; }]],
  ['2.2.s4.b1.b5', 'keys are spelt as they are', [(s) => { s.Verb = s.verb; delete s.verb; }]],
  ['2.2.s4.b1.b6', 'so are values out of a list', [(s) => { s.actor.objectType = 'agent'; },
    (s) => { s.object.objectType = 'activity'; }]],
  ['2.2.s4.b1.b7', 'no other key is allowed', [(s) => { s.mood = 'good'; },
    (s) => { s.object.definition.title = 'x'; }, (s) => { s.verb.tense = 'past'; },
    (s) => { s.actor.account.grade = 6; }, (s) => { s.result.level = 1; }]],
  ['2.2.s4.b1.b8', 'every IRI has a scheme', [(s) => { s.verb.id = 'showed'; },
    (s) => { s.object.id = 'skill/none'; }, (s) => { s.object.definition.type = 'skill'; }]],
  ['2.4.1.s1', 'the id is a UUID in its standard form', [(s) => { s.id = '1'; },
    (s) => { s.id = s.id.replaceAll('-', ''); }, (s) => { s.id = `urn:uuid:${s.id}`; }]],
  ['2.4.1.s1', 'and nothing around it', [(s) => { s.id = `{${s.id}}`; }], 'alone'],
  ['2.4.2.1.s2.b1', 'an agent has an identifier', [(s) => { delete s.actor.account; }]],
  ['2.4.2.1.s2.b2', 'and not more than one',
    [(s) => { s.actor.mbox = 'mailto:someone@example.invalid'; }]],
  ['2.4.2.4.s2', 'an account has a home and a name',
    [(s) => { delete s.actor.account.homePage; }, (s) => { delete s.actor.account.name; }]],
  ['2.4.2.4.s2', 'its home is a locator, not a name',
    [(s) => { s.actor.account.homePage = `urn:uuid:${s.id}`; }], 'alone'],
  ['2.4.3.s3', 'a verb has an id; its display is a language map',
    [(s) => { delete s.verb.id; }, (s) => { s.verb.display = 'showed'; }]],
  ['2.4.4.1.s1', 'an activity has an id', [(s) => { delete s.object.id; }]],
  ['2.4.4.1.s2', 'its name is a language map', [(s) => { s.object.definition.name = 'Add'; }]],
  ['2.4.5.s2', 'success and completion are booleans', [(s) => { s.result.success = 1; },
    (s) => { s.result.completion = 'yes'; }]],
  ['2.4.6.s4.b2', 'a platform is said of an activity only',
    [(s) => { s.object = { ...s.actor, objectType: 'Agent' }; }]],
  ['2.4.6.2.s4.b1', 'context activities are of four kinds', [(s) => {
    s.context.contextActivities.class = s.context.contextActivities.grouping;
  }]],
  ['2.4.6.2.s4.b2', 'and are activities',
    [(s) => { s.context.contextActivities.grouping = ['urn:x:1']; }]],
  ['4.1.s3.b1', 'keys of extensions are IRIs', [(s) => { s.result.extensions = { level: 1 }; },
    (s) => { s.context.extensions = { 'the block': 'x' }; }]],
  ['4.2.s1', 'keys of a language map are language tags',
    [(s) => { s.verb.display = { 'plain English': 'showed' }; },
      (s) => { s.object.definition.name = { '': 'Add' }; }]],
  ['4.5.s1.b1', 'a timestamp is one of ISO 8601', [(s) => { s.timestamp = 'Tuesday'; },
    (s) => { s.timestamp = '2026-13-01T10:00:00.000Z'; },
    (s) => { s.timestamp = '2026-12-01T24:30:00.000Z'; }]],
  ['4.5.s1.b3', 'it keeps milliseconds', [(s) => { s.timestamp = '2026-12-01T10:00:00Z'; }],
    'alone'],
  ['4.5.s1.b4', 'it should say the time zone',
    [(s) => { s.timestamp = '2026-12-01T10:00:00.000'; }]],
];

for (const [section, rule, spoilers, alone] of RULES) {
  test(`the schema keeps xAPI-Data ${section}: ${rule}`, () => {
    const [good] = statements('--pseudonyms');
    for (const spoil of spoilers) {
      const copy = structuredClone(good);
      spoil(copy);
      assert.notDeepEqual(copy, good);
      assert.ok(!validate(copy), spoil.toString());
      assert.equal(faults(copy).length > 0, !alone, spoil.toString());
    }
  });
}
