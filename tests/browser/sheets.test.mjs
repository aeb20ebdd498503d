// @ts-check
/**
 * The sheets on paper: each kind is printed to PDF in Chromium and read back with poppler-utils.
 * Its pages are as many as were stated and of the size that was asked for, and every word stands
 * inside the margins.
 */
import assert from 'node:assert/strict';
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { after, before, test } from 'node:test';
import { fileURLToPath, pathToFileURL } from 'node:url';

import { chromium } from 'playwright-core';

import { biggestPlan } from './sheet-plans.mjs';

const ROOT = join(dirname(fileURLToPath(import.meta.url)), '../..');
const PROGRAM = join(process.env.TALLYROUND_NATIVE_BUILD ?? join(ROOT, 'build/native'),
  'tallyround');
/** Points of 1/72 inch: ANSI letter 8.5 × 11 in, ISO 216 A4 210 × 297 mm. */
const SIZES = { letter: [612, 792], a4: [595.3, 841.9] };
/** The white edge of 12.7 mm, less half a point for rounding. */
const EDGE = 36 - 0.5;

/** @type {import('playwright-core').Browser} */
let browser;
const folder = mkdtempSync(join(tmpdir(), 'tallyround-sheets-'));
before(async () => {
  browser = await chromium.launch({ executablePath: process.env.TALLYROUND_CHROMIUM ??
    '/usr/bin/chromium', headless: true, args: ['--no-sandbox'] });
});
after(() => browser.close());

/** @param {string[]} args */
function run(...args) {
  const { status, stdout, stderr } = spawnSync(PROGRAM, args, { encoding: 'utf8' });
  return { status, stdout, stderr, json: stdout ? JSON.parse(stdout) : null };
}

/** @param {string} html @param {string} pdf */
async function print(html, pdf) {
  const page = await browser.newPage();
  /** @type {string[]} */
  const asked = [];
  page.on('request', (request) => asked.push(request.url()));
  await page.goto(pathToFileURL(html).href);
  await page.pdf({ path: pdf, preferCSSPageSize: true, printBackground: true });
  assert.equal(asked.length, 1, `the sheet loads something: ${asked}`);
  await page.close();
}

/** Pages of a PDF with their words: [{width, height, words: [{x0, y0, x1, y1, text}]}].
 *  @param {string} pdf */
function wordsOf(pdf) {
  const text = execFileSync('pdftotext', ['-bbox', pdf, '-'], { encoding: 'utf8',
    maxBuffer: 1 << 28 });
  return text.split('<page ').slice(1).map((part) => {
    const [, width, height] = /width="([\d.]+)" height="([\d.]+)"/.exec(part) ?? [];
    const words = [...part.matchAll(
      /xMin="(-?[\d.]+)" yMin="(-?[\d.]+)" xMax="(-?[\d.]+)" yMax="(-?[\d.]+)">(.*?)<\/word>/g)]
      .map(([, x0, y0, x1, y1, word]) => ({ x0: +x0, y0: +y0, x1: +x1, y1: +y1, text: word }));
    return { width: +width, height: +height, words };
  });
}

/** @param {string} plan @param {'letter'|'a4'} paper @param {string[]} more */
async function check(plan, paper, ...more) {
  const out = mkdtempSync(join(folder, 'out-'));
  const { status, stderr, json } = run('sheets', plan, '--kind', 'all', '--paper', paper, '-o', out,
    ...more);
  assert.equal(status, 0, stderr);
  assert.deepEqual(json.left_out, []);
  /** @type {Record<string, ReturnType<typeof wordsOf>>} */
  const read = {};
  for (const { kind, file, pages, landscape } of json.files) {
    const pdf = join(out, `${kind}.pdf`);
    await print(join(out, file), pdf);
    const paged = wordsOf(pdf);
    read[kind] = paged;
    assert.equal(paged.length, pages, `${kind}: pages on paper and as stated`);
    const [short, long] = SIZES[paper];
    for (const { width, height, words } of paged) {
      const [w, h] = landscape ? [long, short] : [short, long];
      assert.ok(Math.abs(width - w) < 1.5 && Math.abs(height - h) < 1.5,
        `${kind}: ${width} × ${height}`);
      assert.ok(words.length > 0 || kind === 'cards', `${kind}: an empty page`);
      for (const { x0, y0, x1, y1, text } of words) {
        // Glyph boxes reach above and below what is drawn by a part of the line's height.
        const rise = (y1 - y0) * 0.3;
        assert.ok(x0 >= EDGE && x1 <= w - EDGE && y0 >= EDGE - rise && y1 <= h - EDGE + rise,
          `${kind}: “${text}” at ${[x0, y0, x1, y1]} of ${w} × ${h}`);
      }
    }
  }
  return { json, read };
}

/** @param {{words: {text: string}[]}[]} pages */
const textOf = (pages) => pages.flatMap(({ words }) => words.map(({ text }) => text)).join(' ');

test('the demo class on letter', async () => {
  const plan = join(folder, 'demo.json');
  assert.equal(run('demo', '-o', plan).status, 0);
  const { json, read } = await check(plan, 'letter', '--names');
  assert.equal(json.files.length, 12);
  assert.equal(read.signs.length, 7);
  assert.equal(read.substitute.length, 1);
  assert.match(textOf(read.substitute), /Whitfield/);
  assert.match(textOf(read.keys), /assessment instrument/);
  assert.match(textOf(read.keys), /National Governors Association/);
});

test('the biggest plan on both papers: long names and titles, 10 groups, 10 centers', async () => {
  const plan = join(folder, 'biggest.json');
  writeFileSync(plan, biggestPlan(PROGRAM));
  for (const paper of /** @type {const} */ (['letter', 'a4'])) {
    const { read } = await check(plan, paper, '--per-page', '8', '--names');
    assert.equal(read.substitute.length, 1);
    assert.equal(read.chart.length, 1);
    assert.equal(read.signs.length, 10);
    const cards = textOf(read.groups);
    for (let i = 1; i <= 40; i += 1) assert.match(cards, new RegExp(`Number${i}\\b`));
  }
});

test('markup and scripts in names, titles and instructions are words on paper', async () => {
  const plan = join(folder, 'markup.json');
  const script = '<script>document.title="x"</script><img src=x onerror=alert(1)>"\'&amp;';
  writeFileSync(plan, biggestPlan(PROGRAM, script));
  const out = mkdtempSync(join(folder, 'out-'));
  const { json } = run('sheets', plan, '--kind', 'all', '--paper', 'a4', '-o', out);
  const page = await browser.newPage();
  for (const { file } of json.files) {
    const html = readFileSync(join(out, file), 'utf8');
    assert.doesNotMatch(html, /<script|<img|onerror=alert\(1\)>"/i, file);
    await page.goto(pathToFileURL(join(out, file)).href);
    assert.notEqual(await page.title(), 'x');
    assert.equal(await page.locator('script, img, [onerror]').count(), 0);
  }
  await page.close();
  assert.match(readFileSync(join(out, 'groups.html'), 'utf8'), /&lt;script&gt;/);
});

test('letters are large enough: cards 14 points, signs 72', async () => {
  const out = mkdtempSync(join(folder, 'out-'));
  run('sheets', join(folder, 'biggest.json'), '--kind', 'all', '--paper', 'letter', '-o', out);
  const page = await browser.newPage();
  const sizes = async (/** @type {string} */ file, /** @type {string} */ what) => {
    await page.goto(pathToFileURL(join(out, file)).href);
    return page.locator(what).evaluateAll((all) => all.filter((e) => e.textContent?.trim())
      .map((e) => parseFloat(getComputedStyle(e).fontSize) * 0.75));
  };
  assert.ok(Math.min(...await sizes('cards.html', 'p, b')) >= 14);
  assert.ok(Math.min(...await sizes('signs.html', 'h1')) >= 72);
  await page.close();
});

test('a wish that cannot be met or understood ends as the contract says', () => {
  const plan = join(folder, 'demo.json');
  const none = join(folder, 'none.json');
  writeFileSync(none, '{"format":"something else"}');
  const out = join(folder, 'new', 'folder');
  const cases = /** @type {const} */ ([
    [2, 'sheets', plan, '--kind', 'wallpaper', '--paper', 'a4', '-o', out],
    [2, 'sheets', plan, '--kind', 'cards', '--paper', 'a5', '-o', out],
    [2, 'sheets', plan, '--kind', 'cards', '--paper', 'a4'],
    [2, 'sheets', plan, '--kind', 'cards', '--paper', 'a4', '-o', out, '--cards', '1000000'],
    [4, 'sheets', none, '--kind', 'cards', '--paper', 'a4', '-o', out],
    [4, 'sheets', join(folder, 'missing.json'), '--kind', 'cards', '--paper', 'a4', '-o', out],
    [3, 'sheets', plan, '--kind', 'cards', '--paper', 'a4', '-o', join(none, 'inside')],
    [0, 'sheets', plan, '--kind', 'signs', '--paper', 'a4', '-o', out],
  ]);
  for (const [wanted, ...args] of cases) {
    const { status, stdout, stderr } = run(...args);
    assert.equal(status, wanted, `${args.join(' ')}: ${stderr}`);
    if (wanted !== 0) assert.notEqual(stderr, '');
    if (wanted === 2 || wanted === 4) assert.equal(stdout, '');
  }
});
