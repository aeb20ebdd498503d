// Plan files of any size: the demo class with more marks, a school year of them.
import { execFileSync } from 'node:child_process';
import { closeSync, mkdtempSync, openSync, readFileSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const LEVELS = ['secure', 'shaky', 'stuck'];

/** Forty students in ten groups at ten centers, in place of the demo class's last block. */
function crowd(events) {
  const last = (kind) => events.findLast((event) => event.kind === kind);
  const added = last('student_added');
  const { block } = last('groups_set');
  const made = (kind) => events.filter((event) => event.kind === kind && event.block === block);
  const students = events.filter((event) => event.kind === 'student_added')
    .map(({ student }) => student);
  const more = [];
  for (let i = students.length; i < 40; i += 1) {
    const student = `sbench00${String(i).padStart(2, '0')}`;
    more.push({ ...added, student, name: `Student ${i}` });
    students.push(student);
  }
  const centers = made('center_set');
  for (let i = centers.length; i < 10; i += 1) {
    centers.push({ ...centers[i - 5], center: `pbench00${String(i).padStart(2, '0')}` });
    more.push(centers[i]);
  }
  const time = last('time_set');
  more.push({ ...time, timing: { ...time.timing, rounds: 10, round_minutes: 8 } });
  more.push({ ...last('groups_set'),
    groups: Array.from({ length: 10 }, (_, i) => students.slice(4 * i, 4 * i + 4)) });
  more.push({ ...last('chart_set'), chart: Array.from({ length: 10 }, (_, group) =>
    Array.from({ length: 10 }, (__, round) => centers[(group + round) % 10].center)) });
  return more;
}

const PIECE = 10_000;

/** Writes lines piece by piece: the whole may be longer than a string can be. */
function writeLines(file, before, lines, between, after) {
  const to = openSync(file, 'w');
  writeSync(to, before);
  for (let i = 0; i < lines.length; i += PIECE) {
    writeSync(to, (i > 0 ? between : '') + lines.slice(i, i + PIECE).join(between));
  }
  writeSync(to, after);
  closeSync(to);
}

/** The demo class's events. @param {string} program build/native/tallyround */
export function demoEvents(program) {
  const file = join(mkdtempSync(join(tmpdir(), 'bench-')), 'demo.json');
  execFileSync(program, ['demo', '-o', file, '--date', '2026-12-01']);
  return JSON.parse(readFileSync(file, 'utf8')).events;
}

/** A plan file of these events, each as JSON, of that name; the checksum comes from xxhsum
 *  (Debian's xxhash). @param {string} name @param {string[]} lines @returns {string} its path */
export function writePlan(name, lines) {
  const folder = mkdtempSync(join(tmpdir(), 'bench-'));
  const bare = join(folder, 'lines');
  writeLines(bare, '', lines, '\n', '');
  const [checksum] = execFileSync('xxhsum', ['-H2', bare], { encoding: 'utf8' }).split(' ');
  const file = join(folder, name);
  writeLines(file, '{"format":"tallyround-plan","version":1,"app":"bench",'
    + `"checksum":"${checksum}","events":[\n`, lines, ',\n', '\n]}\n');
  return file;
}

/** Which level the i-th mark has. @param {number} i */
export const levelOf = (i) => LEVELS[(i * 7 + Math.floor(i / 11)) % 3];

/**
 * A plan with `count` further marks; returns the file's path.
 * @param {string} program build/native/tallyround @param {number} count
 * @param {boolean} [crowded] forty students
 */
export function makePlan(program, count, crowded = false) {
  const events = demoEvents(program);
  const marks = events.filter((event) => event.kind === 'marked');
  const start = Math.max(...events.map((event) => event.at[0]));
  const lines = events.map((event) => JSON.stringify(event));
  for (let i = 0; i < count; i += 1) {
    lines.push(JSON.stringify({ ...marks[i % marks.length], at: [start + 1000 * (i + 1), 0],
      by: 'bench', n: i + 1, level: levelOf(i) }));
  }
  (crowded ? crowd(events) : []).forEach((event, i) => {
    lines.push(JSON.stringify({ ...event, at: [start + 1000 * (count + i + 1), 0], by: 'bench',
      n: count + i + 1 }));
  });
  return writePlan(`plan-${count}.json`, lines);
}
