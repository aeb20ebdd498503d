// Plan files against the published schema, by a general validator (Ajv, JSON Schema 2020-12).
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { test } from 'node:test';
import { fileURLToPath } from 'node:url';

import Ajv2020 from 'ajv/dist/2020.js';

const ROOT = join(dirname(fileURLToPath(import.meta.url)), '../..');
const PROGRAM = process.env.TALLYROUND_PROGRAM ?? join(ROOT, 'build/native/tallyround');
const schema = JSON.parse(readFileSync(join(ROOT, 'assets/schemas/plan-1.schema.json'), 'utf8'));
// Members are described in branches, required ones beside them: strictRequired does not see that.
const ajv = new Ajv2020({ strict: true, strictRequired: false, strictTypes: false });
const validate = ajv.compile(schema);

function demo() {
  const folder = mkdtempSync(join(tmpdir(), 'plan-'));
  try {
    const file = join(folder, 'demo.json');
    execFileSync(PROGRAM, ['demo', '-o', file, '--date', '2026-12-01']);
    return JSON.parse(readFileSync(file, 'utf8'));
  } finally {
    rmSync(folder, { recursive: true });
  }
}

const places = () => (validate.errors ?? []).map((error) => error.instancePath);

test('the demo class is a valid plan file', () => {
  const plan = demo();
  assert.ok(plan.events.length > 100);
  assert.ok(validate(plan), JSON.stringify(validate.errors, null, 1));
});

test('kinds and members of later versions are valid, spoilt ones are not', () => {
  const plan = demo();
  const mark = plan.events.findIndex((event) => event.kind === 'marked');
  const changed = (change) => {
    const copy = structuredClone(plan);
    change(copy.events[mark], copy);
    return validate(copy);
  };
  assert.ok(changed((event, all) => {
    event.later = [1];
    all.more = {};
    all.events.push({ at: [1, 0], by: 'r', n: 1, kind: 'weather_noted', sky: 'blue' });
  }));
  assert.ok(!changed((event) => { event.level = 'great'; }));
  assert.ok(places().includes(`/events/${mark}/level`));
  assert.ok(!changed((event) => { delete event.student; }));
  assert.ok(!changed((event) => { event.student = 'two words'; }));
  assert.ok(!changed((event) => { event.at = [1]; }));
  assert.ok(!changed((event) => { event.at = [1, 2, 3]; }));
  assert.ok(!changed((event) => { event.n = 0; }));
  assert.ok(!changed((event, all) => { all.version = 2; }));
  assert.ok(!changed((event, all) => { delete all.checksum; }));
});
