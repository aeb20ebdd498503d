// @ts-check
/** Two fingers, a held name, and what a person types: on the real path through the browser. */
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';

import { needs } from './engines/choose.mjs';
import { openLab } from './harness.mjs';

/** @type {import('./harness.mjs').Lab} */
let lab;
before(async () => { lab = await openLab(); });
after(() => lab.close());

/** Two fingers at once and an input method's unfinished text. */
const DRIVEN = needs('devtools');

/** @param {import('./hands.mjs').Hands} app @param {string} type @param {[number, number][]} at */
async function fingers(app, type, at) {
  await app.devtools.send('Input.dispatchTouchEvent', {
    type: /** @type {'touchStart'} */ (type),
    touchPoints: at.map(([x, y], id) => ({ x, y, id })),
  });
}

test('two fingers change the app’s text, not the page; a reload keeps it', DRIVEN, async () => {
  const app = await lab.open({ width: 390, height: 844 });
  await app.tap('button', /demo class/);
  await fingers(app, 'touchStart', [[195, 500]]);
  await fingers(app, 'touchStart', [[195, 500], [195, 400]]);
  for (const step of [10, 15, 20, 25]) {
    await fingers(app, 'touchMove', [[195, 500 + step], [195, 400 - step]]);
  }
  await fingers(app, 'touchEnd', []);
  await app.settled();
  assert.equal(await app.announced(), 'Text size 150 %');
  assert.equal(await app.page.evaluate(() => window.visualViewport?.scale), 1);
  await app.tap('button', 'Settings and files');
  await app.read('150 %');
  await app.reload();
  await app.tap('button', 'Settings and files');
  await app.read('150 %');
  assert.deepEqual(app.complaints, []);
  await app.page.close();
});

test('a double tap or two fingers on a text field do not zoom the page', DRIVEN, async () => {
  const app = await lab.open({ width: 390, height: 844 });
  await app.tap('button', 'Start with your class');
  const { x, y } = await app.spot('textbox', 'Name of the class');
  for (let i = 0; i < 2; i += 1) await app.tapAt(x, y);
  await fingers(app, 'touchStart', [[x - 40, y]]);
  await fingers(app, 'touchStart', [[x - 40, y], [x + 40, y]]);
  for (const step of [10, 20, 40]) {
    await fingers(app, 'touchMove', [[x - 40 - step, y], [x + 40 + step, y]]);
  }
  await fingers(app, 'touchEnd', []);
  await app.page.waitForTimeout(400);
  assert.equal(await app.page.evaluate(() => window.visualViewport?.scale), 1);
  await app.page.close();
});

test('a whole group in one gesture, then one taken back and one put right', async () => {
  const app = await lab.open({ width: 390, height: 844 });
  await app.startDemoRound();
  const { x, y } = await app.spot('button', /^Everyone at/);
  await app.touch('touchStart', x, y);
  await app.page.waitForTimeout(600);
  await app.touch('touchMove', x, y - 20);
  await app.touch('touchMove', x, y - 60);
  await app.touch('touchEnd');
  await app.settled();
  const said = await app.announced();
  assert.match(said, /secure|shaky|stuck/);
  await app.tap('button', 'Undo');
  await app.tap('button', 'Lesson menu');
  await app.read('No marks yet. Tap a shape beside a name.');
  await app.page.close();
});

test('names are composed, pasted and typed right to left as in any field', DRIVEN, async () => {
  const app = await lab.open({ width: 390, height: 844 });
  await app.tap('button', 'Start with your class');
  await app.tap('textbox', 'Name of the class');
  const field = await app.see('textbox', 'Name of the class');
  const value = () => field.evaluate((e) => /** @type {HTMLInputElement} */ (e).value);
  // An input method: what is not finished stays in the field while the app draws.
  await app.devtools.send('Input.imeSetComposition',
    { text: 'すうがく', selectionStart: 4, selectionEnd: 4 });
  await app.settled();
  assert.equal(await value(), 'すうがく');
  await app.devtools.send('Input.insertText', { text: '数学' });
  await app.settled();
  assert.equal(await value(), '数学');
  await app.tap('button', 'Make the class');
  await app.see('heading', 'Who is in the class?');
  // Paste: lines in four scripts become four students.
  const area = await app.see('textbox', 'Names, one a line');
  await app.tap('textbox', 'Names, one a line');
  await area.evaluate((e) => {
    const box = /** @type {HTMLTextAreaElement} */ (e);
    const data = new DataTransfer();
    data.setData('text/plain', 'ليلى حداد\nנועה לוי\nЗоя Петренко\nZoë Müller');
    const paste = new ClipboardEvent('paste', { clipboardData: data, bubbles: true,
      cancelable: true });
    if (box.dispatchEvent(paste)) {
      document.execCommand('insertText', false, data.getData('text/plain'));
    }
  });
  await app.settled();
  await app.tap('button', 'Add these names');
  for (const name of ['ليلى حداد', 'נועה לוי', 'Зоя Петренко', 'Zoë Müller']) {
    await app.see('button', name);
  }
  // The field runs in the direction of what is typed.
  await app.tap('button', 'ليلى حداد');
  const name = await app.see('textbox', 'Name');
  assert.equal(await name.evaluate((e) => getComputedStyle(e).direction), 'rtl');
  await app.type('Name', 'Layla');
  assert.equal(await name.evaluate((e) => getComputedStyle(e).direction), 'ltr');
  await app.page.close();
});

test('Tab passes every button; arrows, Enter, Escape and single keys work', async () => {
  const app = await lab.open({ width: 1024, height: 768, touch: false });
  await app.startDemoRound();
  const focused = () => app.page.evaluate(() =>
    document.activeElement?.getAttribute('aria-label') ?? '');
  const all = await app.page.evaluate(() => [...document.querySelectorAll('#mirror [tabindex="0"]')]
    .filter((e) => !e.closest('[inert]')).length);
  const passed = new Set();
  await app.page.evaluate(() => /** @type {HTMLElement} */ (document.activeElement)?.blur());
  for (let i = 0; i < all; i += 1) {
    await app.page.keyboard.press('Tab');
    passed.add(await app.page.evaluate(() =>
      /** @type {HTMLElement} */ (document.activeElement)?.dataset.node));
  }
  assert.equal(passed.size, all);
  const name = await app.see('button', /, more$/);
  await name.evaluate((e) => /** @type {HTMLElement} */ (e).focus());
  const student = (await focused()).replace(', more', '');
  await app.press('3');
  assert.equal(await app.announced(), `${student}: stuck.`);
  await app.press('ArrowDown');
  assert.notEqual(await focused(), `${student}, more`);
  await name.evaluate((e) => /** @type {HTMLElement} */ (e).focus());
  await app.press('Enter');
  await app.see('dialog', student);
  await app.press('Escape');
  await app.press('?');
  await app.see('dialog', 'Keys');
  await app.press('Escape');
  await app.gone('dialog', 'Keys');
  await app.press('Control+z');
  assert.deepEqual(app.complaints, []);
  await app.page.close();
});
