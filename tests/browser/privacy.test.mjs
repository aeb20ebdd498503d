// @ts-check
/** Deleting for good, the passcode and the lock, in the whole app. */
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';

import { openLab } from './harness.mjs';
import { CODE, privacy, setPasscode } from './passcode.mjs';

/** @type {import('./harness.mjs').Lab} */
let lab;
before(async () => { lab = await openLab(); });
after(() => lab.close());

/** @param {import('./hands.mjs').Hands} app @param {string} [names] */
async function makeClass(app, names = 'Quillon Marsh\nRowan Pell\nWren Alder\n') {
  await app.tap('button', 'Start with your class');
  await app.tap('button', 'Make the class');
  await app.type('Names, one a line', names);
  await app.tap('button', 'Add these names');
  await app.see('status', 'Saved on this device');
}

/** Everything in IndexedDB, bytes as Latin-1 text. @param {import('./hands.mjs').Hands} app */
const stored = (app) => app.page.evaluate(() => new Promise((done) => {
  indexedDB.open('tallyround').onsuccess = async ({ target }) => {
    const { result: db } = /** @type {IDBOpenDBRequest} */ (target);
    const all = [];
    for (const name of db.objectStoreNames) {
      all.push(await new Promise((ok) => {
        db.transaction(name).objectStore(name).getAll().onsuccess = (event) =>
          ok(/** @type {any} */ (event.target).result);
      }));
    }
    db.close();
    done(JSON.stringify(all, (_, value) => value instanceof Uint8Array
      ? String.fromCharCode(...value) : value));
  };
}));

/** @param {import('./hands.mjs').Hands} app @param {() => Promise<string>} text
 *  @param {RegExp} words @param {boolean} there */
async function until(app, text, words, there) {
  for (let tries = 0; tries < 100; tries++) {
    if (words.test(await text()) === there) return;
    await app.page.waitForTimeout(100);
  }
  assert.fail(`${words} is ${there ? 'not there' : 'still there'}`);
}

test('deleted for good: storage no longer holds the name, now and later', async () => {
  const app = await lab.open();
  await makeClass(app);
  await app.tap('button', 'Settings and files');
  const older = await app.download('button', 'Save plan file');
  assert.match(older.bytes.toString(), /Quillon/);
  await until(app, () => stored(app), /Quillon/, true);
  await app.tap('button', /^Back to/);
  await app.tap('button', /^1\. Students/);
  await app.tap('button', /^Quillon Marsh/);
  await app.tap('button', 'Delete for good');
  await app.tap('checkbox', 'I know that this is final');
  await app.tap('button', 'Delete for good');
  await until(app, () => stored(app), /Quillon/, false);
  await app.reload();
  assert.doesNotMatch(await app.mirror(), /Quillon/);
  // The older file does not bring them back.
  await app.tap('button', 'Settings and files');
  await app.choose('button', 'Open plan file',
    { name: 'older.json', mimeType: 'application/json', buffer: older.bytes });
  await app.read(/was here already/).catch(() => {});
  assert.doesNotMatch(String(await stored(app)), /Quillon/);
  const now = await app.download('button', 'Save plan file');
  assert.doesNotMatch(now.bytes.toString(), /Quillon/);
  assert.match(now.bytes.toString(), /Rowan Pell/);
});

test('a passcode: stored sealed; locked after a reload; wrong, then right', async () => {
  const app = await lab.open();
  await makeClass(app);
  await setPasscode(app);
  assert.doesNotMatch(String(await stored(app)), /Quillon|Rowan|My class/);
  await app.reload();
  await app.see('heading', 'Locked');
  assert.doesNotMatch(await app.mirror(), /Quillon|Rowan|My class/);
  assert.equal(await app.page.title(), 'Tallyround');
  assert.deepEqual(await app.axe(), []);
  const field = await app.see('textbox', 'Passcode');
  assert.equal(await field.getAttribute('type'), 'password');
  await app.type('Passcode', 'four words of chalc');
  await app.tap('button', 'Open');
  await app.read('This is not the passcode.');
  await app.type('Passcode', CODE);
  await app.tap('button', 'Open');
  await app.see('button', /^My class/);
  await app.tap('button', /^My class/);
  assert.deepEqual(app.complaints, []);
});

test('Lock now: nothing of the class is on screen, in the page or in the channel', async () => {
  const app = await lab.open();
  await makeClass(app);
  await setPasscode(app);
  const other = await lab.tab(app);
  await other.see('heading', 'Locked');
  await other.page.evaluate(() => {
    const heard = /** @type {unknown[]} */ ([]);
    Object.assign(globalThis, { heard });
    new BroadcastChannel('tallyround-records').onmessage = (event) => heard.push(event.data);
  });
  await app.tap('button', 'All classes');
  await app.tap('button', /^My class/);
  await app.tap('button', /^1\. Students/);
  await app.tap('button', /^Rowan Pell/);
  await app.type('Name', 'Rowan Quellmalz');
  await app.tap('button', 'Keep this name');
  await app.see('status', 'Saved on this device');
  const heard = JSON.stringify(await other.page.evaluate(() =>
    /** @type {any} */ (globalThis).heard));
  assert.match(heard, /sealed:/);
  assert.doesNotMatch(heard, /Rowan|Quellmalz/);
  await privacy(app);
  await app.tapToStartOver('button', 'Lock now');
  await app.see('heading', 'Locked');
  const page = await app.page.evaluate(() => document.documentElement.outerHTML);
  assert.doesNotMatch(page, /Rowan|Quellmalz|My class/);
});

test('hidden for the set time: locked when it is seen again', async () => {
  const app = await lab.open();
  await makeClass(app);
  await setPasscode(app);
  await app.tap('radio', '1 min');
  await app.page.evaluate(() => {
    const real = Date.now.bind(Date);
    let ahead = 0;
    Date.now = () => real() + ahead;
    let hidden = false;
    Object.defineProperty(document, 'hidden', { get: () => hidden });
    const turn = (/** @type {boolean} */ to) => {
      hidden = to;
      document.dispatchEvent(new Event('visibilitychange'));
    };
    turn(true);
    ahead = 59000;
    turn(false);
    Object.assign(globalThis, { stillHere: true });
    turn(true);
    ahead = 59000 + 61000;
    setTimeout(() => turn(false), 300);
  });
  await app.see('heading', 'Locked');
  await app.page.waitForFunction(() => /** @type {any} */ (globalThis).tallyround?.ready);
  assert.equal(await app.page.evaluate(() => 'stillHere' in globalThis), false);
});

test('a sealed plan file opens on another device with its passcode', async () => {
  const app = await lab.open();
  await makeClass(app);
  await setPasscode(app);
  const file = await app.download('button', 'Save plan file');
  assert.match(file.name, /\.sealed\.json$/);
  assert.doesNotMatch(file.bytes.toString(), /Quillon/);
  const other = await lab.open();
  const choose = { name: file.name, mimeType: 'application/json', buffer: file.bytes };
  await other.choose('button', 'Open a plan file', choose);
  await other.see('heading', 'This file is sealed');
  await other.type('Passcode of the file', 'not this one');
  await other.tap('button', 'Open the file');
  await other.read('This is not the passcode.');
  await other.type('Passcode of the file', CODE);
  await other.tap('button', 'Open the file');
  await other.see('button', /^My class/);
  assert.doesNotMatch(await other.mirror(), /sealed/);
});

test('forgotten: everything here is deleted, and the app starts over', async () => {
  const app = await lab.open();
  await makeClass(app);
  await setPasscode(app);
  await app.reload();
  await app.see('heading', 'Locked');
  await app.tap('checkbox', 'Yes, delete everything here');
  await app.tapToStartOver('button', 'Delete it and start over');
  await app.see('button', 'Start with your class');
});
