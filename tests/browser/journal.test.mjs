// @ts-check
/** Storage by itself: journal.mjs and lock.mjs in an empty page, against Chromium's IndexedDB. */
import assert from 'node:assert/strict';
import { beforeEach, test } from 'node:test';

import { storagePages } from './storage-page.mjs';

const openPage = storagePages();
/** @type {import('playwright-core').Page} */
let page;

beforeEach(async () => {
  page = await openPage();
  await page.evaluate(() => {
    const read = async () => {
      const held = await new Journal().read();
      return { ...held, snapshot: text(held.snapshot) };
    };
    Object.assign(globalThis, { read });
  });
});

/** Names that `storagePages` and `beforeEach` put into the page. */
const { Journal, WriterLock, crc32, writer, outcome, bytes, read, reach } =
  /** @type {any} */ ({});

test('CRC-32 gives the check value of its catalogue entry (CRC-32/ISO-HDLC)', async () => {
  assert.equal(await page.evaluate(() => crc32(bytes('123456789'))), 0xcbf43926);
});

test('an empty device holds nothing', async () => {
  assert.deepEqual(await page.evaluate(() => read()),
    { snapshot: null, through: 0, records: [], keys: [], lastKey: 0, preferences: '', damage: [],
      aside: 0 });
});

test('records come back in order, after a handle was closed too', async () => {
  const held = await page.evaluate(async () => {
    const journal = await writer();
    await Promise.all([1, 2, 3].map((key) => journal.append(key, `record ${key}`)));
    journal.close();
    await journal.append(4, 'größer “4”');
    await journal.writePreferences('{"look":"dark"}');
    return read();
  });
  assert.deepEqual(held, { snapshot: null, through: 0, lastKey: 4, preferences: '{"look":"dark"}',
    damage: [], aside: 0, keys: [1, 2, 3, 4],
    records: ['record 1', 'record 2', 'record 3', 'größer “4”'] });
});

test('every write asks for strict durability', async () => {
  const asked = await page.evaluate(async () => {
    const plain = IDBDatabase.prototype.transaction;
    const modes = [];
    IDBDatabase.prototype.transaction = function (stores, mode, options) {
      if (mode === 'readwrite') modes.push(options?.durability);
      return plain.call(this, stores, mode, options);
    };
    const journal = await writer();
    await journal.append(1, 'a');
    await journal.writeSnapshot(1, bytes('s'));
    return modes;
  });
  assert.ok(asked.length >= 3);
  assert.deepEqual(new Set(asked), new Set(['strict']));
});

test('a snapshot replaces the records that both kept snapshots stand for', async () => {
  const [first, second] = await page.evaluate(async () => {
    const journal = await writer();
    for (let key = 1; key <= 4; key++) await journal.append(key, `${key}`);
    await journal.writeSnapshot(2, bytes('two'));
    const one = await read();
    await journal.writeSnapshot(4, bytes('four'));
    await journal.append(5, '5');
    return [one, await read()];
  });
  assert.deepEqual([first.snapshot, first.records], ['two', ['3', '4']]);
  assert.deepEqual([second.snapshot, second.records, second.lastKey], ['four', ['5'], 5]);
});

test('a damaged snapshot: the older one and the records since are read', async () => {
  const [held, later] = await page.evaluate(async () => {
    let journal = await writer();
    for (let key = 1; key <= 6; key++) await journal.append(key, `${key}`);
    await journal.writeSnapshot(2, bytes('two'));
    await journal.writeSnapshot(4, bytes('four'));
    const image = await reach((store) => store('images').get('b'));
    await reach((store) => store('images').put({ ...image, data: bytes('fouR') }, 'b'));
    const one = await read();
    journal = await writer();
    await journal.writeSnapshot(6, bytes('six'));
    await journal.append(7, '7');
    return [one, await read()];
  });
  assert.deepEqual([held.snapshot, held.through, held.records], ['two', 2, ['3', '4', '5', '6']]);
  assert.deepEqual(held.damage.map(({ what, key }) => [what, key]), [['snapshot', 'b']]);
  assert.deepEqual([later.snapshot, later.records], ['six', ['7']]);
});

test('a dead handle is reopened and the write tried once more', async () => {
  const result = await page.evaluate(async () => {
    const journal = await writer();
    const plain = IDBDatabase.prototype.transaction;
    let deaths = 1;
    IDBDatabase.prototype.transaction = function (...given) {
      if (deaths-- > 0) throw new DOMException('The connection is closing', 'InvalidStateError');
      return plain.apply(this, given);
    };
    return [await outcome(journal.append(1, 'a')), (await read()).records];
  });
  assert.deepEqual(result, ['stored', ['a']]);
});

test('a full device: plain words, nothing half stored, and no gap afterwards', async () => {
  const result = await page.evaluate(async () => {
    const journal = await writer();
    const plain = IDBObjectStore.prototype.put;
    let full = true;
    IDBObjectStore.prototype.put = function (...given) {
      if (full && this.name === 'journal') {
        this.transaction.abort();
        throw new DOMException('full', 'QuotaExceededError');
      }
      return plain.apply(this, given);
    };
    addEventListener('error', (event) => event.preventDefault());
    const refused = [outcome(journal.append(1, 'a')), outcome(journal.append(2, 'b'))];
    const first = await Promise.all(refused);
    full = false;
    const gap = await outcome(journal.append(3, 'c'));
    const again = await Promise.all([1, 2, 3].map((key) =>
      outcome(journal.append(key, 'abc'[key - 1]))));
    return { first, gap, again, records: (await read()).records };
  });
  assert.match(result.first[0], /no room|does not work/);
  assert.notEqual(result.first[1], 'stored');
  assert.equal(result.gap, result.first[0], 'it waits for the same, and says what that is');
  assert.deepEqual(result.again, ['stored', 'stored', 'stored']);
  assert.deepEqual(result.records, ['a', 'b', 'c']);
});

test('storage that does not answer is given up in time, and works again later', async () => {
  const result = await page.evaluate(async () => {
    const journal = await writer({ timeout: 300 });
    // A transaction of somebody else's that does not end keeps ours waiting.
    let release = false;
    await new Promise((done) => {
      indexedDB.open('tallyround').onsuccess = ({ target }) => {
        const { result: db } = /** @type {IDBOpenDBRequest} */ (target);
        const store = db.transaction(['journal', 'settings'], 'readwrite').objectStore('journal');
        const keep = () => { if (!release) store.get(0).onsuccess = keep; };
        keep();
        done(null);
      };
    });
    const started = performance.now();
    const during = await outcome(journal.append(1, 'a'));
    const waited = performance.now() - started;
    release = true;
    return { during, waited, after: await outcome(journal.append(1, 'a')) };
  });
  assert.match(result.during, /does not answer/);
  assert.ok(result.waited < 5000, `waited ${result.waited} ms`);
  assert.equal(result.after, 'stored');
});

test('who lost the place as writer cannot write, and is told', async () => {
  const result = await page.evaluate(async () => {
    const old = await writer();
    await old.append(1, 'a');
    let lost = 0;
    old.onlost = () => { lost++; };
    const now = await writer();
    const refused = await outcome(old.append(2, 'stale'));
    await now.append(2, 'b');
    return { refused, lost, records: (await read()).records };
  });
  assert.match(result.refused, /took over/);
  assert.equal(result.lost, 1);
  assert.deepEqual(result.records, ['a', 'b']);
});

test('the lock: one holder; taking it away is heard at once', async () => {
  const result = await page.evaluate(async () => {
    const first = new WriterLock();
    const second = new WriterLock();
    const heard = new Promise((done) => { first.onlost = () => done('lost'); });
    const got = [await first.acquire(), await second.acquire(), await second.steal()];
    return [...got, await heard, await new WriterLock().acquire()];
  });
  assert.deepEqual(result, [true, false, true, 'lost', false]);
});

test('the lock: who is free to have it has it, however busy the page is meanwhile', async () => {
  const result = await page.evaluate(async () => {
    const granted = new WriterLock().acquire();
    for (let i = 0; i < 6; i++) {
      const end = performance.now() + 200;
      while (performance.now() < end);
      await new Promise((done) => { setTimeout(done, 0); });
    }
    return granted;
  });
  assert.equal(result, true);
});

test('25,000 records: all are read, in order', async () => {
  const result = await page.evaluate(async () => {
    const journal = await writer();
    const writes = [];
    for (let key = 1; key <= 25000; key++) writes.push(journal.append(key, `${key}`.padEnd(200)));
    await Promise.all(writes);
    journal.close();
    const { records, lastKey } = await new Journal().read();
    return { count: records.length, lastKey,
      ordered: records.every((record, i) => Number(record) === i + 1) };
  });
  assert.deepEqual(result, { count: 25000, lastKey: 25000, ordered: true });
});

test('a damaged record: it is named and set aside, the others are read', async () => {
  const [first, second, raw] = await page.evaluate(async () => {
    const before = await writer();
    for (let key = 1; key <= 5; key++) await before.append(key, `record ${key}`);
    const sealed = await reach((store) => store('journal').get(3));
    await reach((store) => store('journal').put({ ...sealed, data: 'recorD 3' }, 3));
    const journal = new Journal();
    await journal.claim();
    const one = await journal.read();
    await journal.append(6, 'record 6');
    return [one, await read(), await journal.rawFile()];
  });
  assert.deepEqual(first.records, [1, 2, 4, 5].map((key) => `record ${key}`));
  assert.deepEqual(first.damage.map(({ what, key, why }) => [what, key, why]),
    [['record', 3, 'does not match its checksum']]);
  assert.deepEqual([second.records.length, second.damage, second.aside, second.lastKey],
    [5, [], 1, 6]);
  assert.deepEqual(JSON.parse(raw).aside.map(([, { key, data }]) => [key, data.data]),
    [[3, 'recorD 3']]);
});

test('missing records are named, the last ones too', async () => {
  const damage = await page.evaluate(async () => {
    const journal = await writer();
    for (let key = 1; key <= 6; key++) await journal.append(key, `${key}`);
    await reach((store) => {
      store('journal').delete(2);
      store('journal').delete(6);
    });
    return (await read()).damage;
  });
  assert.deepEqual(damage.map(({ key, why }) => [key, why]),
    [[2, 'is missing'], [6, 'is missing']]);
});

test('a store of version 1 is copied forward and kept until the first good start', async () => {
  const result = await page.evaluate(async () => {
    await reach((store) => {
      store('settings').put('{"look":"dark"}', 'preferences');
      store('settings').put(7, 'writer');
      store('settings').put({ a: { through: 2, crc: crc32(bytes('two')) },
        b: { through: 4, crc: crc32(bytes('four')) } }, 'slots');
      store('snapshots').put(bytes('two'), 'a');
      store('snapshots').put(bytes('four'), 'b');
      for (let key = 3; key <= 6; key++) store('records').put(`record ${key}`, key);
    }, 1, (db) => {
      for (const store of ['records', 'snapshots', 'settings']) db.createObjectStore(store);
    });
    const journal = new Journal();
    await journal.claim();
    const held = await journal.read();
    const kept = await reach((store) => store('records').count());
    await journal.append(7, 'record 7');
    await journal.startedWell();
    const left = await reach((store) => store('records').count());
    const slots = await reach((store) => store('settings').get('slots'));
    const { snapshot, records } = await read();
    return { held: { ...held, snapshot: null }, kept, left, slots, snapshot, records };
  });
  assert.deepEqual([result.held.through, result.held.records, result.held.preferences],
    [4, ['record 5', 'record 6'], '{"look":"dark"}']);
  assert.deepEqual(result.held.damage, []);
  assert.deepEqual([result.kept, result.left, result.slots], [4, 0, undefined]);
  assert.deepEqual([result.snapshot, result.records],
    ['four', ['record 5', 'record 6', 'record 7']]);
});

test('what was stored is cleared while the app runs: writes are refused and say so', async () => {
  const [refused, after] = await page.evaluate(async () => {
    const journal = await writer();
    await journal.append(1, 'a');
    await new Promise((done) => { indexedDB.deleteDatabase('tallyround').onsuccess = done; });
    const said = await outcome(journal.append(2, 'b'));
    await journal.claim();
    await journal.read();
    return [said, [await outcome(journal.append(1, 'a')), (await read()).records]];
  });
  assert.match(refused, /cleared/);
  assert.deepEqual(after, ['stored', ['a']]);
});

test('the raw file holds snapshots and records as they are', async () => {
  const file = JSON.parse(await page.evaluate(async () => {
    const journal = await writer();
    for (let key = 1; key <= 3; key++) await journal.append(key, `${key}`);
    await journal.writeSnapshot(2, bytes('two'));
    return new Journal().rawFile();
  }));
  assert.equal(file.format, 'tallyround-raw');
  assert.deepEqual(file.journal.map(([key, { data }]) => [key, data]),
    [[1, '1'], [2, '2'], [3, '3']]);
  assert.deepEqual(file.images.map(([key, { through, data }]) =>
    [key, through, atob(data.base64)]),
    [['a', 2, 'two']]);
});
