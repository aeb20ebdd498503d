// @ts-check
/**
 * Printing from a home-screen app, which has no print dialog on iOS: the sheets go out as one file
 * by the share sheet, and that file prints on its own as it was promised.
 */
import assert from 'node:assert/strict';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { pathToFileURL } from 'node:url';

import { openLab } from './harness.mjs';

/** @type {import('./harness.mjs').Lab} */
let lab;
const folder = mkdtempSync(join(tmpdir(), 'tallyround-share-'));
before(async () => { lab = await openLab(); });
after(async () => {
  await lab.close();
  rmSync(folder, { recursive: true });
});

/** Runs in the page before its own scripts: an app on the home screen, with a share sheet. */
function homeScreen() {
  const shares = /** @type {any[]} */ ([]);
  Object.assign(globalThis, { shares, printed: 0, print: () => { globalThis.printed += 1; } });
  Object.defineProperty(navigator, 'standalone', { get: () => true });
  Object.assign(navigator, {
    canShare: ({ files }) => files?.length > 0,
    share: async ({ files }) => {
      if (globalThis.late) throw new DOMException('No touch', 'NotAllowedError');
      if (globalThis.cancel) throw new DOMException('Share canceled', 'AbortError');
      for (const file of files) {
        shares.push({ name: file.name, type: file.type, text: await file.text(),
          active: navigator.userActivation.isActive });
      }
    },
  });
}

async function openPrep() {
  const app = await lab.open({ before: homeScreen });
  await app.devtools.send('Emulation.setEmulatedMedia',
    { features: [{ name: 'display-mode', value: 'standalone' }] });
  await app.tap('button', /demo class/);
  await app.tap('button', 'Print and prepare: cards, keys, signs and lists');
  const [label] = (await app.names('button')).filter((name) => /^Print \d+ pages$/.test(name));
  return { app, label, pages: Number(/\d+/.exec(label)?.[0]) };
}

test('the queue goes out as one file that prints as many pages as were promised', async () => {
  const { app, label, pages } = await openPrep();
  assert.ok(pages > 20);
  await app.tap('button', label);
  await app.page.waitForFunction(() => globalThis.shares.length > 0);
  const { shares, printed } = await app.page.evaluate(() => ({ shares: globalThis.shares,
    printed: globalThis.printed }));
  assert.equal(printed, 0, 'the print dialog was asked for as well');
  assert.equal(shares.length, 1);
  const [{ name, type, text, active }] = shares;
  assert.match(name, /^[^/\\:*?"<>|]+\.html$/);
  assert.equal(type, 'text/html');
  assert.ok(active, 'browsers share only as an answer to a touch');
  assert.doesNotMatch(text, /<script|<link|src="(?!data:)/i);

  const file = join(folder, 'sheets.html');
  writeFileSync(file, text);
  const page = await app.page.context().newPage();
  const asked = /** @type {string[]} */ ([]);
  page.on('request', (request) => asked.push(request.url()));
  await page.goto(pathToFileURL(file).href);
  const paper = (await page.pdf({ preferCSSPageSize: true })).toString('latin1');
  assert.equal(paper.match(/\/Type \/Page\b/g)?.length, pages);
  assert.equal(asked.length, 1, `the file loads something: ${asked}`);
  assert.deepEqual(app.complaints, []);
});

test('who changes their mind on the share sheet is left where they were', async () => {
  const { app, label } = await openPrep();
  await app.page.evaluate(() => { Object.assign(globalThis, { cancel: true }); });
  const downloads = /** @type {string[]} */ ([]);
  app.page.on('download', (download) => downloads.push(download.suggestedFilename()));
  await app.tap('button', label);
  await app.settled();
  await app.page.waitForTimeout(300);
  assert.deepEqual(downloads, []);
  await app.see('heading', 'Print and prepare');
  assert.deepEqual(app.complaints, []);
});

test('a file that took longer than a touch counts waits for another one', async () => {
  const { app, label } = await openPrep();
  await app.page.evaluate(() => { Object.assign(globalThis, { late: true }); });
  await app.tap('button', label);
  const dialog = app.page.getByRole('dialog', { name: 'The file is ready' });
  await dialog.waitFor();
  await app.page.evaluate(() => { Object.assign(globalThis, { late: false }); });
  await dialog.getByRole('button', { name: 'Share or save the file' }).tap();
  await dialog.waitFor({ state: 'detached' });
  const shares = await app.page.evaluate(() => globalThis.shares);
  assert.deepEqual(shares.map(({ active }) => active), [true]);
  // Closed without sharing: nothing else happens.
  await app.page.evaluate(() => { Object.assign(globalThis, { late: true }); });
  let downloads = 0;
  app.page.on('download', () => { downloads += 1; });
  await app.tap('button', 'Settings and files');
  await app.tap('button', 'Save plan file');
  await dialog.getByRole('button', { name: 'Close' }).tap();
  await dialog.waitFor({ state: 'detached' });
  await app.page.waitForTimeout(300);
  assert.equal(downloads, 0);
  assert.deepEqual(app.complaints, []);
});

test('a picture for a card is made small, and what is none is left for the app to refuse',
  async () => {
    const app = await lab.open();
    const made = await app.page.evaluate(async () => {
      const { smallPicture } = await import(String('./js/pictures.mjs'));
      const bytesOf = async (/** @type {HTMLCanvasElement} */ canvas, type = 'image/png') => {
        const blob = await new Promise((done) => { canvas.toBlob(done, type); });
        return new Uint8Array(await blob.arrayBuffer());
      };
      const canvas = document.createElement('canvas');
      [canvas.width, canvas.height] = [1600, 1200];
      const brush = /** @type {CanvasRenderingContext2D} */ (canvas.getContext('2d'));
      brush.fillRect(100, 100, 900, 30);
      const drawing = await bytesOf(canvas);
      const noise = brush.createImageData(1600, 1200);
      for (let i = 0; i < noise.data.length; i += 1) noise.data[i] = (i * i * 31 + i * 7) % 253;
      brush.putImageData(noise, 0, 0);
      const photo = await bytesOf(canvas);
      const size = async (/** @type {Uint8Array<ArrayBuffer>} */ bytes) => {
        const image = await createImageBitmap(new Blob([bytes]));
        return [image.width, image.height];
      };
      const svg = new TextEncoder().encode('<svg xmlns="http://www.w3.org/2000/svg"></svg>');
      const out = [];
      for (const bytes of [drawing, photo]) {
        const small = await smallPicture(bytes);
        out.push({ from: bytes.length, to: small.length, head: [...small.subarray(0, 3)],
          size: await size(small) });
      }
      const broken = photo.slice(0, 200);
      return { out, same: await smallPicture(svg) === svg, broken: await smallPicture(broken)
        === broken };
    });
    const [drawing, photo] = made.out;
    assert.deepEqual(drawing.head, [0x89, 0x50, 0x4e]);
    assert.deepEqual(drawing.size, [1000, 750]);
    assert.ok(photo.from > 150_000 && photo.to <= 100 * 1024, `${photo.from} to ${photo.to}`);
    assert.deepEqual(photo.head, [0xff, 0xd8, 0xff]);
    assert.ok(Math.abs(photo.size[0] / photo.size[1] - 4 / 3) < 0.01);
    assert.ok(made.same && made.broken);
  });
