// The figures: see run. Names of parts as arguments: only these.
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';

import { openLab } from '../browser/harness.mjs';
import { decadeTimes, makeDecade } from './decade.mjs';
import { lessonMemory } from './lesson.mjs';
import { makePlan } from './plans.mjs';
import { coldStart } from './start.mjs';
import { tapTimes } from './taps.mjs';

const { chromium } = createRequire(new URL('../browser/package.json', import.meta.url))(
  'playwright-core');
const ROOT = join(dirname(fileURLToPath(import.meta.url)), '../..');
const PROGRAM = join(ROOT, 'build/native/tallyround');
const WASM = process.env.TALLYROUND_WASM_BUILD ?? join(ROOT, 'build/wasm');

const show = (what, figure, target = '') => {
  console.log(`${what.padEnd(52)} ${String(figure).padStart(16)}   ${target}`);
};
const percentile = (all, share) => {
  const sorted = [...all].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))];
};
/** Bytes by brotli's best quality, its program's usual one: made once, served often.
 *  @param {string} file @param {string} [quality] */
const brotli = (file, quality = '11') => execFileSync('brotli', ['-q', quality, '-c', file],
  { maxBuffer: 1 << 28 }).length;

function filesIn(folder) {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) =>
    entry.isDirectory() ? filesIn(join(folder, entry.name)) : [join(folder, entry.name)]);
}

function sizes() {
  const site = join(WASM, 'site');
  const all = (quality) => filesIn(site).reduce((sum, file) => sum + brotli(file, quality), 0);
  const app = brotli(join(site, 'tallyround.wasm')) + brotli(join(site, 'tallyround.mjs'));
  const bare = brotli(join(WASM, 'tests/bench/bare_demo.wasm'))
    + brotli(join(WASM, 'tests/bench/bare_demo.mjs'));
  show('download of every file, brotli 11', `${(all('11') / 1000).toFixed(0)} KB`,
    'at most 900 KB');
  show('  the same, brotli 9', `${(all('9') / 1000).toFixed(0)} KB`);
  show('wasm + js against a bare ImGui demo', `${(app / bare).toFixed(2)} x`, 'at most 1.5 x');
}

async function frames(lab) {
  const app = await lab.open({ width: 1024, height: 768 });
  await app.tap('button', /demo class/);
  await app.page.waitForTimeout(6000);
  const still = await app.frames();
  await app.page.waitForTimeout(10_000);
  show('frames in 10 idle seconds', await app.frames() - still, '0');
  await app.tap('button', 'To the lesson');
  await app.tap('button', 'Start the lesson');
  await app.tap('button', /^Start round/);
  const before = await app.frames();
  await app.page.waitForTimeout(10_000);
  show('frames in 10 seconds of a lesson', await app.frames() - before, 'about 10');
  await app.page.close();
}

async function taps(lab) {
  const marks = 100_000;
  const times = await tapTimes(lab, makePlan(PROGRAM, marks, true));
  const targets = { 'handed to the screen': 'p95 at most 50 ms' };
  for (const [what, all] of Object.entries(times)) {
    show(`tap, 4 x slower, 40 students, ${marks} marks: ${what}`,
      `${percentile(all, 0.5).toFixed(0)} / ${percentile(all, 0.95).toFixed(0)} ms`,
      `p50 / p95 of ${all.length}; ${targets[what] ?? ''}`);
  }
}

async function starting() {
  const { app, bare, ratio } = await coldStart(WASM);
  show('cold start to the first frame; bare ImGui demo',
    `${app.toFixed(0)}; ${bare.toFixed(0)} ms`);
  show('  the same as a ratio, median of 9', `${ratio.toFixed(2)} x`, 'at most 1.3 x');
}

async function memory(lab) {
  const { mb, marks, frames } = await lessonMemory(lab);
  show(`memory over 90 minutes, ${marks} marks, ${frames} frames`, `${mb.toFixed(1)} MB more`,
    'less than 5 MB');
}

/** From the finger on "Print" to the printer's dialog, for all sheets that lie upright. */
async function printing(lab) {
  const app = await lab.open({ width: 1024, height: 768 });
  await app.tap('button', /demo class/);
  await app.tap('button', 'Print and prepare: cards, keys, signs and lists');
  await app.page.evaluate(() => {
    globalThis.print = () => { globalThis.asked = performance.now(); };
  });
  const [label] = (await app.names('button')).filter((name) => /^Print \d+ pages$/.test(name));
  const start = await app.page.evaluate(() => performance.now());
  await app.tap('button', label);
  await app.page.waitForFunction(() => globalThis.asked);
  const asked = await app.page.evaluate(() => globalThis.asked);
  show(`tap on "${label}" to the printer's dialog`, `${(asked - start).toFixed(0)} ms`,
    'at most 2000 ms');
  await app.page.close();
}

async function openingOf(lab, count) {
  const app = await lab.open({ width: 1024, height: 768 });
  app.page.setDefaultTimeout(120_000);
  await app.choose('button', 'Open a plan file', makePlan(PROGRAM, count));
  await app.read('Saved on this device');
  await app.page.waitForTimeout(4000);
  const runs = [];
  for (let i = 0; i < 3; i += 1) {
    await app.reload();
    runs.push(await app.page.evaluate(() => tallyround.openedAfter));
  }
  show(`opening ${count} marks, from navigation to first frame`,
    `${Math.min(...runs).toFixed(0)} ms`, count === 100_000 ? 'under 1000 ms' : '');
  await app.page.close();
}

async function opening(lab) {
  for (const count of [1000, 10_000, 100_000]) await openingOf(lab, count);
}

/** A million marks in Chromium. */
async function decade(lab) {
  const plan = makeDecade(PROGRAM, 1_000_000);
  const later = makeDecade(PROGRAM, 1_000_000, 500);
  await decadeTimes(lab, plan, later, (what, { seconds, longest, over, most }) => {
    show(`ten years, 1,000,000 marks: ${what}`, `${seconds.toFixed(1)} s`);
    show('  longest task; tasks over 50 ms', `${longest.toFixed(0)} ms; ${over}`, 'none over 50');
    show('  memory of the tab at the most', `${most.toFixed(0)} MB`, 'at most 400 MB');
  });
}

function native() {
  let last = 0;
  for (const count of [10_000, 100_000, 1_000_000]) {
    const file = makePlan(PROGRAM, count);
    const start = performance.now();
    execFileSync(PROGRAM, ['check', file]);
    const ms = performance.now() - start;
    show(`check of ${count} marks (${(readFileSync(file).length / 1e6).toFixed(0)} MB)`,
      `${ms.toFixed(0)} ms`, last ? `${(ms / last).toFixed(1)} x for 10 x` : '');
    last = ms;
  }
}

function evidence() {
  const file = join(mkdtempSync(join(tmpdir(), 'bench-')), 'year.txt');
  const ours = JSON.parse(execFileSync(join(ROOT, 'build/native/bench_year'), [file]));
  const rounds = String(Math.round(ours.rounds / 5));
  const theirs = Number(execFileSync('/usr/bin/python3',
    [join(ROOT, 'tests/bench/year.py'), file, rounds]));
  show(`year of ${ours.marks} marks fitted and estimated`, `${ours.ms.toFixed(0)} ms`);
  show(`  the same by python3-pomegranate, ${rounds} rounds a class`,
    `${(theirs / ours.ms).toFixed(0)} x`, 'at least 50 x');
  show('  log loss / AUC / calibration error of the next mark',
    `${ours.log_loss} / ${ours.auc} / ${ours.calibration_error}`);
  const marks = [['native', join(ROOT, 'build/native/bench_marks'), []],
    ['wasm', process.execPath, [join(WASM, 'node/bench_marks.js')]]];
  for (const [where, program, args] of marks) {
    const m = JSON.parse(execFileSync(program, args));
    show(`one mark after ${m.marks}, ${where}, mean / p99 / most`,
      `${m.mean.toFixed(2)} / ${m.p99.toFixed(2)} / ${m.most.toFixed(0)} ms`, 'at most 1 ms');
  }
}

/** The same million marks in our store and in SQLite, one after the other. */
function sqlite() {
  const folder = mkdtempSync(join(tmpdir(), 'bench-'));
  const times = JSON.parse(execFileSync(join(ROOT, 'build/native/bench_sqlite'), [folder]));
  const target = { open: 'at most 1.5 x' };
  for (const what of ['append', 'open', 'query']) {
    const [ours, theirs] = times[what];
    show(`${what} with ${times.marks} marks; SQLite; ratio`,
      `${ours} ms; ${theirs} ms; ${(ours / theirs).toFixed(2)} x`, target[what]);
  }
}

/** 10,000 cards by the shell program, its starts included; then a full prep box on paper. */
async function cardsAndSheets() {
  const ask = (skill, seed) => execFileSync(PROGRAM, ['cards'], { maxBuffer: 1 << 26,
    input: JSON.stringify({ skill, tier: 'core', count: 500, seed }) });
  const skills = ['frac-add-unlike', 'order-of-operations', 'percent-of', 'one-step-add'];
  let start = performance.now();
  for (let i = 0; i < 20; i += 1) ask(skills[i % 4], i + 1);
  const seconds = (performance.now() - start) / 1000;
  show('cards a second, native, with key and JSON', (10_000 / seconds).toFixed(0),
    'at least 10,000');
  for (const [where, program, args] of [['native', join(ROOT, 'build/native/bench_cards'), []],
    ['wasm', process.execPath, [join(WASM, 'node/bench_cards.js')]]]) {
    const m = JSON.parse(execFileSync(program, args, { encoding: 'utf8' }));
    show(`24 cards, ${m.sets} skills and tiers, ${where}, p50 / p95 / most`,
      `${m.p50.toFixed(1)} / ${m.p95.toFixed(1)} / ${m.most.toFixed(1)} ms`,
      `at most 20 ms in wasm; slowest ${m.slowest}`);
  }
  const folder = mkdtempSync(join(tmpdir(), 'bench-'));
  const plan = join(folder, 'demo.json');
  execFileSync(PROGRAM, ['demo', '-o', plan]);
  const { files } = JSON.parse(execFileSync(PROGRAM, ['sheets', plan, '--kind', 'all', '--paper',
    'letter', '-o', folder], { encoding: 'utf8' }));
  const browser = await chromium.launch({ executablePath: process.env.TALLYROUND_CHROMIUM ??
    '/usr/bin/chromium', headless: true, args: ['--no-sandbox'] });
  const page = await browser.newPage();
  await page.emulateMedia({ media: 'print' });
  await page.goto('about:blank');
  start = performance.now();
  for (const { file } of files) {
    await page.goto(pathToFileURL(join(folder, file)).href);
    await page.evaluate(() => document.body.getBoundingClientRect().height);
  }
  show('prep box of 7 centers and 3 tiers laid out in Chromium',
    `${(performance.now() - start).toFixed(0)} ms`, 'at most 2000 ms');
  await browser.close();
}

const PARTS = { sizes, native, sqlite, cardsAndSheets, evidence, starting, taps, frames, memory,
  printing, opening, decade };
const asked = process.argv.slice(2);
const lab = await openLab({ site: join(WASM, 'site') });
for (const [name, part] of Object.entries(PARTS)) {
  if (asked.length === 0 || asked.includes(name)) await part(lab);
}
await lab.close();
