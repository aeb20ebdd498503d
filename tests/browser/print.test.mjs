// @ts-check
/** A printable page goes to paper as it is, and leaves nothing behind. */
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';

import { needs } from './engines/choose.mjs';
import { openLab } from './harness.mjs';

/** @type {import('./harness.mjs').Lab} */
let lab;
before(async () => { lab = await openLab(); });
after(() => lab.close());

const SHEET = `<!doctype html><html><head><title>Cards</title>
  <style>@page { size: A5; margin: 10mm } h1 { color: rgb(200, 0, 0); break-before: page }</style>
  </head><body><h1>One</h1><p id="said" style="margin-left: 30px" onclick="intruder = 1">Text</p>
  <h1>Two</h1><script>globalThis.intruder = true</script>
  <svg width="10" height="10"><rect width="10" height="10" style="fill: blue"/></svg>
  </body></html>`;

test('styles and breaks hold on paper; the screen stays as it is', needs('pdf'), async () => {
  const app = await lab.open();
  const screen = await app.page.screenshot();
  await app.page.evaluate(async (html) => {
    const { printPage } = await import(String('./js/print.mjs'));
    Object.assign(globalThis, { printed: 0, print: () => { globalThis.printed++; } });
    await printPage('Cards', html);
  }, SHEET);
  assert.equal(await app.page.evaluate(() => globalThis.printed), 1);
  assert.equal(await app.page.title(), 'Cards');
  assert.ok(screen.equals(await app.page.screenshot()), 'the screen changed');

  await app.page.emulateMedia({ media: 'print' });
  assert.deepEqual(await app.page.evaluate(() => {
    const style = (what) => getComputedStyle(/** @type {Element} */ (
      document.querySelector(`#print ${what}`)));
    return [style('h1').color, style('p').marginLeft, style('rect').fill,
      getComputedStyle(/** @type {Element} */ (document.querySelector('#stage'))).display];
  }), ['rgb(200, 0, 0)', '30px', 'rgb(0, 0, 255)', 'none']);

  await app.page.emulateMedia({ media: null });
  await app.page.evaluate(() => document.getElementById('said')?.click());
  assert.equal(await app.page.evaluate(() => 'intruder' in globalThis), false);

  const paper = (await app.page.pdf({ preferCSSPageSize: true })).toString('latin1');
  assert.equal(paper.match(/\/Type \/Page\b/g)?.length, 2);
  // A5 is 148 × 210 mm (ISO 216): 419.5 × 595.3 points of 1/72 inch.
  const [, width, height] = /\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/.exec(paper) ?? [];
  assert.ok(Math.abs(Number(width) - 419.5) < 1 && Math.abs(Number(height) - 595.3) < 1,
    `${width} × ${height}`);
  // Chromium says "afterprint" once the paper is done.
  assert.equal(await app.page.title(), 'Tallyround');
  assert.equal(await app.page.locator('#print').count(), 0);
  assert.equal(await app.page.evaluate(() => document.adoptedStyleSheets.length), 0);
});
