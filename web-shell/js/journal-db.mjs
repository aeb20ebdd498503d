// @ts-check
/**
 * The database behind the journal: opening it, bringing an older one up to date, and running one
 * transaction with a time limit.
 *
 * Version 3, the present one:
 *   journal   key = the record's number, value = Sealed (journal-seal.mjs)
 *   images    key = 'a' or 'b', value = Image: two snapshots; a large one is {through, crc,
 *             place, parts}, its bytes in so many
 *   parts     key = place, blank and number from '00000' on, value = a piece of the bytes
 *   aside     what was found damaged: {what, key, why, at, data} under a name made of these
 *   settings  'preferences' text; 'writer' number; 'last' Sealed: number of the last record;
 *             'done' Sealed: number of the last record of a write known to be finished;
 *             'kept' the version of the stores kept below; 'lock' what a passcode opens
 *             (vault.mjs), where one is set
 * Version 2 had no pieces and no store for them; the rest is the same.
 * Version 1, kept as it was beside the copy until the first good start, then emptied:
 *   records   key = the record's number, value = its text
 *   snapshots key = 'a' or 'b', value = bytes; in settings 'slots' {a: {through, crc}, b: {…}}
 */

import { crc32 } from './crc32.mjs';
import { seal, sealImageNow } from './journal-seal.mjs';
import { StorageError, Timeout, final, plain } from './storage-errors.mjs';

const VERSION = 3;
export const OLD_STORES = ['records', 'snapshots'];

/**
 * @typedef {{set: (call: () => void, ms: number) => any, clear: (timer: any) => void}} Timers
 * @typedef {(tx: IDBTransaction, done: (value: any) => void,
 *   fail: (error: Error) => void) => void} Work what a transaction does
 */

export class Database {
  #name;
  #timeout;
  #factory;
  #timers;
  /** @type {IDBDatabase|null} */
  #db = null;

  /** @param {string} name @param {number} timeout @param {IDBFactory|undefined} factory
   *  @param {Timers} timers */
  constructor(name, timeout, factory, timers) {
    this.#name = name;
    this.#timeout = timeout;
    this.#factory = factory;
    this.#timers = timers;
  }

  /** Lets go of the handle; the next call opens another. */
  close() {
    this.#db?.close();
    this.#db = null;
  }

  /** Removes the whole database. @returns {Promise<void>} */
  async wipe() {
    this.close();
    await new Promise((resolve, reject) => {
      const request = /** @type {IDBFactory} */ (this.#factory).deleteDatabase(this.#name);
      request.onsuccess = () => resolve(undefined);
      request.onerror = () => reject(plain(request.error));
    });
  }

  /** Lets whatever else is due run. @returns {Promise<void>} */
  pause = () => new Promise((done) => { this.#timers.set(() => done(), 0); });

  /** The stores that are there, old ones too. */
  async stores() {
    return [...(await this.#open()).objectStoreNames];
  }

  /**
   * Runs one transaction; once more with a new handle if the first try failed in a way that may
   * pass. Safe for writes too: they put the same values under the same keys.
   * @param {IDBTransactionMode} mode @param {string[]} stores @param {Work} work
   * @returns {Promise<any>} what `work` handed to `done`
   */
  async run(mode, stores, work) {
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
      const timer = this.#timers.set(() => {
        reject(new Timeout());
        try { tx.abort(); } catch { /* it had ended already */ }
      }, this.#timeout);
      tx.addEventListener('complete', () => { this.#timers.clear(timer); resolve(value); });
      tx.addEventListener('abort', () => {
        this.#timers.clear(timer);
        reject(failure ?? tx.error);
      });
      work(tx, (done) => { value = done; }, (error) => { failure = error; tx.abort(); });
    });
  }

  /** @returns {Promise<IDBDatabase>} */
  async #open() {
    if (this.#db) return this.#db;
    const factory = this.#factory;
    if (!factory) throw new StorageError('This browser offers no storage.');
    const db = await new Promise((resolve, reject) => {
      const request = factory.open(this.#name, VERSION);
      let late = false;
      const timer = this.#timers.set(() => { late = true; reject(new Timeout()); },
        this.#timeout);
      request.onupgradeneeded = ({ oldVersion }) => {
        upgrade(request.result, /** @type {IDBTransaction} */ (request.transaction), oldVersion);
      };
      request.onsuccess = () => {
        this.#timers.clear(timer);
        if (late) request.result.close();
        else resolve(request.result);
      };
      request.onerror = () => { this.#timers.clear(timer); reject(request.error); };
    });
    db.onclose = () => { if (this.#db === db) this.#db = null; };
    db.onversionchange = () => { db.close(); if (this.#db === db) this.#db = null; };
    this.#db = db;
    return db;
  }
}

/** @param {Event} event @returns {any} */
export function result(event) {
  return /** @type {IDBRequest} */ (event.target).result;
}

/** @param {IDBDatabase} db @param {IDBTransaction} tx @param {number} from */
function upgrade(db, tx, from) {
  if (from < 1) db.createObjectStore('settings');
  if (from < 2) for (const store of ['journal', 'images', 'aside']) db.createObjectStore(store);
  db.createObjectStore('parts');
  if (from === 1) copyForward(tx);
}

/** All of version 1 into the stores of the present one, in the transaction that makes them.
 *  @param {IDBTransaction} tx */
function copyForward(tx) {
  const settings = tx.objectStore('settings');
  settings.put(1, 'kept');
  let last = 0;
  tx.objectStore('records').openCursor().onsuccess = (event) => {
    const cursor = result(event);
    if (!cursor) {
      settings.put(seal(last, last, last, ''), 'last');
      return;
    }
    const key = last = Number(cursor.key);
    tx.objectStore('journal').put(seal(key, key, key, cursor.value), key);
    cursor.continue();
  };
  settings.get('slots').onsuccess = (event) => {
    for (const [name, { through, crc }] of Object.entries(result(event) ?? {})) {
      tx.objectStore('snapshots').get(name).onsuccess = (answer) => {
        const bytes = result(answer);
        if (!(bytes instanceof Uint8Array)) return;
        const image = sealImageNow(through, bytes);
        // One that was damaged stays so: reading it says so and sets it aside.
        if (crc32(bytes) !== crc) image.crc = ~image.crc >>> 0;
        tx.objectStore('images').put(image, name);
      };
    }
  };
}
