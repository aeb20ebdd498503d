/** The repository's own files and all rules applied to them. */
import { execFileSync } from 'node:child_process';
import { readFileSync, statSync } from 'node:fs';
import { dirname, extname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

import { checkArrows, modulesFrom } from './arrows.mjs';
import { checkShape } from './shape.mjs';
import { checkWords } from './words.mjs';

export const ROOT = join(dirname(fileURLToPath(import.meta.url)), '../..');

const KINDS = {
  '.cpp': 'cpp', '.h': 'cpp', '.js': 'js', '.mjs': 'js', '.py': 'code', '.cmake': 'code',
  '.css': 'code', '.sh': 'code', '.html': 'text', '.md': 'text', '.txt': 'text', '.json': 'text',
  '.svg': 'text', '.webmanifest': 'text', '': 'code',
};

/** Files under version control or about to be: paths relative to the root, sorted. */
export function ownFiles() {
  const list = execFileSync('git', ['ls-files', '-z', '--cached', '--others', '--exclude-standard'],
    { cwd: ROOT, encoding: 'utf8', maxBuffer: 1 << 26 });
  return [...new Set(list.split('\0'))].filter((path) => {
    try {
      return path && statSync(join(ROOT, path)).isFile();
    } catch {
      return false; // removed, not yet committed
    }
  }).sort();
}

/** What is wrong in one file: [{rule, path, line, text}]. */
export function checkFile(path, content, modules) {
  const kind = KINDS[extname(path)];
  const isData = path.startsWith('tests/reference/data/') || path.endsWith('package-lock.json');
  const found = kind || isData ? checkWords(content) : [];
  if (kind && !isData) {
    const isCMake = path.endsWith('CMakeLists.txt');
    found.push(...checkShape(content, isCMake ? 'code' : kind));
  }
  if (kind === 'cpp') found.push(...checkArrows(path, content, modules));
  return found.map((fault) => ({ path, ...fault }));
}

/** What is wrong anywhere in the tree. */
export function checkTree() {
  const modules = modulesFrom(readFileSync(join(ROOT, 'core/CMakeLists.txt'), 'utf8'));
  return ownFiles().flatMap((path) => {
    return checkFile(path, readFileSync(join(ROOT, path), 'utf8'), modules);
  });
}
