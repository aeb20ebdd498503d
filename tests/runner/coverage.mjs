/**
 * Branches that the tests took, counted by clang's source-based coverage: each condition of the
 * source has two, true and false, however often the compiler copies it. A condition of a template
 * counts once: its branch is taken when some instantiation takes it. What the compiler decides
 * (`if constexpr`, `while (true)`) is no branch, and neither is what a macro expands to (assert).
 * A file that no program links counts with all its branches as missed: what it was compiled to is
 * read, too.
 */
import { execFileSync } from 'node:child_process';
import { mkdirSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { basename, join, relative, resolve } from 'node:path';

const WANTED = 0.95;
const LLVM = 14; // of the preset's compiler

function llvm(tool, ...args) {
  return execFileSync(`llvm-${tool}-${LLVM}`, args,
    { encoding: 'utf8', maxBuffer: 1 << 30, stdio: ['ignore', 'pipe', 'pipe'] });
}

/** Where programs leave their counts. */
export class Profiles {
  /** @param {string} build the preset's folder */
  constructor(build) {
    this.build = build;
    this.folder = join(build, 'profiles');
    this.programs = [];
    rmSync(this.folder, { recursive: true, force: true });
    mkdirSync(this.folder, { recursive: true });
  }

  /** The environment of a program that is to be counted. */
  environment(program) {
    this.programs.push(program);
    // The first few hundred merges take every branch that thousands take.
    return { LLVM_PROFILE_FILE: `${this.#of(program)}.profraw`, TALLYROUND_INTERLEAVINGS: '500' };
  }

  /** What llvm-cov says about each program, and about what the modules were compiled to, which has
   *  no counts of its own. */
  * exports(modules) {
    let merged;
    for (const program of this.programs) {
      merged = `${this.#of(program)}.profdata`;
      llvm('profdata', 'merge', '-sparse', `${this.#of(program)}.profraw`, '-o', merged);
      yield this.#export(program, merged);
    }
    for (const module of modules) {
      const folder = join(this.build, `core/CMakeFiles/core_${module}.dir`, module);
      for (const file of readdirSync(folder).filter((name) => name.endsWith('.o'))) {
        yield this.#export(join(folder, file), merged);
      }
    }
  }

  #of(program) {
    return join(this.folder, basename(program));
  }

  #export(object, profile) {
    const text = llvm('cov', 'export', `-instr-profile=${profile}`, '-skip-expansions',
      '-skip-functions', object);
    return JSON.parse(text).data[0].files;
  }
}

/** Line, column -> [times true, times false] of every condition in a file of the folders. The
 *  compiler names files as seen from the build's folder. */
function conditionsOf(root, build, folders, exports) {
  const files = new Map();
  for (const { filename, branches } of [...exports].flat()) {
    const path = relative(root, resolve(build, filename));
    if (!folders.some((folder) => path.startsWith(`${folder}/`))) continue;
    if (!files.has(path)) files.set(path, new Map());
    const source = readFileSync(join(root, path), 'utf8').split('\n');
    for (const [line, column, endLine, endColumn, isTrue, isFalse] of branches) {
      const text = source[line - 1];
      const isDecided = text.slice(0, column - 1).endsWith('if constexpr (') ||
        text.slice(column - 1, endColumn - 1) === 'true'; // while (true)
      if (isDecided) continue;
      const key = [line, column, endLine, endColumn].join(' ');
      const [t, f] = files.get(path).get(key) ?? [0, 0];
      files.get(path).set(key, [t + isTrue, f + isFalse]);
    }
  }
  return files;
}

/** How many branches there are, how many were taken, and the rest: "12t" was never true. */
function count(conditions) {
  const byPlace = [...conditions].map(([key, counts]) => [key.split(' ').map(Number), counts])
    .sort(([a], [b]) => a[0] - b[0] || a[1] - b[1]);
  const missed = byPlace.flatMap(([[line], [isTrue, isFalse]]) =>
    [...isTrue ? [] : [`${line}t`], ...isFalse ? [] : [`${line}f`]]);
  const all = 2 * byPlace.length;
  return { all, taken: all - missed.length, missed };
}

const percent = (taken, all) => `${(100 * taken / all).toFixed(1)} %`;

/**
 * @param {string} root @param {string[]} folders @param {Profiles} profiles
 * @returns {{text: string, reached: boolean}} a table, and whether each folder has enough
 */
export function measureBranches(root, folders, profiles) {
  const files = conditionsOf(root, profiles.build, folders,
    profiles.exports(folders.map((folder) => basename(folder))));
  const rows = ['    branches taken and missed: "12t" is a condition in line 12 never true'];
  let reached = true;
  for (const folder of folders) {
    let all = 0;
    let taken = 0;
    for (const [path, conditions] of [...files].sort(([a], [b]) => a < b ? -1 : 1)) {
      const file = count(conditions);
      if (!path.startsWith(`${folder}/`) || file.all === 0) continue;
      all += file.all;
      taken += file.taken;
      rows.push(`    ${path.padEnd(34)} ${String(file.taken).padStart(4)} of ` +
        `${String(file.all).padStart(4)}  ${file.missed.join(' ')}`.trimEnd());
    }
    rows.push(`  ${folder}: ${taken} of ${all} branches, ${percent(taken, all)}`);
    reached &&= all > 0 && taken >= WANTED * all;
  }
  return { text: rows.join('\n'), reached };
}
