/** Layout of C++ files, judged by clang-format 14 where it is installed. */
import { execFileSync, spawnSync } from 'node:child_process';

/** The clang-format of the version that .clang-format was written for, or "" if there is none. */
export function findClangFormat() {
  for (const program of ['clang-format-14', 'clang-format']) {
    try {
      const version = execFileSync(program, ['--version'], { encoding: 'utf8' });
      if (/version 14\./.test(version)) return program;
    } catch {
      // not installed under this name
    }
  }
  return '';
}

/** Faults of the C++ files among `paths`, one a file: [{rule, path, line, text}]. */
export function checkFormat(program, root, paths) {
  const files = paths.filter((path) => /\.(?:cpp|h)$/.test(path));
  const { stderr, error } = spawnSync(program, ['--dry-run', ...files],
    { cwd: root, encoding: 'utf8', maxBuffer: 1 << 28 });
  if (error) throw error;
  const first = new Map();
  for (const match of stderr.matchAll(/^(.+?):(\d+):\d+: (?:warning|error): code should be/gm)) {
    if (!first.has(match[1])) first.set(match[1], Number(match[2]));
  }
  return [...first].map(([path, line]) => {
    return { rule: 'format', path, line, text: `run ${program} -i ${path}` };
  });
}
