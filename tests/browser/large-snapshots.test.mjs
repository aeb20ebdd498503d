// @ts-check
/** Snapshots of several pieces: journal-images.mjs under journal.mjs, in Chromium's IndexedDB. */
import assert from 'node:assert/strict';
import { beforeEach, test } from 'node:test';

import { storagePages } from './storage-page.mjs';

const MIB = 1 << 20;

const openPage = storagePages();
/** @type {import('playwright-core').Page} */
let page;

beforeEach(async () => {
  page = await openPage();
  await page.evaluate(() => {
    /** So many bytes, others for each seed. */
    const bytesOf = (length, seed) => {
      let state = seed;
      return Uint8Array.from({ length }, () => {
        state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
        return state >>> 24;
      });
    };
    /** The lengths of the pieces in each place. */
    const pieces = async () => {
      const names = await reach((store) => store('parts').getAllKeys());
      const all = await reach((store) => store('parts').getAll());
      const places = {};
      names.forEach((name, i) => {
        const [slot, through] = name.split(' ');
        (places[`${slot} ${through}`] ??= []).push(all[i].length);
      });
      return places;
    };
    /** What is read, the snapshot as its length and checksum. */
    const read = async () => {
      const held = await new Journal().read();
      const { snapshot } = held;
      return { ...held, snapshot: snapshot && [snapshot.length, crc32(snapshot)] };
    };
    /** How many bytes the largest value has that was put since. */
    const watchPuts = () => {
      const { put } = IDBObjectStore.prototype;
      const seen = { largest: 0 };
      IDBObjectStore.prototype.put = function watched(value, key) {
        seen.largest = Math.max(seen.largest, value?.data?.length ?? 0,
          value?.buffer?.byteLength ?? 0);
        return put.call(this, value, key);
      };
      return seen;
    };
    Object.assign(globalThis, { bytesOf, pieces, read, watchPuts });
  });
});

/** Names that `storagePages` and `beforeEach` put into the page. */
const { Journal, crc32, seal, sealImageNow, writer, bytesOf, reach, pieces, read,
  watchPuts } = /** @type {any} */ ({});

test('a large snapshot is put in pieces, none over a mebibyte, and comes back whole', async () => {
  const result = await page.evaluate(async () => {
    const large = bytesOf(3.5 * 2 ** 20, 1);
    const journal = await writer();
    const seen = watchPuts();
    await journal.writeSnapshot(2, large);
    const one = [await pieces(), await read()];
    await journal.writeSnapshot(4, bytesOf(2 ** 20, 2));
    const two = await pieces();
    await journal.writeSnapshot(6, bytesOf(2 ** 20 + 1, 3));
    const three = await read();
    await journal.writeSnapshot(8, bytesOf(2 ** 20 + 2, 4));
    return { one, two, three, four: [await pieces(), await read()], largest: seen.largest,
      sums: [crc32(large), crc32(bytesOf(2 ** 20 + 1, 3)), crc32(bytesOf(2 ** 20 + 2, 4))] };
  });
  const [large, third, fourth] = result.sums;
  assert.deepEqual(result.one[0], { 'a 2': [MIB, MIB, MIB, MIB / 2] });
  assert.deepEqual(result.one[1].snapshot, [3.5 * MIB, large]);
  assert.deepEqual(result.two, result.one[0], 'one of a mebibyte has no pieces');
  assert.deepEqual([result.three.snapshot, result.three.through], [[MIB + 1, third], 6]);
  assert.deepEqual(result.four[0], { 'a 6': [MIB, 1], 'b 8': [MIB, 2] }, 'old pieces go');
  assert.deepEqual([result.four[1].snapshot, result.four[1].damage], [[MIB + 2, fourth], []]);
  assert.equal(result.largest, MIB);
});

test('a piece that is changed or gone: the snapshot is named, the older one is read', async () => {
  for (const how of ['changed', 'gone', 'of the other']) {
    const { held, aside, later } = await page.evaluate(async (harm) => {
      const journal = await writer();
      const start = (await read()).lastKey;
      const older = bytesOf(2.5 * 2 ** 20, 4);
      await journal.writeSnapshot(start + 2, older);
      await journal.writeSnapshot(start + 4, bytesOf(2.5 * 2 ** 20, 5));
      await journal.append(start + 5, 'five');
      const images = await reach((store) => store('images').getAll());
      const [second, last] = images.sort((x, y) => x.through - y.through)
        .map(({ place }) => `${place} 00001`);
      const piece = await reach((store) => store('parts').get(last));
      const other = await reach((store) => store('parts').get(second));
      piece[77] ^= 1;
      await reach((store) => harm === 'gone' ? store('parts').delete(last)
        : store('parts').put(harm === 'changed' ? piece : other, last));
      const found = await read();
      const again = await writer();
      await again.writeSnapshot(start + 5, bytesOf(1.5 * 2 ** 20, 6));
      return { held: { ...found, what: [found.snapshot[1] === crc32(older), start] },
        aside: await reach((store) => store('aside').count()),
        later: { ...await read(), sum: crc32(bytesOf(1.5 * 2 ** 20, 6)) } };
    }, how);
    assert.equal(held.what[0], true, how);
    assert.deepEqual(held.damage.filter(({ what }) => what === 'snapshot').length, 1, how);
    assert.ok(held.records.includes('five'), how);
    assert.ok(aside > 0, how);
    assert.deepEqual([later.snapshot[1], later.damage], [later.sum, []], how);
  }
});

test('what is stored anew, or in both places, is in pieces in both; the records go', async () => {
  const result = await page.evaluate(async () => {
    const journal = await writer();
    await journal.append(1, 'one');
    await journal.writeSnapshot(3, bytesOf(1.5 * 2 ** 20, 7), true);
    const both = await pieces();
    await journal.rewrite({ through: 3, bytes: bytesOf(1.25 * 2 ** 20, 8) });
    return { both, anew: await pieces(), held: await read(),
      sum: crc32(bytesOf(1.25 * 2 ** 20, 8)) };
  });
  const inBoth = (/** @type {number} */ rest) => ({ 'a 3': [MIB, rest], 'b 3': [MIB, rest] });
  assert.deepEqual(result.both, inBoth(MIB / 2));
  assert.deepEqual(result.anew, inBoth(MIB / 4));
  assert.deepEqual([result.held.snapshot[1], result.held.records, result.held.damage],
    [result.sum, [], []]);
});

test('a store of version 2, its snapshots one value each, opens and goes on', async () => {
  const result = await page.evaluate(async () => {
    const images = [bytesOf(1.5 * 2 ** 20, 9), bytesOf(2.5 * 2 ** 20, 10)];
    await reach((store) => {
      store('images').put(sealImageNow(3, images[0]), 'a');
      store('images').put(sealImageNow(5, images[1]), 'b');
      for (const key of [4, 5, 6]) store('journal').put(seal(key, key, key, `record ${key}`), key);
      store('settings').put(seal(6, 6, 6, ''), 'last');
      store('settings').put(3, 'writer');
      return store('settings').put('{"look":"dark"}', 'preferences');
    }, 2, (db) => {
      for (const store of ['settings', 'journal', 'images', 'aside']) db.createObjectStore(store);
    });
    const journal = await writer();
    const held = await read();
    await journal.append(7, 'record 7');
    await journal.writeSnapshot(7, bytesOf(2.5 * 2 ** 20, 11));
    return { held, sum: crc32(images[1]), pieces: await pieces(), later: await read() };
  });
  assert.deepEqual([result.held.snapshot[1], result.held.through, result.held.records,
    result.held.preferences, result.held.damage, result.held.lastKey],
  [result.sum, 5, ['record 6'], '{"look":"dark"}', [], 6]);
  assert.deepEqual(result.pieces, { 'a 7': [MIB, MIB, MIB / 2] });
  assert.deepEqual([result.later.through, result.later.records, result.later.damage],
    [7, [], []]);
});
