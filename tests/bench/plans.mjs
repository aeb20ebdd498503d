// Plan files of any size: the demo class with more marks, a school year of them.
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const LEVELS = ['secure', 'shaky', 'stuck'];

/**
 * Writes a plan with `count` further marks and returns the file's path. The checksum comes from
 * xxhsum (Debian's xxhash).
 * @param {string} program build/native/tallyround @param {number} count
 */
export function makePlan(program, count) {
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
  const bare = join(folder, 'lines');
  writeFileSync(bare, lines.join('\n'));
  const [checksum] = execFileSync('xxhsum', ['-H2', bare], { encoding: 'utf8' }).split(' ');
  const file = join(folder, `plan-${count}.json`);
  writeFileSync(file, '{"format":"tallyround-plan","version":1,"app":"bench",'
    + `"checksum":"${checksum}","events":[\n${lines.join(',\n')}\n]}\n`);
  return file;
}
