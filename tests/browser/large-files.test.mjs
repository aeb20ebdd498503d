// @ts-check
/** Plan files just large enough to come in pieces and to be made in parts. */
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, test } from 'node:test';

import { openLab } from './harness.mjs';
import { CODE, setPasscode } from './passcode.mjs';

/** @type {import('./harness.mjs').Lab} */
let lab;
/** @type {string} */
let folder;
before(async () => {
  folder = mkdtempSync(join(tmpdir(), 'tallyround-large-'));
  lab = await openLab();
});
after(async () => {
  rmSync(folder, { recursive: true });
  await lab.close();
});

/** A plan file as the app itself writes it: a class with one student and so many marks. More than
 *  two megabytes and more than 5,000 events. @param {number} marks */
function planOf(marks) {
  const event = (/** @type {number} */ i, /** @type {string} */ kind, /** @type {object} */ rest) =>
    JSON.stringify({ at: [1796000000000 + 1000 * i, 0], by: 'large', n: i + 1, kind, class: 'c1',
      ...rest });
  const lines = [event(0, 'class_made', { name: 'Room 30', grade: 6 }),
    event(1, 'student_added', { student: 's1', name: 'Ada' })];
  for (let i = 2; i < marks + 2; i += 1) {
    lines.push(event(i, 'marked', { block: 'the-first-block', student: 's1',
      skill: 'a-skill-of-this-class', center: 'the-first-center', round: 1, level: 'secure' }));
  }
  const bare = join(folder, 'lines');
  writeFileSync(bare, lines.join('\n'));
  // XXH3-128 of the events' texts, by Debian's xxhash.
  const [checksum] = execFileSync('xxhsum', ['-H2', bare], { encoding: 'utf8' }).split(' ');
  return `{"format":"tallyround-plan","version":1,"app":"tallyround","checksum":"${checksum}",\n` +
    `"events":[\n${lines.join(',\n')}\n]}\n`;
}

/** @param {string} text */
function fileOf(text) {
  const file = join(folder, 'ten-years.json');
  writeFileSync(file, text);
  return file;
}

/** Every piece of a file takes so long, and every frame. @param {import('./hands.mjs').Hands} app
 *  @param {number} ms */
async function slowly(app, ms) {
  await app.page.evaluate((wait) => {
    const { arrayBuffer } = Blob.prototype;
    Blob.prototype.arrayBuffer = async function slow() {
      await new Promise((done) => { setTimeout(done, wait); });
      return arrayBuffer.call(this);
    };
    const frame = requestAnimationFrame.bind(globalThis);
    globalThis.requestAnimationFrame = (draw) => Number(setTimeout(() => frame(draw), wait));
  }, ms);
}

/** Activates it as a screen reader does. @param {import('./hands.mjs').Hands} app
 *  @param {string} name */
async function press(app, name) {
  await (await app.see('button', name)).evaluate((e) => /** @type {HTMLElement} */ (e).click());
}

const MARKS = 15000;

test('a large plan file comes in piece by piece and goes out in parts, byte for byte', async () => {
  const app = await lab.open();
  const text = planOf(MARKS);
  assert.ok(text.length > 2.2 * 2 ** 20, `${text.length}`);
  await app.choose('button', 'Open a plan file', fileOf(text));
  await app.hear(/ten-years\.json: 15002 entries brought in\./);
  await app.tap('button', 'Settings and files');
  const saved = await app.download('button', 'Save plan file');
  assert.ok(saved.bytes.equals(Buffer.from(text)), `${saved.bytes.length} of ${text.length}`);
  await app.hear(/^Plan file made: tallyround-plan-/);
  // What is here already takes no room and changes nothing.
  await app.choose('button', 'Open plan file', fileOf(text));
  await app.hear(/Everything in ten-years\.json was here already\./);
  assert.deepEqual(app.complaints, []);
});

test('reading and making a large file can be given up; nothing of it is left', async () => {
  const app = await lab.open();
  const text = planOf(MARKS);
  await slowly(app, 300);
  const [chooser] = await Promise.all([app.page.waitForEvent('filechooser'),
    press(app, 'Open a plan file')]);
  await chooser.setFiles(fileOf(text));
  await app.read(/^Reading the plan file: \d+ %$/);
  await press(app, 'Cancel');
  await app.hear(/ten-years\.json was not brought in\. Nothing here was changed\./);
  await app.see('button', 'Start with your class');
  await app.reload();
  await app.choose('button', 'Open a plan file', fileOf(text));
  await app.hear(/15002 entries brought in/);
  await app.tap('button', 'Settings and files');
  await slowly(app, 300);
  let downloads = 0;
  app.page.on('download', () => { downloads += 1; });
  await press(app, 'Save plan file');
  await app.hear(/^Making the plan file\.$/);
  await app.read(/^Making the plan file: \d+ %$/);
  await press(app, 'Cancel');
  await app.hear(/^The plan file was not made\.$/);
  await app.gone('button', 'Cancel');
  assert.equal(downloads, 0);
});

test('a large file that is broken at its end leaves everything as it was', async () => {
  const app = await lab.open();
  const text = planOf(MARKS);
  const last = text.lastIndexOf('secure');
  for (const [broken, said] of [
    [text.slice(0, -200), /ten-years\.json: line 15004, column \d+: The JSON text ends too early/],
    [`${text.slice(0, last)}stuck${text.slice(last + 6)}`, /does not match|do not match/],
    [`${text.slice(0, last)}sekure${text.slice(last + 6)}`, /\/events\/15001\/level/],
  ]) {
    await app.choose('button', 'Open a plan file', fileOf(String(broken)));
    await app.hear(/** @type {RegExp} */ (said));
    await app.see('button', 'Start with your class');
  }
  await app.reload();
  await app.see('button', 'Start with your class');
});

/** A device with a passcode makes a plan file. @param {string} text what it holds */
async function sealedPlan(text) {
  const app = await lab.open();
  await app.choose('button', 'Open a plan file', fileOf(text));
  await app.hear(/15002 entries brought in/);
  await setPasscode(app);
  const { name, bytes } = await app.download('button', 'Save plan file');
  assert.match(name, /\.sealed\.json$/);
  assert.deepEqual(app.complaints, []);
  return bytes.toString();
}

test('a large plan file is sealed while it is made, and opened in pieces', async () => {
  const text = planOf(MARKS);
  const sealed = await sealedPlan(text);
  assert.deepEqual([JSON.parse(sealed).version, /"Ada"|secure/.test(sealed)], [2, false]);
  const app = await lab.open();
  const tryWith = async (/** @type {string} */ passcode) => {
    await app.type('Passcode of the file', passcode);
    await app.tap('button', 'Open the file');
  };
  await app.choose('button', 'Open a plan file', fileOf(sealed));
  await tryWith('four words of chalc');
  await app.read('This is not the passcode.');
  await tryWith(CODE);
  await app.hear(/ten-years\.json: 15002 entries brought in\./);
  await app.gone('textbox', 'Passcode of the file');
  await app.tap('button', 'Settings and files');
  const opened = await app.download('button', 'Save plan file');
  assert.ok(opened.bytes.equals(Buffer.from(text)), `${opened.bytes.length} of ${text.length}`);
  assert.deepEqual(app.complaints, []);
});

test('a large sealed file that is broken at its end leaves everything as it was', async () => {
  const sealed = await sealedPlan(planOf(MARKS));
  const app = await lab.open();
  // Not at a box's very end, where bits of the last character may stand for nothing.
  const changed = sealed.lastIndexOf('"') - 100;
  const other = sealed[changed] === 'A' ? 'B' : 'A';
  for (const [broken, said] of /** @type {[string, RegExp][]} */ ([
    [`${sealed.slice(0, changed)}${other}${sealed.slice(changed + 1)}`,
      /could not be read\. The file is damaged/],
    [sealed.slice(0, sealed.lastIndexOf(',')), /could not be read\. The file is cut short/],
  ])) {
    await app.choose('button', 'Open a plan file', fileOf(broken));
    await app.type('Passcode of the file', CODE);
    await app.tap('button', 'Open the file');
    await app.hear(said);
    await app.see('button', 'Start with your class');
  }
});
