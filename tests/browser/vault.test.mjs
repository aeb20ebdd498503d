// @ts-check
/** The sealed journal by itself, in Chromium's IndexedDB; Node's crypto opens what it sealed. */
import assert from 'node:assert/strict';
import { pbkdf2Sync } from 'node:crypto';
import { beforeEach, test } from 'node:test';

import { openWithNode } from '../unit/web-shell/seals.mjs';
import { CODE } from './passcode.mjs';
import { storagePages } from './storage-page.mjs';

const openPage = storagePages();
/** @type {import('playwright-core').Page} */
let page;

beforeEach(async () => {
  page = await openPage();
  await page.evaluate(async () => {
    const { SealedJournal } = await import(String('/sealed-journal.mjs'));
    const outcome = (promise) => promise.then(() => 'done', (error) => error.message);
    const writer = async (passcode) => {
      const journal = new SealedJournal();
      await journal.claim();
      if (await journal.look()) await journal.vault.open(passcode);
      const held = await journal.read();
      return { journal, held: { ...held, snapshot: text(held.snapshot) } };
    };
    /** Everything in the database, as JSON; bytes as an array. */
    const stored = () => new Promise((done) => {
      indexedDB.open('tallyround').onsuccess = async ({ target }) => {
        const { result: db } = /** @type {IDBOpenDBRequest} */ (target);
        const all = {};
        for (const name of db.objectStoreNames) {
          const tx = db.transaction(name);
          const ask = (how) => new Promise((ok) => {
            tx.objectStore(name)[how]().onsuccess = (event) => ok(event.target.result);
          });
          const [keys, values] = await Promise.all([ask('getAllKeys'), ask('getAll')]);
          all[name] = keys.map((key, i) => [key, values[i]]);
        }
        db.close();
        done(JSON.parse(JSON.stringify(all, (_, value) =>
          value instanceof Uint8Array ? { text: text(value), bytes: [...value] } : value)));
      };
    });
    Object.assign(globalThis, { SealedJournal, outcome, writer, stored });
  });
});

/** Names that `storagePages` and `beforeEach` put into the page. */
const { bytes, text, outcome, seal, sealImageNow, writer, stored } = /** @type {any} */ ({});

/** A journal with a passcode, a snapshot and two records after it. */
const sealedDevice = async (passcode) => {
  const { journal } = await writer();
  for (let key = 1; key <= 3; key++) await journal.append(key, `Wren ${key}`);
  await journal.writePreferences('{"class":"Wren"}');
  await journal.changePasscode('', passcode, 3, bytes('snapshot of Wren'));
  await journal.append(4, 'Wren 4');
  await journal.append(5, 'Wren 5');
};

/** @param {string} code */
async function device(code = CODE) {
  await page.evaluate(sealedDevice, code);
}

test('with a passcode nothing stored is readable, and all of it comes back', async () => {
  const before = await page.evaluate(async () => {
    const { journal } = await writer();
    await journal.append(1, 'Wren 1');
    return JSON.stringify(await stored());
  });
  assert.match(before, /Wren/, 'the check would see a name');
  await device();
  assert.doesNotMatch(JSON.stringify(await page.evaluate(() => stored())), /Wren/);
  const { held } = await page.evaluate(async (code) => ({ held: (await writer(code)).held }), CODE);
  assert.equal(held.snapshot, 'snapshot of Wren');
  assert.deepEqual(held.records, ['Wren 4', 'Wren 5']);
  assert.equal(held.preferences, '{"class":"Wren"}');
});

test('Node’s crypto opens every seal with the passcode alone', async () => {
  await device();
  const all = await page.evaluate(() => stored());
  const settings = Object.fromEntries(all.settings);
  const lock = settings.lock;
  assert.ok(lock.rounds >= 600000);
  const kek = pbkdf2Sync(CODE, Buffer.from(lock.salt.bytes), lock.rounds, 32, 'sha256');
  const key = openWithNode(kek, 'key', Buffer.from(lock.key.bytes));
  const text = (/** @type {string} */ sealed) =>
    Buffer.from(sealed.replace(/^sealed:/, ''), 'base64');
  const records = Object.fromEntries(all.journal);
  assert.equal(openWithNode(key, 'record 4', text(records[4].data)).toString(), 'Wren 4');
  assert.equal(openWithNode(key, 'preferences', text(settings.preferences)).toString(),
    '{"class":"Wren"}');
  for (const [, snapshot] of all.images) {
    assert.equal(openWithNode(key, 'snapshot 3', Buffer.from(snapshot.data.bytes)).toString(),
      'snapshot of Wren');
  }
  assert.equal(all.images.length, 2);
});

test('a wrong passcode opens nothing; the right one afterwards does', async () => {
  await device();
  const said = await page.evaluate(async (code) => {
    const wrong = await outcome(writer('four words of chalc'));
    return [wrong, (await writer(code)).held.records.length];
  }, CODE);
  assert.deepEqual(said, ['This is not the passcode.', 2]);
});

test('a changed, a swapped and a smuggled record are named and the others read', async () => {
  await device();
  const records = await page.evaluate(async (code) => {
    await new Promise((done) => {
      indexedDB.open('tallyround').onsuccess = ({ target }) => {
        const { result: db } = /** @type {IDBOpenDBRequest} */ (target);
        const tx = db.transaction('journal', 'readwrite');
        const store = tx.objectStore('journal');
        // With checksums that hold: whoever can write there can make those, too.
        const put = (key, data) => store.put(seal(key, key, key, data), key);
        store.get(4).onsuccess = (event) => {
          const four = event.target.result.data;
          put(6, four);  // another place
          put(7, `${four.slice(0, -6)}AAAA==`);  // changed bits
          put(8, 'Wren by hand');  // not sealed
        };
        tx.oncomplete = () => { db.close(); done(null); };
      };
    });
    return (await writer(code)).held.records;
  }, CODE);
  assert.deepEqual(records.slice(0, 2), ['Wren 4', 'Wren 5']);
  for (const [i, number] of [[2, 6], [3, 7], [4, 8]]) {
    assert.match(records[i], new RegExp(`record ${number} is damaged or was changed`));
  }
});

test('a newest snapshot that does not open: the older one and the records since are read',
  async () => {
    await device();
    const [found, later] = await page.evaluate(async (code) => {
      const one = (await writer(code)).journal;
      await one.writeSnapshot(4, bytes('Wren to four'));
      await one.append(6, 'Wren 6');
      await new Promise((done) => {
        indexedDB.open('tallyround').onsuccess = ({ target }) => {
          const { result: db } = /** @type {IDBOpenDBRequest} */ (target);
          const tx = db.transaction('images', 'readwrite');
          const store = tx.objectStore('images');
          store.openCursor().onsuccess = (event) => {
            const cursor = event.target.result;
            if (!cursor) return;
            const { through, data } = cursor.value;
            // Changed by somebody who can make the checksum fit, too, but not the seal.
            data[20] ^= 1;
            if (through === 4) cursor.update(sealImageNow(4, data));
            cursor.continue();
          };
          tx.oncomplete = () => { db.close(); done(null); };
        };
      });
      const { journal, held } = await writer(code);
      await journal.append(7, 'Wren 7');
      await journal.writeSnapshot(7, bytes('Wren to seven'));
      return [held, (await writer(code)).held];
    }, CODE);
    assert.deepEqual([found.snapshot, found.through], ['snapshot of Wren', 3]);
    assert.deepEqual(found.records, ['Wren 4', 'Wren 5', 'Wren 6']);
    assert.deepEqual(found.damage.map(({ what, why }) => [what, why]),
      [['snapshot', 'does not open with the passcode']]);
    assert.deepEqual([later.snapshot, later.records, later.damage], ['Wren to seven', [], []]);
  });

test('no snapshot opens: that is said, and the records since are read', async () => {
  await device();
  const held = await page.evaluate(async (code) => {
    await new Promise((done) => {
      indexedDB.open('tallyround').onsuccess = ({ target }) => {
        const { result: db } = /** @type {IDBOpenDBRequest} */ (target);
        const tx = db.transaction('images', 'readwrite');
        for (const name of ['a', 'b']) {
          tx.objectStore('images').put(sealImageNow(3, bytes('Wren by hand')), name);
        }
        tx.oncomplete = () => { db.close(); done(null); };
      };
    });
    return (await writer(code)).held;
  }, CODE);
  assert.match(held.snapshot, /broken seal/);
  assert.doesNotMatch(held.snapshot, /by hand/, 'nothing that is not sealed gets in');
  assert.deepEqual(held.records, ['Wren 4', 'Wren 5']);
});

test('a new passcode seals the key alone anew; taking it away opens everything', async () => {
  await device();
  const [before, changed, old, open_, plain] = await page.evaluate(async (code) => {
    const before = await stored();
    const { journal } = await writer(code);
    const refused = await outcome(journal.changePasscode('guess', 'mine', 5, bytes('x')));
    if (refused === 'done') throw new Error('a guess was taken');
    await journal.changePasscode(code, 'another one', 5, bytes('not needed'));
    await journal.append(6, 'Wren 6');
    const changed = await stored();
    const old = await outcome(writer(code));
    const again = await writer('another one');
    await again.journal.changePasscode('another one', '', 6, bytes('all of Wren'));
    await again.journal.append(7, 'Wren 7');
    return [before, changed, old, again.held, (await writer()).held];
  }, CODE);
  assert.deepEqual(changed.images, before.images);
  assert.equal(old, 'This is not the passcode.');
  assert.deepEqual(open_.records, ['Wren 4', 'Wren 5', 'Wren 6']);
  assert.equal(plain.snapshot, 'all of Wren');
  assert.deepEqual(plain.records, ['Wren 7']);
  assert.equal(plain.preferences, '{"class":"Wren"}');
});

test('records written while a passcode is being set are sealed, in order, none lost', async () => {
  const held = await page.evaluate(async (code) => {
    const { journal } = await writer();
    await journal.append(1, 'Wren 1');
    const setting = journal.changePasscode('', code, 1, bytes('one'));
    const during = [2, 3, 4].map((key) => journal.append(key, `Wren ${key}`));
    await Promise.all([setting, ...during]);
    const text = JSON.stringify(await stored());
    return { ...(await writer(code)).held, named: text.includes('Wren') };
  }, CODE);
  assert.deepEqual(held.records, ['Wren 2', 'Wren 3', 'Wren 4']);
  assert.equal(held.snapshot, 'one');
  assert.equal(held.named, false);
});

test('a passcode that cannot be stored: everything stays as it was', async () => {
  const result = await page.evaluate(async (code) => {
    const { journal } = await writer();
    await journal.append(1, 'Wren 1');
    const plain = IDBObjectStore.prototype.put;
    IDBObjectStore.prototype.put = function (...given) {
      if (this.name === 'images') throw new DOMException('full', 'QuotaExceededError');
      return plain.apply(this, given);
    };
    addEventListener('error', (event) => event.preventDefault());
    const refused = await outcome(journal.changePasscode('', code, 1, bytes('one')));
    IDBObjectStore.prototype.put = plain;
    const after = await outcome(journal.append(2, 'Wren 2'));
    return { refused, after, held: (await writer()).held };
  }, CODE);
  assert.notEqual(result.refused, 'done');
  assert.equal(result.after, 'done');
  assert.deepEqual(result.held.records, ['Wren 1', 'Wren 2']);
});

test('deleting for good leaves one snapshot in both places and no old record', async () => {
  const [before, now] = await page.evaluate(async () => {
    const { journal } = await writer();
    for (let key = 1; key <= 4; key++) await journal.append(key, `Quillon ${key}`);
    await journal.writeSnapshot(2, bytes('Quillon two'));
    await journal.writeSnapshot(3, bytes('Quillon three'));
    const before = JSON.stringify(await stored());
    await journal.append(5, 'tombstone');
    await journal.rewriteAll(5, bytes('class without'));
    await journal.append(6, 'next');
    return [before, await stored()];
  });
  assert.match(before, /Quillon/);
  assert.doesNotMatch(JSON.stringify(now), /Quillon|tombstone/);
  assert.deepEqual(now.journal.map(([key]) => key), [6]);
  assert.deepEqual(now.images.map(([, { data }]) => data.text),
    ['class without', 'class without']);
});
