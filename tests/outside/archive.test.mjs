// The archive of a year in a database that is not ours: ten teachers' files go into SQLite
// (Debian's sqlite3) by the commands of assets/archive/README.md, and every documented query comes
// to what is counted here from the plan files themselves.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { after, test } from 'node:test';
import { fileURLToPath } from 'node:url';

const ROOT = join(dirname(fileURLToPath(import.meta.url)), '../..');
const PROGRAM = process.env.TALLYROUND_PROGRAM ?? join(ROOT, 'build/native/tallyround');
const ARCHIVE = join(ROOT, 'assets/archive');
const TEACHERS = 10;
const folder = mkdtempSync(join(tmpdir(), 'tallyround-archive-'));
after(() => rmSync(folder, { recursive: true }));

const run = (/** @type {string[]} */ ...args) =>
  execFileSync(PROGRAM, args, { encoding: 'utf8', maxBuffer: 1 << 28, stdio: ['ignore', 'pipe',
    'ignore'] });
const database = join(folder, 'school.db');
const sql = (/** @type {string} */ text, /** @type {string[]} */ ...options) =>
  execFileSync('sqlite3', [...options, database], { encoding: 'utf8', input: text });

/** Marks in force of a plan file, with what the queries group by. @param {string} file */
function marksOf(file) {
  const { events } = JSON.parse(readFileSync(file, 'utf8'));
  const name = (/** @type {any} */ event) => `${event.by}/${event.n}`;
  const back = new Set(events.filter((e) => e.kind === 'retracted')
    .flatMap((e) => e.events.map(([by, n]) => `${by}/${n}`)));
  const inForce = events.filter((e) => !back.has(name(e)));
  const kinds = new Map(inForce.filter((e) => e.kind === 'center_set')
    .map((e) => [e.center, e.center_kind]));
  const [{ grade, class: cls }] = inForce.filter((e) => e.kind === 'class_made');
  return inForce.filter((e) => e.kind === 'marked').map((e) => ({ ...e, grade, cls,
    help: e.help ?? 'none', slip: e.slip ?? '', centerKind: kinds.get(e.center) ?? '' }));
}

/** Names a wrong answer with every fifth mark. The checksum is xxhsum's (Debian's xxhash).
 *  @param {string} file */
function withSlips(file) {
  const plan = JSON.parse(readFileSync(file, 'utf8'));
  plan.events.filter((e) => e.kind === 'marked').forEach((event, i) => {
    if (i % 5 === 0) event.slip = `slip-${i % 3}`;
  });
  const lines = plan.events.map((event) => JSON.stringify(event));
  const bare = join(folder, 'lines');
  writeFileSync(bare, lines.join('\n'));
  const [checksum] = execFileSync('xxhsum', ['-H2', bare], { encoding: 'utf8' }).split(' ');
  writeFileSync(file, `${JSON.stringify({ ...plan, checksum, events: undefined }).slice(0, -1)},`
    + `"events":[\n${lines.join(',\n')}\n]}\n`);
}

/** @template T @param {T[]} all @param {(one: T) => string} key */
function grouped(all, key) {
  const groups = new Map();
  for (const one of all) groups.set(key(one), [...groups.get(key(one)) ?? [], one]);
  return new Map([...groups].sort(([a], [b]) => (a < b ? -1 : 1)));
}
const distinct = (all, what) => new Set(all.map(what)).size;
const share = (part, all) => (Math.round((1000 * part) / all) / 10).toFixed(1);

test('ten teachers in one database, each query checked', () => {
  const all = [];
  sql(readFileSync(join(ARCHIVE, 'school.sql'), 'utf8'));
  for (let i = 0; i < TEACHERS; i += 1) {
    const plan = join(folder, `plan-${i}.json`);
    run('demo', '-o', plan, '--date', `2026-${String(i + 2).padStart(2, '0')}-0${(i % 9) + 1}`);
    withSlips(plan);
    all.push(...marksOf(plan));
    const csv = join(folder, `plan-${i}.csv`);
    writeFileSync(csv, run('export', plan, '--archive-csv', '--pseudonyms'));
    sql(`.import --csv --skip 1 '${csv}' incoming\n`);
    // A file that comes twice changes nothing.
    if (i === 3) sql(`.import --csv --skip 1 '${csv}' incoming\n`);
  }
  sql('INSERT OR IGNORE INTO marks SELECT * FROM incoming; DELETE FROM incoming;');
  assert.ok(all.length > 1000);

  const queries = readFileSync(join(ARCHIVE, 'queries.sql'), 'utf8').split(/^-- \d\..*$/m).slice(1);
  const rows = queries.map((query) => sql(query, '-separator', '|').trim().split('\n')
    .map((line) => line.split('|')));
  assert.equal(rows.length, 5);

  const classes = grouped(all, (m) => m.cls);
  assert.equal(classes.size, TEACHERS);
  const day = (m) => new Date(m.at[0]).toISOString().slice(0, 10);
  assert.deepEqual(rows[0].map((r) => r.slice(2).join()).sort(), [...classes.values()]
    .map((c) => [c[0].grade, distinct(c, (m) => m.student), distinct(c, day), c.length].join())
    .sort());
  assert.deepEqual(rows[1], [...grouped(all, (m) => m.skill)].map(([skill, marks]) => [skill,
    String(marks.length), String(distinct(marks, (m) => m.cls)),
    share(marks.filter((m) => m.level === 'secure' && m.help === 'none').length, marks.length)]));
  const latest = [...grouped(all, (m) => `${m.cls}/${m.student}/${m.skill}`).values()]
    .map((marks) => marks.reduce((a, b) => (b.at[0] > a.at[0] ? b : a)));
  assert.deepEqual(rows[2], [...grouped(latest, (m) => `${m.grade}|${m.skill}`)]
    .map(([key, marks]) => [...key.split('|'), ...['secure', 'shaky', 'stuck']
      .map((level) => String(marks.filter((m) => m.level === level).length))]));
  const slips = grouped(all.filter((m) => m.slip), (m) => `${m.skill}|${m.slip}`);
  assert.ok(slips.size > 3);
  assert.equal(rows[3].length, slips.size);
  for (const [skill, slip, times] of rows[3]) {
    assert.equal(Number(times), slips.get(`${skill}|${slip}`)?.length);
  }
  assert.deepEqual(rows[4], [...grouped(all.filter((m) => m.centerKind), (m) => m.centerKind)]
    .map(([kind, marks]) => [kind, String(marks.length),
      share(marks.filter((m) => m.level === 'stuck').length, marks.length)]));
});

test('names stay out of the archive unless they are asked for', () => {
  const plan = join(folder, 'plan-0.json');
  const { events } = JSON.parse(readFileSync(plan, 'utf8'));
  const names = events.filter((e) => e.kind === 'student_added').map((e) => e.name);
  const without = run('export', plan, '--archive-csv', '--pseudonyms');
  const withNames = run('export', plan, '--archive-csv');
  const marked = new Set(events.filter((e) => e.kind === 'marked').map((e) => e.student));
  assert.ok(names.length > 20 && marked.size > 20);
  for (const name of names) assert.ok(!without.includes(name), name);
  assert.ok(names.filter((name) => withNames.includes(name)).length > 20);
});
