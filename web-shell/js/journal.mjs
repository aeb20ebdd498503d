// @ts-check
/**
 * What the device keeps: the journal's records, two alternating snapshots and this device's
 * preferences, in IndexedDB (the stores: journal-db.mjs). Every write is one 'strict' transaction;
 * writes go in order; every call has a time limit; a handle that died (WebKit drops them in the
 * background) is reopened and the call tried once more.
 *
 * Records and snapshots carry checksums. What does not match is moved to the store `aside`, named
 * in `Held.damage`, and part of `rawFile`: nothing is dropped without a word. Records go only
 * after the snapshot that stands for them has been read back whole.
 *
 * `writer` is raised by each tab that starts to write, and checked in every write: a tab that lost
 * its place can never write behind the new one's back, however late it wakes up.
 */

import { putAnew } from './journal-anew.mjs';
import { fillHole, putAside } from './journal-aside.mjs';
import { Database, OLD_STORES, result } from './journal-db.mjs';
import { IMAGES, Images } from './journal-images.mjs';
import { checkRecords, olderFirst, readImages, readRecords, takeCovered } from './journal-read.mjs';
import { rawFile } from './journal-raw.mjs';
import { putCount, putRecords } from './journal-put.mjs';
import { isWholeImage, sealImage } from './journal-seal.mjs';
import { Emptied, LostWriter, StorageError, plain } from './storage-errors.mjs';

/** Records written by one transaction when many wait. */
const BATCH = 1000;

/**
 * @typedef {import('./journal-read.mjs').Damage} Damage
 * @typedef {object} Held what storage holds
 * @property {Uint8Array|null} snapshot the newest one that is whole
 * @property {number} through the last record that the snapshot stands for, 0 without one
 * @property {string[]} records those after it, oldest first
 * @property {number[]} keys their numbers: they rise, with holes where one was lost
 * @property {number} lastKey number of the last record, 0 if there is none
 * @property {string} preferences JSON text, '' if none
 * @property {Damage[]} damage what was found damaged or missing this time
 * @property {number} aside how many things have been set aside so far
 *
 * @typedef {{kind: 'record', key: number, record: string}
 *   | {kind: 'snapshot', through: number, bytes: Uint8Array, only: boolean}
 *   | {kind: 'preferences', json: string}
 *   | {kind: 'rewrite', anew: import('./journal-anew.mjs').Anew}} Write
 * @typedef {{write: Write, resolve: () => void, reject: (error: StorageError) => void}} Waiting
 */

/** @type {import('./journal-db.mjs').Timers} */
const TIMERS = {
  set: (call, ms) => setTimeout(call, ms),
  clear: (timer) => clearTimeout(timer),
};

export class Journal {
  #database;
  #images;
  /** @type {Waiting[]} */
  #queue = [];
  #busy = false;
  #next = 1;
  #writer = 0;
  /** How far each whole snapshot reaches. @type {Record<string, number>} */
  #slots = {};
  /** What was found damaged and is not in `aside` yet. @type {Damage[]} */
  #damage = [];
  /** The older snapshot and the records after it would do in place of the newest one. */
  #spare = true;
  /** Why the last record that was refused was: those after it wait for the same. */
  #refusal = new StorageError('An earlier change is not stored yet.');
  /** Called once when a write finds that another tab writes now. */
  onlost = () => {};

  /** @param {{name?: string, timeout?: number, factory?: IDBFactory,
   *   timers?: import('./journal-db.mjs').Timers, images?: Images}} [options] */
  constructor({ name = 'tallyround', timeout = 8000, factory = globalThis.indexedDB,
    timers = TIMERS, images = new Images() } = {}) {
    this.#images = images;
    this.#database = new Database(name, timeout, factory, timers);
  }

  /** Makes this tab the one that writes. Call it while holding the lock, before `read`. */
  async claim() {
    this.#writer = await this.#database.run('readwrite', ['settings'], (tx, done) => {
      const settings = tx.objectStore('settings');
      settings.get('writer').onsuccess = (event) => {
        const before = result(event);
        const writer = (Number.isSafeInteger(before) ? before : 0) + 1;
        settings.put(writer, 'writer');
        done(writer);
      };
    });
  }

  /**
   * Everything the app needs to start. The tab that writes sets aside what is damaged.
   * @returns {Promise<Held>}
   */
  async read() {
    const images = await readImages((name) => this.#getImage(name), this.#database.pause,
      (stored, through) => this.openImage(stored, through));
    const older = Math.min(images.slots.a ?? 0, images.slots.b ?? 0);
    const stored = await readRecords(this.#database, older);
    const spare = takeCovered(stored.entries, older, images.through);
    const { records, keys, lastKey, damage } = checkRecords(images.through, stored);
    this.#damage = [...images.damage, ...stored.lost, ...damage];
    // Not knowing how far it reached, what lies before the first record is not called missing.
    const first = stored.entries[0]?.[0] ?? 0;
    if (images.hint && !images.bytes) {
      this.#damage = this.#damage.filter(({ what, key }) => what !== 'record' || key > first);
    }
    const found = this.#damage;
    const fresh = this.#writer > 0 && found.length > 0
      ? await this.#setAside().catch(() => found) : found;
    if (this.#writer > 0 && this.#damage.length === 0 && stored.last !== lastKey) {
      await this.#note(lastKey, 'last').catch(() => {});
    }
    this.#slots = images.slots;
    this.#next = lastKey + 1;
    this.#spare = spare;
    await this.#mendSpare();
    return { ...await this.#settings(), snapshot: images.bytes ?? images.hint,
      through: images.through, records, keys, lastKey, damage: fresh };
  }

  /** What a stored snapshot holds; under a passcode it is sealed (sealed-journal.mjs).
   *  @param {Uint8Array} stored @param {number} through */
  async openImage(stored, through) {
    return { bytes: stored, opens: Number.isSafeInteger(through) };
  }

  /** Puts the newest snapshot in the place of the older one, where that would not do instead. */
  async #mendSpare() {
    if (this.#spare || this.#writer === 0 || this.#damage.length > 0) return;
    await this.#copyNewest().then(() => { this.#spare = true; }, () => {});
  }

  async #copyNewest() {
    const slots = this.#slots;
    const [older, newest] = olderFirst(slots);
    await this.#putImage(older, await this.#getImage(newest));
    this.#slots = { ...slots, [older]: slots[newest] };
  }

  /**
   * Notes how many records there are, where a torn write has left that undone (`last`), or that the
   * last write was finished (`done`): should a record of it be damaged, the others count.
   * @param {number} number @param {'last'|'done'} name
   */
  #note(number, name) {
    return this.#database.run('readwrite', ['settings'], (tx, done, fail) => {
      this.#asWriter(tx, fail, () => putCount(tx, number, name));
    });
  }

  #settings() {
    return this.#database.run('readonly', ['settings', 'aside'], (tx, done) => {
      const found = { preferences: '', aside: 0 };
      done(found);
      tx.objectStore('settings').get('preferences').onsuccess = (event) => {
        const text = result(event);
        if (typeof text === 'string') found.preferences = text;
      };
      tx.objectStore('aside').count().onsuccess = (event) => {
        found.aside = result(event) + this.#damage.length;
      };
    });
  }

  /**
   * Copies what is damaged to `aside`, then puts empty records in the place of lost ones; a damaged
   * snapshot stays where it is, marked. Returns what was not there yet.
   * @returns {Promise<Damage[]>}
   */
  async #setAside() {
    const damage = this.#damage;
    const fresh = await this.#database.run('readwrite', ['aside', 'settings'],
      (tx, done, fail) => {
        /** @type {Damage[]} */
        const added = [];
        done(added);
        this.#asWriter(tx, fail, () => {
          for (const one of damage) putAside(tx, one, () => added.push(one));
        });
      });
    // Only when that is kept for certain.
    const stores = ['journal', ...IMAGES, 'settings'];
    await this.#database.run('readwrite', stores, (tx, done, fail) => {
      this.#asWriter(tx, fail, () => damage.forEach((one) => fillHole(tx, one, this.#images)));
    });
    this.#damage = [];
    return fresh;
  }

  /**
   * Makes one record durable. Refused if an earlier one is not stored: the journal has no gaps.
   * @param {number} key @param {string} record
   */
  append(key, record) {
    return this.#enqueue({ kind: 'record', key, record });
  }

  /**
   * Makes a snapshot durable in the place of the older of two; records up to the one that then is
   * the older are removed. One that holds what is stored nowhere else takes both places.
   * @param {number} through @param {Uint8Array} bytes @param {boolean} [only]
   */
  writeSnapshot(through, bytes, only = false) {
    return this.#enqueue({ kind: 'snapshot', through, bytes, only });
  }

  /** @param {string} json */
  writePreferences(json) {
    return this.#enqueue({ kind: 'preferences', json });
  }

  /**
   * Puts this in the place of what is stored, in one transaction: all of it or nothing.
   * @param {import('./journal-anew.mjs').Anew} anew
   */
  rewrite(anew) {
    return this.#enqueue({ kind: 'rewrite', anew });
  }

  /** What the passcode opens; null without one.
   *  @returns {Promise<import('./vault.mjs').Lock|null>} */
  readLock() {
    return this.#database.run('readonly', ['settings'], (tx, done) => {
      tx.objectStore('settings').get('lock').onsuccess = (event) => done(result(event) ?? null);
    });
  }

  /** Removes everything. */
  wipe() {
    return this.#database.wipe();
  }

  /** Keeps a record that is whole and cannot be read. @param {string} data @param {string} why */
  setAside(data, why) {
    return this.#database.run('readwrite', ['aside'], (tx) => {
      putAside(tx, { what: 'record', key: '', why, data }, () => {});
    });
  }

  /** The app has started well with what was copied from an older store: that one may go. */
  async startedWell() {
    const stores = (await this.#database.stores()).filter((name) => OLD_STORES.includes(name));
    if (stores.length === 0) return;
    await this.#database.run('readwrite', [...stores, 'settings'], (tx) => {
      const settings = tx.objectStore('settings');
      settings.get('kept').onsuccess = (event) => {
        if (result(event) === undefined) return;
        for (const store of stores) tx.objectStore(store).clear();
        for (const name of ['slots', 'kept']) settings.delete(name);
      };
    });
  }

  /** Whatever can be read, as one JSON text. */
  rawFile() { return rawFile(this.#database); }

  /** Lets go of the handle; the next call opens another. */
  close() {
    this.#database.close();
  }

  // Writing, in order ----------------------------------------------------------------------------

  /** @param {Write} write @returns {Promise<void>} */
  #enqueue(write) {
    return new Promise((resolve, reject) => {
      this.#queue.push({ write, resolve, reject });
      if (!this.#busy) this.#pump();
    });
  }

  async #pump() {
    this.#busy = true;
    while (this.#queue.length > 0) {
      const batch = this.#takeBatch();
      if (batch.length === 0) continue;
      try {
        await this.#write(batch.map(({ write }) => write));
        for (const { resolve } of batch) resolve();
        if (batch.length > 1) await this.#note(this.#next - 1, 'done').catch(() => {});
      } catch (error) {
        const refusal = plain(error);
        if (batch[0].write.kind === 'record') this.#refusal = refusal;
        for (const { reject } of batch) reject(refusal);
        if (error instanceof LostWriter) this.onlost();
      }
    }
    this.#busy = false;
  }

  /** The records that wait at the head of the queue, or the one other write there. */
  #takeBatch() {
    if (this.#queue[0].write.kind !== 'record') return this.#queue.splice(0, 1);
    const batch = [];
    let next = this.#next;
    while (this.#queue[0]?.write.kind === 'record' && batch.length < BATCH) {
      const waiting = /** @type {Waiting} */ (this.#queue.shift());
      const { key } = /** @type {{key: number}} */ (waiting.write);
      if (key > next) {
        waiting.reject(this.#refusal);
      } else {
        batch.push(waiting);
        next = Math.max(next, key + 1);
      }
    }
    return batch;
  }

  /** @param {Write[]} writes all records, or one of another kind */
  async #write(writes) {
    const [first] = writes;
    // A damaged snapshot's place will be taken, and what was torn must not seem whole behind what
    // is written now: that is put aside first, or nothing is written.
    if (this.#damage.length > 0 && first.kind !== 'preferences') await this.#setAside();
    if (first.kind !== 'rewrite') await this.#mendSpare();
    if (first.kind === 'snapshot') return this.#writeImage(first);
    if (first.kind === 'rewrite') return this.#writeAnew(first.anew);
    await this.#database.run('readwrite', ['settings', 'journal'], (tx, done, fail) => {
      // Preferences are this device's, whichever tab sets them.
      if (first.kind === 'preferences') {
        tx.objectStore('settings').put(first.json, 'preferences');
        return;
      }
      this.#asWriter(tx, fail, () => putRecords(tx, writes, this.#next - 1));
    });
    for (const write of writes) {
      if (write.kind === 'record') this.#next = Math.max(this.#next, write.key + 1);
    }
  }

  /** @param {Extract<Write, {kind: 'snapshot'}>} write */
  async #writeImage({ through, bytes, only }) {
    const { pause } = this.#database;
    const image = await sealImage(through, bytes, pause);
    const slots = this.#slots;
    const [name] = olderFirst(slots);
    await this.#putImage(name, image);
    this.#next = Math.max(this.#next, through + 1);
    if (!await isWholeImage(await this.#getImage(name), pause)) {
      throw new StorageError('The device’s storage does not keep what it is given.');
    }
    this.#slots = { ...slots, [name]: through };
    if (only) return this.#copyNewest();
    const older = slots[name === 'a' ? 'b' : 'a'];
    if (older === undefined) return;
    await this.#database.run('readwrite', ['journal', 'settings'], (tx, done, fail) => {
      this.#asWriter(tx, fail, () =>
        tx.objectStore('journal').delete(IDBKeyRange.upperBound(Math.min(older, through))));
    });
  }

  /** @param {string} name @param {import('./journal-seal.mjs').Image} image */
  async #putImage(name, image) {
    const images = this.#images;
    const put = (/** @type {(tx: IDBTransaction) => void} */ work) =>
      this.#database.run('readwrite', [...IMAGES, 'settings'],
        (tx, done, fail) => this.#asWriter(tx, fail, () => work(tx)));
    if (images.isLarge(image)) await put((tx) => images.putPieces(tx, name, image));
    await put((tx) => images.put(tx, name, image));
  }

  /** What is there, whole or not. @param {string} name @returns {Promise<any>} */
  #getImage(name) {
    return this.#database.run('readonly', IMAGES, (tx, done) => this.#images.get(tx, name, done));
  }

  /** @param {import('./journal-anew.mjs').Anew} anew */
  async #writeAnew(anew) {
    const { through, bytes } = anew;
    const image = bytes ? await sealImage(through, bytes, this.#database.pause) : null;
    const stores = await this.#database.stores();
    await this.#database.run('readwrite', stores, (tx, done, fail) => {
      this.#asWriter(tx, fail, () => {
        putAnew(tx, anew, image, this.#images);
        if (image) putCount(tx, Math.max(through, this.#next - 1));
      });
    });
    if (!image) return;
    this.#damage = [];
    this.#spare = true;
    this.#slots = { a: through, b: through };
    this.#next = Math.max(this.#next, through + 1);
  }

  /**
   * Does `work` if this tab still is the one that writes.
   * @param {IDBTransaction} tx @param {(error: Error) => void} fail @param {() => void} work
   */
  #asWriter(tx, fail, work) {
    tx.objectStore('settings').get('writer').onsuccess = (event) => {
      const writer = result(event);
      if (writer === this.#writer) work();
      else fail(writer === undefined ? new Emptied() : new LostWriter());
    };
  }
}
