// The golden signature: each recorded journal comes to the same state natively, in WebAssembly and
// on the day it was recorded. NAME.json or NAME.jsonl in journals/ has its signature in
// NAME.signature beside it.
import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { test } from 'node:test';
import { fileURLToPath } from 'node:url';

const HERE = dirname(fileURLToPath(import.meta.url));
const JOURNALS = join(HERE, 'journals');
const NATIVE = process.env.TALLYROUND_NATIVE_BUILD ?? join(HERE, '../../build/native');
const WASM = process.env.TALLYROUND_WASM_BUILD ?? join(HERE, '../../build/wasm');

function run(program, ...args) {
  const { status, stdout, stderr } = spawnSync(program, args, { encoding: 'utf8' });
  assert.equal(status, 0, `${program} ${args.join(' ')}: ${stderr}`);
  return stdout.trim();
}

for (const name of readdirSync(JOURNALS).filter((one) => /\.jsonl?$/.test(one)).sort()) {
  test(`${name} comes to its recorded signature`, () => {
    const journal = join(JOURNALS, name);
    const recorded = readFileSync(journal.replace(/\.jsonl?$/, '.signature'), 'utf8').trim();
    assert.notEqual(recorded, '');
    assert.equal(run(join(NATIVE, 'golden_replay'), journal), recorded, 'native');
    assert.equal(run(process.execPath, join(WASM, 'node/golden_replay.js'), journal), recorded,
      'WebAssembly');
  });
}

test('every kind of event that can be written is in a journal here, with all its members', () => {
  const schema = JSON.parse(run(join(NATIVE, 'tallyround'), 'schema'));
  const seen = new Map();
  for (const name of readdirSync(JOURNALS).filter((one) => one.endsWith('.json'))) {
    for (const event of JSON.parse(readFileSync(join(JOURNALS, name), 'utf8')).events) {
      seen.set(event.kind, new Set([...seen.get(event.kind) ?? [], ...Object.keys(event)]));
    }
  }
  const rules = schema.$defs.event.allOf;
  assert.ok(rules.length > 30);
  const missing = rules.flatMap(({ if: { properties: { kind } }, then: { properties } }) =>
    Object.keys(properties).filter((member) => !seen.get(kind.const)?.has(member))
      .map((member) => `${kind.const}: ${member}`));
  assert.deepEqual(missing, []);
});
