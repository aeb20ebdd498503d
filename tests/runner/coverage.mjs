/**
 * Branches that the tests took, counted by gcov. Only real ones: the edges that the compiler adds
 * for exceptions ("throw") are left out. A line of a template has its branches once an
 * instantiation; a branch counts as taken when any of them took it.
 */
import { execFileSync } from 'node:child_process';
import { readdirSync } from 'node:fs';
import { join, relative, resolve } from 'node:path';

const WANTED = 0.95;

function filesIn(folder, ending) {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) return filesIn(path, ending);
    return entry.name.endsWith(ending) ? [path] : [];
  });
}

/** What gcov says about one object: its files with lines and branches. */
function gcov(data) {
  const text = execFileSync('gcov', ['--json-format', '--branch-probabilities', '--stdout', data],
    { encoding: 'utf8', maxBuffer: 1 << 30, stdio: ['ignore', 'pipe', 'ignore'] });
  return text.split('\n').filter(Boolean).flatMap((line) => {
    const { files, current_working_directory: from } = JSON.parse(line);
    return files.map((file) => ({ ...file, path: resolve(from, file.file) }));
  });
}

/**
 * @param {string} root @param {string[]} folders
 * @returns {{text: string, reached: boolean}} a table, and whether each folder has enough
 */
export function measureBranches(root, folders) {
  /** path -> line and place -> how often taken */
  const taken = new Map();
  for (const data of filesIn(join(root, 'build/coverage'), '.gcda')) {
    for (const { path, lines } of gcov(data)) {
      const name = relative(root, path);
      if (!folders.some((folder) => name.startsWith(`${folder}/`))) continue;
      const file = taken.get(name) ?? taken.set(name, new Map()).get(name);
      for (const { line_number: line, branches } of lines) {
        branches.filter((one) => !one.throw).forEach((one, i) => {
          const key = `${line} ${i}`;
          file.set(key, (file.get(key) ?? 0) + one.count);
        });
      }
    }
  }
  const rows = [];
  let reached = true;
  for (const folder of folders) {
    let all = 0;
    let hit = 0;
    for (const [name, file] of [...taken].filter(([path]) => path.startsWith(folder)).sort()) {
      const counts = [...file.values()];
      const some = counts.filter((n) => n > 0).length;
      all += counts.length;
      hit += some;
      const missed = [...file].filter(([, n]) => n === 0).map(([key]) => key.split(' ')[0]);
      rows.push(`    ${name.padEnd(40)} ${String(some).padStart(5)} of ` +
        `${String(counts.length).padStart(5)}  ${[...new Set(missed)].join(' ')}`);
    }
    rows.push(`  ${folder}: ${hit} of ${all} branches, ${(100 * hit / all).toFixed(1)} %`);
    reached &&= all > 0 && hit >= WANTED * all;
  }
  return { text: rows.join('\n'), reached };
}
