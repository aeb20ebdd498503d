// @ts-check
/** The app while storage fails, is cleared or is damaged: it goes on, says so, and heals. */
import assert from 'node:assert/strict';
import { appendFileSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, test } from 'node:test';

import { openLab } from './harness.mjs';

/** @type {import('./harness.mjs').Lab} */
let lab;
before(async () => { lab = await openLab(); });
after(() => lab.close());

/** Storage is opened again ten seconds after it failed. */
const PATIENCE = { timeout: 30_000 };

/** @param {import('./hands.mjs').Hands} app @param {string|RegExp} words */
const reads = (app, words) =>
  app.page.locator('#mirror').getByText(words).first().waitFor({ state: 'attached', ...PATIENCE });

const breakOpening = () => {
  const { open } = IDBFactory.prototype;
  Object.assign(globalThis, { broken: true });
  IDBFactory.prototype.open = function (...given) {
    if (/** @type {any} */ (globalThis).broken) throw new DOMException('no', 'UnknownError');
    return open.apply(this, given);
  };
};

test('storage that cannot be opened: in memory, and stored as soon as it works', async () => {
  const app = await lab.open({ before: breakOpening });
  await reads(app, /^Nothing is kept on this device/);
  await app.tap('button', /demo class/);
  await app.see('button', 'Save a file');
  await app.page.evaluate(() => { Object.assign(globalThis, { broken: false }); });
  await reads(app, 'Saved on this device');
  await app.gone('button', 'Save a file');
  const again = await lab.tab(app);
  await again.see('button', /take over/i);
  await app.page.close();
  await again.reload();
  await again.see('button', 'To the lesson');
});

test('what was stored is cleared in mid-lesson: it goes on, and everything is stored anew',
  async () => {
    const app = await lab.open();
    await app.startDemoRound();
    await app.read('Saved on this device');
    await app.page.evaluate(() => new Promise((done) => {
      indexedDB.deleteDatabase('tallyround').onsuccess = done;
    }));
    const [name] = (await app.names('button')).filter((n) => /: stuck$/.test(n));
    await app.tap('button', name);
    await reads(app, /What was stored here has been cleared/);
    await app.read(/^Round 1 of/);
    await reads(app, 'Saved on this device');
    await app.reload();
    await app.read(/^Round 1 of/);
    await app.tap('button', 'Lesson menu');
    const listed = (await app.names('button')).filter((n) => n.startsWith('Take back'));
    assert.equal(listed.length, 1);
  });

test('a damaged record is named, the rest is there, and a file has what was found', async () => {
  const app = await lab.open();
  await app.tap('button', /demo class/);
  await app.read('Saved on this device');
  await app.page.evaluate(() => new Promise((done) => {
    indexedDB.open('tallyround').onsuccess = ({ target }) => {
      const { result: db } = /** @type {IDBOpenDBRequest} */ (target);
      const tx = db.transaction('journal', 'readwrite');
      const store = tx.objectStore('journal');
      store.get(30).onsuccess = (event) => {
        const { result } = /** @type {IDBRequest} */ (event.target);
        store.put({ ...result, data: `${result.data} ` }, 30);
      };
      tx.oncomplete = () => { db.close(); done(null); };
    };
  }));
  await app.reload();
  await reads(app, /^1 stored entry was damaged and set aside/);
  assert.deepEqual(await app.axe(), []);
  const { name, bytes } = await app.download('button', 'Save a file');
  assert.equal(name, 'tallyround-stored.json');
  const file = JSON.parse(bytes.toString());
  assert.deepEqual(file.aside.map((/** @type {any} */ [, { key, why }]) => [key, why]),
    [[30, 'does not match its checksum']]);
  await app.gone('button', 'Save a file');
  await app.reload();
  assert.equal(await app.find('button', 'Save a file').count(), 0);
  await app.tap('button', 'Settings and files');
  await app.see('button', 'Save all that is stored');
});

test('a hundred megabytes of another app: said without reading them, nothing changed', async () => {
  const app = await lab.open();
  await app.tap('button', /demo class/);
  await app.tap('button', 'Settings and files');
  const file = join(mkdtempSync(join(tmpdir(), 'tallyround-')), 'places.json');
  writeFileSync(file, '{"type":"FeatureCollection","features":[0');
  for (let i = 0; i < 100; i++) appendFileSync(file, ',[10.5,47.1]'.repeat(90_000));
  appendFileSync(file, ']}');
  await app.choose('button', 'Open plan file', file);
  await app.hear(/^places\.json: This is not a plan file/);
  const plan = await app.download('button', 'Save plan file');
  assert.ok(JSON.parse(plan.bytes.toString()).events.length > 30);
  rmSync(file);
});
