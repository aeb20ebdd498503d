/**
 * Writes the folder that a web server serves:
 *
 *   node make-site.mjs --app FOLDER --fonts FOLDER --vendor FOLDER --out FOLDER
 *       [--esbuild PROGRAM]
 *
 * vendor: modules made from other people's packages, with their licences; app: holds
 * tallyround.mjs and tallyround.wasm; fonts: holds both fonts and LICENSE.txt; esbuild: makes
 * few and short scripts, or they go as they are. The same input gives the same bytes. Every path in
 * the site is relative, so it works in any sub-folder.
 */
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { cpSync, mkdirSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';

import { CSP } from './csp.mjs';
import { png, svg } from './icons.mjs';

const HERE = dirname(fileURLToPath(import.meta.url));

/** Every file below a folder, as sorted paths with slashes. */
function filesOf(folder, below = '') {
  return readdirSync(join(folder, below), { withFileTypes: true }).flatMap((entry) => {
    const path = below ? `${below}/${entry.name}` : entry.name;
    return entry.isDirectory() ? filesOf(folder, path) : [path];
  }).sort();
}

function writeIcons(folder) {
  mkdirSync(folder);
  writeFileSync(join(folder, 'mark.svg'), svg());
  writeFileSync(join(folder, 'mark-192.png'), png(192));
  writeFileSync(join(folder, 'mark-512.png'), png(512));
  writeFileSync(join(folder, 'touch-180.png'), png(180, { rounded: false, scale: 0.9 }));
  writeFileSync(join(folder, 'mask-512.png'), png(512, { rounded: false, scale: 0.78 }));
}

/** What other people's packages are for: it comes when it is asked for. */
const LATER = /^vendor\/|^js\/codes\.mjs$/;

/** Everything that the start needs is asked for at once, not one import after the other. */
function preloads(files) {
  const modules = files.filter((path) => path.endsWith('.mjs') && !LATER.test(path))
    .map((path) => `<link rel="modulepreload" href="${path}">`);
  const data = ['tallyround.wasm', 'fonts/regular.ttf', 'fonts/bold.ttf']
    .map((path) => `<link rel="preload" href="${path}" as="fetch" crossorigin>`);
  return [...data, ...modules].join('\n');
}

function writePage(out, files) {
  const page = readFileSync(join(HERE, 'page/index.html'), 'utf8')
    .replace('{{policy}}', CSP)
    .replace('{{preload}}', preloads(files));
  writeFileSync(join(out, 'index.html'), page);
}

/** The service worker's list of files with their hashes, and one hash over all of them. */
function writeWorker(out) {
  const list = filesOf(out).map((path) => {
    const hash = createHash('sha256').update(readFileSync(join(out, path))).digest('base64');
    return [path, `sha256-${hash}`];
  });
  const version = createHash('sha256').update(JSON.stringify(list)).digest('hex').slice(0, 16);
  const source = readFileSync(join(HERE, 'js/sw.js'), 'utf8')
    .replace('SITE_FILES', JSON.stringify(list, null, 2))
    .replace('SITE_VERSION', JSON.stringify(version));
  writeFileSync(join(out, 'sw.js'), source);
}

/** Scripts that keep files of their own beside start.mjs, into which the others go: what is loaded
 *  when it is asked for, and what makes the one policy of Trusted Types. */
const APART = ['codes.mjs', 'print.mjs', 'trusted.mjs'];

/** Few and short scripts: the start waits for each of them. */
function shrinkScripts(out, esbuild) {
  const shrink = (cwd, ...args) => execFileSync(esbuild, [...args, '--minify', '--format=esm',
    '--target=es2022', '--allow-overwrite', '--log-level=warning', '--out-extension:.js=.mjs',
    '--log-override:semicolon-after-return=error'],
  { cwd, stdio: ['ignore', 'inherit', 'inherit'] });
  const js = join(out, 'js');
  const others = [...APART.map((name) => `./${name}`), '../tallyround.mjs', '../vendor/*'];
  const kept = ['start.mjs', ...APART];
  shrink(js, ...kept, '--bundle', ...others.map((name) => `--external:${name}`), '--outdir=.');
  for (const name of readdirSync(js)) if (!kept.includes(name)) rmSync(join(js, name));
  shrink(out, 'tallyround.mjs', '--outdir=.');
}

function makeSite({ app, fonts, vendor, out, esbuild }) {
  rmSync(out, { recursive: true, force: true });
  mkdirSync(join(out, 'js'), { recursive: true });
  mkdirSync(join(out, 'fonts'));
  for (const name of ['tallyround.mjs', 'tallyround.wasm']) {
    cpSync(join(app, name), join(out, name));
  }
  for (const name of ['regular.ttf', 'bold.ttf', 'LICENSE.txt']) {
    cpSync(join(fonts, name), join(out, 'fonts', name));
  }
  cpSync(vendor, join(out, 'vendor'), { recursive: true });
  for (const name of readdirSync(join(HERE, 'js'))) {
    if (name !== 'sw.js') cpSync(join(HERE, 'js', name), join(out, 'js', name));
  }
  for (const name of ['style.css', 'manifest.webmanifest']) {
    cpSync(join(HERE, 'page', name), join(out, name));
  }
  if (esbuild) shrinkScripts(out, esbuild);
  writeIcons(join(out, 'icons'));
  writePage(out, filesOf(out));
  writeWorker(out);
}

const { values } = parseArgs({
  options: {
    app: { type: 'string' }, fonts: { type: 'string' }, out: { type: 'string' },
    vendor: { type: 'string' }, esbuild: { type: 'string' },
  },
});
if (!values.app || !values.fonts || !values.vendor || !values.out) {
  console.error('usage: node make-site.mjs --app FOLDER --fonts FOLDER --vendor FOLDER ' +
    '--out FOLDER [--esbuild PROGRAM]');
  process.exit(2);
}
makeSite(values);
