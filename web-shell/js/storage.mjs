// @ts-check
/** Journal and lock as one: who writes, what is read at the start, what became of each write. */

import { Journal } from './journal.mjs';
import { WriterLock } from './lock.mjs';

/**
 * @typedef {object} Listener
 * @property {(key: number) => void} stored
 * @property {(key: number, reason: string) => void} notStored
 * @property {(record: string) => void} heard another tab wrote this
 * @property {() => void} lost
 * @property {() => void} gained the tab that wrote has gone; `takeOver` is free
 */

export class Storage {
  #journal = new Journal();
  #lock = new WriterLock();
  #listener;
  #channel = globalThis.BroadcastChannel ? new BroadcastChannel('tallyround-records') : null;
  /** Why there is no storage, '' while there is. */
  #unusable = 'Storage was not opened.';
  #writes = false;
  /** @type {Promise<unknown>} */
  #beginning = Promise.resolve();

  /** @param {Listener} listener */
  constructor(listener) {
    this.#listener = listener;
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
   * @returns {Promise<{held: import('./journal.mjs').Held, readOnly: boolean}>}
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
      throw error;
    }
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
    }, (error) => this.#listener.notStored(key, error.message));
  }

  /** @param {number} through @param {Uint8Array} bytes */
  snapshot(through, bytes) {
    // Without it the next start reads more records, that is all.
    this.#guard(() => this.#journal.writeSnapshot(through, bytes)).catch(() => {});
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
