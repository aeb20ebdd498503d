// @ts-check
/**
 * What the device keeps: the journal's records, two alternating snapshots and this device's
 * preferences, in IndexedDB. Every write is one 'strict' transaction; writes go in order; every
 * call has a time limit; a handle that died (WebKit drops them in the background) is reopened and
 * the call tried once more.
 *
 * Stores:
 *   records    key = the record's number, value = its text
 *   snapshots  key = 'a' or 'b', value = bytes
 *   settings   'preferences' text; 'slots' {a: {through, crc}, b: {…}}; 'writer' number
 *
 * `writer` is raised by each tab that starts to write, and checked in every write: a tab that lost
 * its place can never write behind the new one's back, however late it wakes up.
 */

import { crc32 } from './crc32.mjs';
import { LostWriter, StorageError, Timeout, final, plain } from './storage-errors.mjs';

const STORES = ['records', 'snapshots', 'settings'];
/** Records read by one request, and written by one transaction when many wait. */
const CHUNK = 10000;
const BATCH = 1000;

/**
 * @typedef {object} Held what storage holds
 * @property {Uint8Array|null} snapshot the newest one that is whole
 * @property {number} through the last record that the snapshot stands for, 0 without one
 * @property {string[]} records those after it, oldest first
 * @property {number} lastKey key of the last record, 0 if there is none
 * @property {string} preferences JSON text, '' if none
 *
 * @typedef {{kind: 'record', key: number, record: string}
 *   | {kind: 'snapshot', through: number, bytes: Uint8Array}
 *   | {kind: 'preferences', json: string}} Write
 * @typedef {(tx: IDBTransaction, done: (value: unknown) => void,
 *   fail: (error: Error) => void) => void} Work what a transaction does
 * @typedef {{write: Write, resolve: () => void, reject: (error: StorageError) => void}} Waiting
 */

export class Journal {
  #name;
  #timeout;
  #factory;
  /** @type {IDBDatabase|null} */
  #db = null;
  /** @type {Waiting[]} */
  #queue = [];
  #busy = false;
  #next = 1;
  #writer = 0;
  /** @type {Record<string, {through: number, crc: number}>} */
  #slots = {};
  /** Called once when a write finds that another tab writes now. */
  onlost = () => {};

  /** @param {{name?: string, timeout?: number, factory?: IDBFactory}} [options] */
  constructor({ name = 'tallyround', timeout = 8000, factory = globalThis.indexedDB } = {}) {
    this.#name = name;
    this.#timeout = timeout;
    this.#factory = factory;
  }

  /** Makes this tab the one that writes. Call it while holding the lock, before `read`. */
  async claim() {
    this.#writer = await this.#run('readwrite', ['settings'], (tx, done) => {
      const settings = tx.objectStore('settings');
      settings.get('writer').onsuccess = (event) => {
        const writer = (result(event) ?? 0) + 1;
        settings.put(writer, 'writer');
        done(writer);
      };
    });
  }

  /**
   * Everything the app needs to start. @returns {Promise<Held>}
   */
  async read() {
    const settings = await this.#run('readonly', ['settings'], (tx, done) => {
      const found = { slots: {}, preferences: '' };
      const store = tx.objectStore('settings');
      store.get('slots').onsuccess = (event) => { found.slots = result(event) ?? {}; };
      store.get('preferences').onsuccess = (event) => {
        found.preferences = result(event) ?? '';
      };
      done(found);
    });
    this.#slots = settings.slots;
    const { snapshot, through } = await this.#newestSnapshot();
    const { chunks, lastKey } = await this.#recordsAfter(through);
    this.#next = lastKey + 1;
    return { snapshot, through, records: chunks.flat(), lastKey,
      preferences: settings.preferences };
  }

  /**
   * The newest snapshot whose checksum holds. If none does, the newest there is: the app has a
   * check of its own and says what it cannot read.
   */
  async #newestSnapshot() {
    const names = Object.keys(this.#slots)
      .sort((x, y) => this.#slots[y].through - this.#slots[x].through);
    /** @type {{snapshot: Uint8Array|null, through: number}} */
    let newest = { snapshot: null, through: 0 };
    for (const name of names) {
      const { through, crc } = this.#slots[name];
      const bytes = await this.#run('readonly', ['snapshots'], (tx, done) => {
        tx.objectStore('snapshots').get(name).onsuccess = (event) => done(result(event));
      });
      if (bytes instanceof Uint8Array) {
        if (crc32(bytes) === crc) return { snapshot: bytes, through };
        if (!newest.snapshot) newest = { snapshot: bytes, through };
      }
      delete this.#slots[name];
    }
    return newest;
  }

  /** @param {number} through */
  #recordsAfter(through) {
    return this.#run('readonly', ['records'], (tx, done) => {
      const store = tx.objectStore('records');
      const found = { chunks: /** @type {string[][]} */ ([]), lastKey: through };
      done(found);
      const after = IDBKeyRange.lowerBound(through, true);
      store.openKeyCursor(after, 'prev').onsuccess = (event) => {
        const last = result(event);
        if (!last) return;
        found.lastKey = last.key;
        // Keys rise by one, so ranges of numbers are chunks of records.
        for (let from = through + 1, n = 0; from <= last.key; from += CHUNK, n++) {
          const range = IDBKeyRange.bound(from, Math.min(from + CHUNK - 1, last.key));
          store.getAll(range).onsuccess = (answer) => { found.chunks[n] = result(answer); };
        }
      };
    });
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
   * the older are removed.
   * @param {number} through @param {Uint8Array} bytes
   */
  writeSnapshot(through, bytes) {
    return this.#enqueue({ kind: 'snapshot', through, bytes });
  }

  /** @param {string} json */
  writePreferences(json) {
    return this.#enqueue({ kind: 'preferences', json });
  }

  /**
   * Whatever can be read, as one JSON text, for the page that is shown when the app cannot run.
   * A snapshot is text in UTF-8 already; records are in order.
   */
  async rawFile() {
    const raw = await this.#run('readonly', STORES, (tx, done) => {
      /** @type {Record<string, any>} */
      const found = { snapshots: [], keys: [], records: [], slots: {} };
      const keep = (/** @type {string} */ name, /** @type {IDBRequest} */ request) => {
        request.onsuccess = () => { found[name] = request.result ?? {}; };
      };
      keep('slots', tx.objectStore('settings').get('slots'));
      keep('snapshots', tx.objectStore('snapshots').getAll());
      keep('keys', tx.objectStore('records').getAllKeys());
      keep('records', tx.objectStore('records').getAll());
      done(found);
    });
    const decoder = new TextDecoder();
    const snapshots = raw.snapshots.map((/** @type {Uint8Array} */ b) => decoder.decode(b));
    const records = raw.records.map((/** @type {string} */ text, /** @type {number} */ i) =>
      [raw.keys[i], text]);
    return JSON.stringify(
      { format: 'tallyround-raw', version: 1, slots: raw.slots, snapshots, records });
  }

  /** Lets go of the handle; the next call opens another. */
  close() {
    this.#db?.close();
    this.#db = null;
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
      } catch (error) {
        for (const { reject } of batch) reject(plain(error));
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
        waiting.reject(new StorageError('An earlier change is not stored yet.'));
      } else {
        batch.push(waiting);
        next = Math.max(next, key + 1);
      }
    }
    return batch;
  }

  /** @param {Write[]} writes */
  async #write(writes) {
    const stores = STORES.filter((name) => name === 'settings' ||
      writes.some(({ kind }) => name === (kind === 'record' ? 'records' : 'snapshots')) ||
      (name === 'records' && writes[0].kind === 'snapshot'));
    this.#slots = await this.#run('readwrite', stores, (tx, done, fail) => {
      const slots = { ...this.#slots };
      tx.objectStore('settings').get('writer').onsuccess = (event) => {
        // Preferences are this device's, whichever tab sets them.
        if (result(event) !== this.#writer && writes[0].kind !== 'preferences') {
          fail(new LostWriter());
          return;
        }
        for (const write of writes) put(tx, write, slots);
      };
      done(slots);
    });
    for (const write of writes) {
      if (write.kind === 'record') this.#next = Math.max(this.#next, write.key + 1);
      if (write.kind === 'snapshot') this.#next = Math.max(this.#next, write.through + 1);
    }
  }

  // Transactions ---------------------------------------------------------------------------------

  /**
   * Runs one transaction; once more with a new handle if the first try failed in a way that may
   * pass. Safe for writes too: they put the same values under the same keys.
   * @param {IDBTransactionMode} mode @param {string[]} stores @param {Work} work
   * @returns {Promise<any>} what `work` handed to `done`
   */
  async #run(mode, stores, work) {
    try {
      return await this.#attempt(mode, stores, work);
    } catch (error) {
      if (final(error)) throw plain(error);
    }
    this.close();
    try {
      return await this.#attempt(mode, stores, work);
    } catch (error) {
      throw plain(error);
    }
  }

  /** @param {IDBTransactionMode} mode @param {string[]} stores @param {Work} work */
  async #attempt(mode, stores, work) {
    const db = await this.#open();
    return new Promise((resolve, reject) => {
      const tx = db.transaction(stores, mode, { durability: 'strict' });
      /** @type {unknown} */
      let value;
      /** @type {unknown} */
      let failure = null;
      const timer = setTimeout(() => {
        reject(new Timeout());
        try { tx.abort(); } catch { /* it had ended already */ }
      }, this.#timeout);
      tx.addEventListener('complete', () => { clearTimeout(timer); resolve(value); });
      tx.addEventListener('abort', () => { clearTimeout(timer); reject(failure ?? tx.error); });
      work(tx, (done) => { value = done; }, (error) => { failure = error; tx.abort(); });
    });
  }

  /** @returns {Promise<IDBDatabase>} */
  async #open() {
    if (this.#db) return this.#db;
    if (!this.#factory) throw new StorageError('This browser offers no storage.');
    const db = await new Promise((resolve, reject) => {
      const request = this.#factory.open(this.#name, 1);
      let late = false;
      const timer = setTimeout(() => { late = true; reject(new Timeout()); }, this.#timeout);
      request.onupgradeneeded = () => {
        for (const store of STORES) request.result.createObjectStore(store);
      };
      request.onsuccess = () => {
        clearTimeout(timer);
        if (late) request.result.close();
        else resolve(request.result);
      };
      request.onerror = () => { clearTimeout(timer); reject(request.error); };
    });
    db.onclose = () => { if (this.#db === db) this.#db = null; };
    db.onversionchange = () => { db.close(); if (this.#db === db) this.#db = null; };
    this.#db = db;
    return db;
  }
}

/** @param {Event} event @returns {any} */
function result(event) {
  return /** @type {IDBRequest} */ (event.target).result;
}

/**
 * @param {IDBTransaction} tx
 * @param {Write} write
 * @param {Record<string, {through: number, crc: number}>} slots changed to what will be stored
 */
function put(tx, write, slots) {
  if (write.kind === 'record') {
    tx.objectStore('records').put(write.record, write.key);
    return;
  }
  const settings = tx.objectStore('settings');
  if (write.kind === 'preferences') {
    settings.put(write.json, 'preferences');
    return;
  }
  const name = ['a', 'b'].sort((x, y) => (slots[x]?.through ?? -1) - (slots[y]?.through ?? -1))[0];
  slots[name] = { through: write.through, crc: crc32(write.bytes) };
  tx.objectStore('snapshots').put(write.bytes, name);
  settings.put(slots, 'slots');
  if (slots.a && slots.b) {
    const older = Math.min(slots.a.through, slots.b.through);
    tx.objectStore('records').delete(IDBKeyRange.upperBound(older));
  }
}
