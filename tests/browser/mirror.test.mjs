// @ts-check
/** The mirror by itself: diffs in, real elements out, and what a person does to them. */
import assert from 'node:assert/strict';
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { after, before, beforeEach, test } from 'node:test';
import { fileURLToPath } from 'node:url';

import { needs } from './engines/choose.mjs';
import { openLab } from './harness.mjs';

const SHELL = join(dirname(fileURLToPath(import.meta.url)), '../../web-shell');

/** @type {import('./harness.mjs').Lab} */
let lab;
/** @type {import('./hands.mjs').Hands} */
let app;
/** @type {string} */
let site;

before(async () => {
  // The real page and modules, without the start: the test says what the app would.
  site = mkdtempSync(join(tmpdir(), 'tallyround-mirror-'));
  cpSync(join(SHELL, 'js'), join(site, 'js'), { recursive: true });
  cpSync(join(SHELL, 'page/style.css'), join(site, 'style.css'));
  const page = readFileSync(join(SHELL, 'page/index.html'), 'utf8')
    .replace(/<script.*<\/script>|\{\{preload\}\}|<meta http-equiv.*>/g, '');
  writeFileSync(join(site, 'index.html'), page);
  lab = await openLab({ site });
});
after(async () => {
  await lab.close();
  rmSync(site, { recursive: true });
});
beforeEach(async () => {
  app = await lab.open({ width: 800, height: 600, ready: false });
  await app.page.evaluate(async () => {
    const { Mirror } = await import(String('./js/mirror.mjs'));
    const heard = [];
    const say = (kind) => (...what) => { heard.push([kind, ...what]); };
    const mirror = new Mirror(document.getElementById('mirror'), document.getElementById('live'),
      { activate: say('activate'), edit: say('edit'), editDone: say('done'), focus: say('focus') });
    Object.assign(globalThis, { mirror, heard });
  });
});

const apply = (diff) => app.page.evaluate((d) => globalThis.mirror.apply(d), diff);
const heard = () => app.page.evaluate(() => globalThis.heard.splice(0));
const inert = () =>
  app.page.evaluate(() => document.querySelector('[data-node="1"]').inert);
const active = () => app.page.evaluate(() => document.activeElement?.dataset?.node);

const main = { id: 1, role: 'main', label: 'Class', rect: [0, 0, 800, 600] };
const button = (id, label, y, more = {}) =>
  ({ id, parent: 1, role: 'button', label, focusable: true, rect: [10, y, 100, 48], ...more });
const field = (more = {}) => ({ id: 9, parent: 1, role: 'text_field', label: 'Name',
  focusable: true, rect: [200, 10, 300, 48], full: [200, 10, 300, 48], ...more });

/** One of every role, nested as the app nests them. */
const everything = [
  { id: 1, role: 'banner', label: 'Top', rect: [0, 0, 800, 60] },
  { id: 2, parent: 1, role: 'status', label: 'Saved', rect: [600, 10, 100, 40] },
  { id: 3, role: 'navigation', label: 'Steps', rect: [0, 60, 200, 540] },
  { id: 4, parent: 3, role: 'tab', label: 'Walk', checked: true, focusable: true,
    rect: [0, 60, 200, 48] },
  { id: 5, role: 'main', label: 'Walk', rect: [200, 60, 600, 540] },
  { id: 6, parent: 5, role: 'heading', level: 1, label: 'Round 1', rect: [210, 60, 300, 40] },
  { id: 7, parent: 5, role: 'timer', label: '12 minutes left', rect: [510, 60, 200, 40] },
  { id: 8, parent: 5, role: 'list', label: 'Students', rect: [210, 110, 300, 200] },
  { id: 10, parent: 8, role: 'list_item', rect: [210, 110, 300, 60] },
  { id: 11, parent: 10, role: 'text', label: 'Ada', rect: [210, 110, 100, 60] },
  { id: 12, parent: 10, role: 'radio', label: 'secure', checked: true, focusable: true,
    rect: [310, 110, 48, 48] },
  { id: 13, parent: 10, role: 'checkbox', label: 'waits', focusable: true,
    rect: [366, 110, 48, 48] },
  { id: 14, parent: 5, role: 'table', label: 'Chart', rect: [210, 320, 300, 100] },
  { id: 15, parent: 14, role: 'row', rect: [210, 320, 300, 50] },
  { id: 16, parent: 15, role: 'column_header', label: 'Group', rect: [210, 320, 100, 50] },
  { id: 17, parent: 15, role: 'column_header', label: 'Round 1', rect: [310, 320, 100, 50] },
  { id: 18, parent: 14, role: 'row', rect: [210, 370, 300, 50] },
  { id: 19, parent: 18, role: 'row_header', label: 'Group 1', rect: [210, 370, 100, 50] },
  { id: 20, parent: 18, role: 'cell', label: 'Fractions', rect: [310, 370, 100, 50] },
  { id: 21, parent: 5, role: 'image', label: 'Picture of the week', rect: [520, 120, 100, 50] },
  { id: 22, parent: 5, role: 'link', label: 'Notices', focusable: true, rect: [520, 180, 100, 48] },
  { id: 23, parent: 5, role: 'group', label: 'Length', rect: [520, 240, 200, 48] },
  { id: 24, parent: 23, role: 'button', label: 'More', has_popup: true, focusable: true,
    value: 'Opens a list', rect: [520, 240, 100, 48] },
  { id: 25, parent: 5, role: 'text_area', label: 'Note', focusable: true,
    rect: [520, 300, 200, 80], full: [520, 300, 200, 80], value: 'Two\nlines' },
  { id: 26, parent: 5, role: 'region', label: 'Done', rect: [520, 400, 200, 80] },
];

test('an element moves into another, and what follows it finds its place', async () => {
  const second = button(11, 'Second', 60);
  await apply({ set: [main, button(10, 'First', 0), second], order: [1, 10, 11] });
  const around = { id: 30, parent: 1, role: 'group', label: 'Around', rect: [0, 60, 300, 60] };
  await apply({ set: [around, { ...second, parent: 30 }, button(12, 'Third', 120)],
    order: [1, 10, 30, 11, 12] });
  const tree = await app.page.evaluate(() => {
    const inside = (id) => [...document.querySelector(`[data-node="${id}"]`).children]
      .map((child) => child.dataset.node).filter(Boolean);
    return { main: inside(1), around: inside(30) };
  });
  assert.deepEqual(tree, { main: ['10', '30', '12'], around: ['11'] });
});

test('every role becomes a proper element, says axe-core, too', needs('snapshot'), async () => {
  await apply({ set: everything, order: everything.map(({ id }) => id) });
  assert.equal(await app.mirror(), `\
- banner "Top":
  - status: Saved
- navigation "Steps":
  - button "Walk"
- main "Walk":
  - heading "Round 1" [level=1]
  - timer: 12 minutes left
  - list "Students":
    - listitem:
      - paragraph: Ada
      - radio "secure" [checked]
      - checkbox "waits"
  - table "Chart":
    - row "Group Round 1":
      - columnheader "Group"
      - columnheader "Round 1"
    - row "Group 1 Fractions":
      - rowheader "Group 1"
      - cell "Fractions"
  - img "Picture of the week"
  - link "Notices"
  - group "Length":
    - button "More"
  - textbox "Note": Two lines
  - region "Done"`);
  assert.deepEqual(await app.axe(), []);
});

test('elements stand where the app drew, nested or not, and follow a scroll', async () => {
  const nodes = (y) => [main,
    { id: 2, parent: 1, role: 'group', label: 'G', rect: [40, y, 300, 200] },
    { ...button(3, 'In', y + 50), parent: 2, rect: [60, y + 50, 100, 48] }];
  const place = () => app.page.evaluate(() => {
    const box = document.querySelector('[data-node="3"]').getBoundingClientRect();
    return [box.x, box.y, box.width, box.height];
  });
  await apply({ set: nodes(100), order: [1, 2, 3] });
  assert.deepEqual(await place(), [60, 150, 100, 48]);
  // Only the group is told to move: what is inside it did not change.
  await apply({ set: [nodes(70)[1]] });
  assert.deepEqual(await place(), [60, 150, 100, 48]);
  await apply({ set: nodes(30).slice(1) });
  assert.deepEqual(await place(), [60, 80, 100, 48]);
});

test('touches go through to the canvas, except on text fields', async () => {
  await apply({ set: [main, button(2, 'Tap', 100), field()], order: [1, 2, 9] });
  const hit = (x, y) => app.page.evaluate(([a, b]) => document.elementFromPoint(a, b)?.id ||
    document.elementFromPoint(a, b)?.tagName, [x, y]);
  assert.equal(await hit(60, 120), 'canvas');
  assert.equal(await hit(250, 30), 'INPUT');
});

test('keyboard and assistive technology press buttons; disabled ones stay silent', async () => {
  await apply({ set: [main, button(2, 'Go', 100), button(3, 'Not now', 160, { disabled: true })],
    order: [1, 2, 3] });
  await app.page.keyboard.press('Tab');
  await app.page.keyboard.press('Enter');
  await app.page.keyboard.press('Space');
  await app.page.keyboard.press('Tab');
  await app.page.keyboard.press('Enter');
  assert.deepEqual(await heard(), [['focus', 2], ['activate', 2], ['activate', 2], ['focus', 3]]);
  assert.equal(await app.find('button', 'Not now').isDisabled(), true);
});

test('a new order moves elements without taking the focus away', async () => {
  const ids = [2, 3, 4, 5];
  const buttons = ids.map((id) => button(id, `B${id}`, id * 50));
  await apply({ set: [main, ...buttons], order: [1, ...ids] });
  await app.page.evaluate(() => /** @type {HTMLElement} */ (
    document.querySelector('[data-node="4"]')).focus());
  await heard();
  for (const order of [[5, 4, 3, 2], [4, 2, 3, 5], [3, 5, 2, 4]]) {
    await apply({ order: [1, ...order] });
    assert.deepEqual(await app.names('button'), order.map((id) => `B${id}`));
    assert.equal(await active(), '4');
  }
  assert.deepEqual(await heard(), []);
});

test('typing is heard letter by letter; leaving and Enter end it', async () => {
  await apply({ set: [main, field(), button(2, 'Other', 100)], order: [1, 9, 2] });
  await app.page.keyboard.press('Tab');
  await app.page.keyboard.type('Åb');
  await app.page.keyboard.press('Enter');
  await app.page.keyboard.press('Tab');
  assert.deepEqual(await heard(), [['focus', 9], ['edit', 9, 'Å'], ['edit', 9, 'Åb'], ['done', 9],
    ['done', 9], ['focus', 2]]);
});

test('the app hears when the keyboard has left, and when a finger took over', async () => {
  await apply({ set: [main, button(2, 'Go', 100)], order: [1, 2] });
  await app.page.keyboard.press('Tab');
  await app.page.evaluate(() => globalThis.mirror.leave());
  await app.page.evaluate(() => /** @type {HTMLElement} */ (document.activeElement).blur());
  assert.deepEqual(await heard(), [['focus', 2], ['focus', 0], ['focus', 0]]);
});

test('the app’s text never replaces what is being typed', async () => {
  await apply({ set: [main, field({ value: 'Ada' })], order: [1, 9] });
  const value = () => app.page.evaluate(() => document.querySelector('input')?.value);
  assert.equal(await value(), 'Ada');
  await app.page.keyboard.press('Tab');
  await app.page.keyboard.press('End');
  await app.page.keyboard.type(' ');
  // The app trims what it heard, and the field moves for another reason in the next frame.
  await apply({ set: [field({ value: 'Ada' })] });
  await apply({ set: [field({ value: 'Ada', rect: [200, 20, 300, 48] })] });
  assert.equal(await value(), 'Ada ');
  await app.page.keyboard.type('L');
  await apply({ set: [field({ value: 'Ada L' })] });
  assert.equal(await value(), 'Ada L');
  // With Enter the app took the text and empties the field: the person sees that.
  await app.page.keyboard.press('Enter');
  await apply({ set: [field({ value: '' })] });
  assert.equal(await value(), '');
  // What the app made of the text shows once the person has left.
  await app.page.keyboard.type('x ');
  await apply({ set: [field({ value: 'x' })] });
  await app.page.evaluate(() => /** @type {HTMLElement} */ (document.activeElement).blur());
  await apply({});
  assert.equal(await value(), 'x');
});

test('an input method’s unfinished text is left alone', needs('devtools'), async () => {
  await apply({ set: [main, field()], order: [1, 9] });
  await app.page.keyboard.press('Tab');
  await app.devtools.send('Input.imeSetComposition',
    { text: 'に', selectionStart: 1, selectionEnd: 1 });
  await apply({});
  await apply({ set: [field({ value: 'something else' })] });
  const value = () => app.page.evaluate(() => document.querySelector('input')?.value);
  assert.equal(await value(), 'に');
  await app.devtools.send('Input.insertText', { text: '日' });
  assert.equal(await value(), '日');
  assert.deepEqual((await heard()).at(-1), ['edit', 9, '日']);
});

test('a dialog makes what is behind it inert; focus goes in and comes back', async () => {
  await apply({ set: [main, button(2, 'Open', 100), field()], order: [1, 2, 9] });
  await app.page.keyboard.press('Tab');
  assert.equal(await active(), '2');
  const dialog = { id: 20, role: 'dialog', label: 'Sure?', rect: [100, 100, 300, 200] };
  const close = { ...button(21, 'Close', 150), parent: 20 };
  await apply({ set: [dialog, close], order: [1, 2, 9, 20, 21] });
  assert.equal(await active(), '20');
  assert.equal(await inert(), true);
  assert.equal(await app.page.evaluate(() =>
    getComputedStyle(document.querySelector('input')).visibility), 'hidden');
  await app.page.keyboard.press('Tab');
  assert.equal(await active(), '21');
  assert.deepEqual(await app.axe(), []);
  await apply({ gone: [20, 21], order: [1, 2, 9] });
  assert.equal(await active(), '2');
  assert.equal(await inert(), false);
});

test('focus can be asked for; reaching what is out of sight scrolls nothing', async () => {
  await apply({ set: [main, button(2, 'Far', 900, { rect: [10, 900, 0, 0] })], order: [1, 2] });
  await app.page.evaluate(() => globalThis.mirror.focusSoon(2));
  await apply({});
  assert.equal(await active(), '2');
  assert.deepEqual(await heard(), [['focus', 2]]);
  const scrolled = await app.page.evaluate(() =>
    [...document.querySelectorAll('*')].some((e) => e.scrollTop || e.scrollLeft));
  assert.equal(scrolled, false);
});

test('a field that is partly scrolled out is cut; one that is wholly out is not seen', async () => {
  await apply({ set: [main, field({ rect: [200, 10, 300, 20] })], order: [1, 9] });
  const style = () => app.page.evaluate(() => {
    const input = document.querySelector('input');
    return [input.style.clipPath, input.hasAttribute('data-hidden'), input.style.height];
  });
  assert.deepEqual(await style(), ['inset(0px 0px 28px)', false, '48px']);
  await apply({ set: [field({ rect: [0, 0, 0, 0] })] });
  assert.deepEqual(await style(), ['', true, '48px']);
});

test('the live region speaks politely, also the same words twice', async () => {
  await app.page.evaluate(() => globalThis.mirror.announce('Ada is secure'));
  const words = () => app.page.evaluate(() => document.getElementById('live').textContent);
  const first = await words();
  await app.page.evaluate(() => globalThis.mirror.announce('Ada is secure'));
  assert.notEqual(await words(), first);
  assert.equal(await app.announced(), 'Ada is secure');
  assert.equal(await app.page.getAttribute('#live', 'aria-live'), 'polite');
});
