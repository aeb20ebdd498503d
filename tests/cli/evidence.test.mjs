// trace, predict, advise and judge on bad and on much input: repaired or refused, never a hang.
import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { test } from 'node:test';
import { fileURLToPath } from 'node:url';

const ROOT = join(dirname(fileURLToPath(import.meta.url)), '../..');
const PROGRAM = process.env.TALLYROUND_PROGRAM ?? join(ROOT, 'build/native/tallyround');

function run(command, input, ...args) {
  const text = typeof input === 'string' ? input : JSON.stringify(input);
  const done = spawnSync(PROGRAM, [command, ...args],
    { input: text, encoding: 'utf8', timeout: 120_000, maxBuffer: 1 << 29 });
  assert.equal(done.signal, null, `${command} was stopped`);
  return done;
}
const mark = (more) => ({ student: 's', skill: 'k', day: 0, level: 'secure', ...more });

function refuses(command, input, where) {
  const { status, stdout, stderr } = run(command, input);
  assert.equal(status, 4, `${command} ${JSON.stringify(input).slice(0, 80)}`);
  assert.equal(stdout, '');
  assert.ok(stderr.includes(where), `${stderr} names ${where}`);
}
function accepts(command, input) {
  const { status, stdout, stderr } = run(command, input);
  assert.equal(status, 0, stderr);
  return JSON.parse(stdout);
}

test('what contradicts itself or is no number is refused with its place', () => {
  refuses('trace', { marks: [mark({ difficulty: 1e308 })] }, '/marks/0/difficulty');
  refuses('trace', '{"marks":[{"student":"s","skill":"k","level":"secure","difficulty":NaN}]}',
    'line 1');
  refuses('trace', { marks: [mark({ level: 'splendid' })] }, '/marks/0/level');
  refuses('trace', { marks: [mark({ student: 7 })] }, '/marks/0/student');
  refuses('trace', { model: { emit: { known: { secure: 0.2, stuck: 0.8 },
    unknown: { secure: 0.9, stuck: 0.1 } } }, marks: [] }, '/model/emit/unknown/secure');
  refuses('trace', { model: { prior: -1 }, marks: [] }, '/model/prior');
  refuses('predict', { train: [{ student: 'a', skill: 'k', correct: 2 }], test: [] },
    '/train/0/correct');
  refuses('advise', { students: [] }, 'now_day');
  refuses('advise', { now_day: 0, students: ['a', 'a'], skills: ['k'], marks: [] }, '/students/1');
  refuses('judge', { looks: [{ center: 'c', student: 's', before: 0, after: 2 }] },
    '/looks/0/after');
  for (const command of ['trace', 'predict', 'advise', 'judge']) {
    refuses(command, '', 'standard input');
    refuses(command, '['.repeat(200_000), 'Nested');
    refuses(command, '\xff\xfe{', 'standard input');
    assert.equal(run(command, '{}', '--bogus').status, 2);
  }
});

test('disorder, copies, strangers and the future are repaired and said', () => {
  const ordered = [mark({ level: 'stuck' }), mark({ day: 2 }), mark({ day: 5 })];
  const jumbled = accepts('trace', { marks: [ordered[2], ordered[0], ordered[1]] });
  assert.deepEqual(jumbled.estimates, accepts('trace', { marks: ordered }).estimates);
  assert.match(jumbled.warnings.join(), /order of day/);
  const warned = (marks) => accepts('trace', { marks }).warnings.join();
  assert.match(warned([mark(), mark()]), /like the one before/);
  assert.match(warned([mark({ difficulty: 50 })]), /counted as 10/);
  const advised = accepts('advise', { now_day: 1, students: ['s'], skills: ['k'],
    marks: [mark({ student: 'stranger' }), mark({ day: 9 })],
    flags: [{ student: 'nobody', raised_day: 0 }], seen: [{ student: 's', day: 4 }] });
  assert.equal(advised.next.length, 1);
  assert.ok(advised.warnings.length >= 4, JSON.stringify(advised.warnings));
  assert.deepEqual(accepts('trace', { marks: [] }).estimates, []);
  assert.deepEqual(accepts('judge', { looks: [] }).centers, []);
  const asked = [{ student: 'a', skill: 'k' }];
  assert.deepEqual(accepts('predict', { train: [], test: asked }).p, [0.5]);
  const looks = [{ center: 'c', student: 's', before: 0.2, after: 0.9 }];
  assert.equal(accepts('judge', { looks }).centers[0].verdict, 'too early');
});

test('what came can be scored, and a model fitted', () => {
  const train = [];
  for (let i = 0; i < 400; i += 1) {
    train.push({ student: `s${i % 20}`, skill: 'k', item: `i${i % 8}`,
      correct: i % 20 < 12 ? 1 : 0 });
  }
  const { scores } = accepts('predict', { train, test: train });
  assert.ok(scores.forecasts === 400 && scores.log_loss < 0.2 && scores.auc > 0.95);
  const unscored = accepts('predict', { train, test: [{ student: 's1', skill: 'k' }] });
  assert.equal('scores' in unscored, false);
  const marks = train.map(({ student, correct }, i) => mark({ student, skill: `k${i % 3}`,
    day: i, level: correct ? 'secure' : 'stuck' }));
  const fitted = accepts('trace', { fit: true, marks });
  assert.notEqual(fitted.model.prior, 0.5);
  assert.match(accepts('trace', { fit: true, marks: [mark()] }).warnings.join(), /too few marks/);
  const folder = mkdtempSync(join(tmpdir(), 'words-'));
  const demo = join(folder, 'demo.json');
  run('demo', '', '-o', demo, '--date', '2026-12-01');
  const [cls] = JSON.parse(run('words', '', demo).stdout).classes;
  rmSync(folder, { recursive: true });
  assert.ok(cls.scores.forecasts > 50 && cls.scores.forecasts <= cls.marks);
  assert.equal(run('words', '').status, 2);
});

test('a million marks and a hundred thousand answers come through', () => {
  const levels = ['secure', 'shaky', 'stuck'];
  const marks = Array.from({ length: 1_000_000 }, (_, i) => `{"student":"s${i % 500}",`
    + `"skill":"k${i % 7}","day":${Math.floor(i / 3000)},"level":"${levels[i % 3]}"}`);
  assert.equal(accepts('trace', `{"marks":[${marks.join()}]}`).estimates.length, 3500);
  const rows = Array.from({ length: 100_000 }, (_, i) => ({ student: `s${i % 700}`,
    skill: `k${i % 9}`, item: `i${i % 63}`, correct: (i * 7919) % 5 < 3 ? 1 : 0 }));
  const { p } = accepts('predict', { train: rows, test: rows.slice(0, 1000) });
  assert.ok(p.length === 1000 && p.every((x) => x > 0 && x < 1));
});
