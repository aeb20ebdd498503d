// Plan files of any size: the demo class with more marks, a school year of them.
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
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

/**
 * Writes a plan with `count` further marks and returns the file's path. The checksum comes from
 * xxhsum (Debian's xxhash).
 * @param {string} program build/native/tallyround @param {number} count
 * @param {boolean} [crowded] forty students
 */
export function makePlan(program, count, crowded = false) {
  const folder = mkdtempSync(join(tmpdir(), 'bench-'));
  const base = join(folder, 'demo.json');
  execFileSync(program, ['demo', '-o', base, '--date', '2026-12-01']);
  const { events } = JSON.parse(readFileSync(base, 'utf8'));
  const marks = events.filter((event) => event.kind === 'marked');
  const start = Math.max(...events.map((event) => event.at[0]));
  const lines = events.map((event) => JSON.stringify(event));
  for (let i = 0; i < count; i += 1) {
    const like = marks[i % marks.length];
    lines.push(JSON.stringify({ ...like, at: [start + 1000 * (i + 1), 0], by: 'bench', n: i + 1,
      level: LEVELS[(i * 7 + Math.floor(i / 11)) % 3] }));
  }
  (crowded ? crowd(events) : []).forEach((event, i) => {
    lines.push(JSON.stringify({ ...event, at: [start + 1000 * (count + i + 1), 0], by: 'bench',
      n: count + i + 1 }));
  });
  const bare = join(folder, 'lines');
  writeFileSync(bare, lines.join('\n'));
  const [checksum] = execFileSync('xxhsum', ['-H2', bare], { encoding: 'utf8' }).split(' ');
  const file = join(folder, `plan-${count}.json`);
  writeFileSync(file, '{"format":"tallyround-plan","version":1,"app":"bench",'
    + `"checksum":"${checksum}","events":[\n${lines.join(',\n')}\n]}\n`);
  return file;
}
