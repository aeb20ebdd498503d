// @ts-check
/**
 * Journal and lock as one: who writes, what is read at the start, what became of each write. While
 * storage cannot be opened the app works in memory; it is tried again until it can.
 */

import { Journal } from './journal.mjs';
import { WriterLock } from './lock.mjs';
import { Emptied } from './storage-errors.mjs';

/** Between two tries to open storage again. */
const HEAL_MS = 10000;

/**
 * @typedef {import('./journal.mjs').Held} Held
 * @typedef {object} Listener
 * @property {(key: number) => void} stored
 * @property {(key: number, reason: string) => void} notStored
 * @property {(record: string) => void} heard another tab wrote this
 * @property {() => void} lost
 * @property {() => void} gained the tab that wrote has gone; `takeOver` is free
 * @property {(held: Held) => void} healed storage works again; this is what it holds
 * @property {(reason: string) => void} failed it does not work: everything is in memory alone
 */

export class Storage {
  #journal;
  #lock;
  #listener;
  #timers;
  #channel = globalThis.BroadcastChannel ? new BroadcastChannel('tallyround-records') : null;
  /** Why there is no storage, '' while there is. */
  #unusable = 'Storage was not opened.';
  #writes = false;
  #healing = false;
  #started = false;
  /** @type {Promise<unknown>} */
  #beginning = Promise.resolve();

  /**
   * @param {Listener} listener
   * @param {{journal?: Journal, lock?: WriterLock,
   *   timers?: Pick<import('./journal-db.mjs').Timers, 'set'>}} [parts]
   */
  constructor(listener, { journal = new Journal(), lock = new WriterLock(),
    timers = { set: (call, ms) => setTimeout(call, ms) } } = {}) {
    this.#listener = listener;
    this.#journal = journal;
    this.#lock = lock;
    this.#timers = timers;
    this.#lock.onlost = () => this.#lose();
    this.#lock.ongained = () => listener.gained();
    this.#journal.onlost = () => this.#lose();
    // Tabs that only read follow the one that writes.
    this.#channel?.addEventListener('message', (event) => {
      if (!this.#writes) listener.heard(String(event.data));
    });
  }

  /**
   * Reads what is there; as the one that writes, if no other tab does.
   * @param {boolean} [onlyReads] never writes
   * @returns {Promise<{held: Held, readOnly: boolean}>}
   */
  async open(onlyReads = false) {
    return this.#begin(!onlyReads && await this.#lock.acquire());
  }

  /** Becomes the one that writes, and reads again what the other tab left. */
  async takeOver() {
    return this.#begin(await this.#lock.steal());
  }

  /** One after the other: what is read last counts. @param {boolean} writes */
  #begin(writes) {
    const turn = this.#beginning.then(() => this.#read(writes));
    this.#beginning = turn.catch(() => {});
    return turn;
  }

  /** @param {boolean} writes */
  async #read(writes) {
    try {
      if (writes) await this.#journal.claim();
      const held = await this.#journal.read();
      this.#unusable = '';
      this.#writes = writes;
      return { held, readOnly: !writes };
    } catch (error) {
      // Nothing is written over what could not be read.
      this.#unusable = error instanceof Error ? error.message : String(error);
      if (writes) this.#healLater();
      throw error;
    }
  }

  /** Tries again to open storage until it works. What is there then comes with `healed`. */
  #healLater() {
    if (this.#healing) return;
    this.#healing = true;
    this.#timers.set(async () => {
      this.#healing = false;
      if (!this.#unusable) return;
      this.#journal.close();
      try {
        const { held } = await this.#begin(true);
        this.#listener.healed(held);
      } catch { /* `#read` has seen to the next try */ }
    }, HEAL_MS);
  }

  #lose() {
    if (!this.#writes) return;
    this.#writes = false;
    this.#listener.lost();
  }

  /** @param {number} key @param {string} record @param {() => void} durable */
  append(key, record, durable) {
    this.#guard(() => this.#journal.append(key, record)).then(() => {
      durable();
      this.#channel?.postMessage(record);
      this.#listener.stored(key);
      this.#noteGoodStart();
    }, (error) => this.#refused(key, error));
  }

  /** @param {number} through @param {Uint8Array} bytes */
  snapshot(through, bytes) {
    // Without it the next start reads more records, that is all; unless it stands for what is
    // nowhere else, and then it is heard of.
    this.#guard(() => this.#journal.writeSnapshot(through, bytes)).then(
      () => this.#listener.stored(through),
      (error) => { if (error instanceof Emptied) this.#refused(through, error); });
  }

  /** @param {number} key @param {Error} error */
  #refused(key, error) {
    if (error instanceof Emptied && !this.#unusable) {
      this.#unusable = error.message;
      this.#listener.failed(error.message);
      this.#healLater();
      return;
    }
    this.#listener.notStored(key, error.message);
  }

  /** What was copied from an older store has opened and goes on: the older one may go. */
  #noteGoodStart() {
    if (this.#started) return;
    this.#started = true;
    this.#journal.startedWell().catch(() => { this.#started = false; });
  }

  /** A record that is whole and cannot be read. @param {string} data @param {string} why */
  setAside(data, why) {
    this.#guard(() => this.#journal.setAside(data, why)).catch(() => {});
  }

  /** @param {string} json */
  preferences(json) {
    this.#guard(() => this.#journal.writePreferences(json)).catch(() => {});
  }

  /** Whatever can be read, as one text. */
  raw() {
    return this.#journal.rawFile();
  }

  /** @param {() => Promise<void>} write @returns {Promise<void>} */
  async #guard(write) {
    if (this.#unusable) throw new Error(this.#unusable);
    await write();
  }
}
