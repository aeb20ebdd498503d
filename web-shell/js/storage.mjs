// @ts-check
/**
 * Journal and lock as one: who writes, what is read at the start, what became of each write. While
 * storage cannot be opened the app works in memory; it is tried again until it can.
 */

import { WriterLock } from './lock.mjs';
import { SealedJournal } from './sealed-journal.mjs';
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
 * @property {() => void} sealedAnew another tab locked, or changed the passcode
 * @property {(held: Held) => void} healed storage works again; this is what it holds
 * @property {(reason: string) => void} failed it does not work: everything is in memory alone
 *
 * @typedef {Uint8Array<ArrayBuffer>} Bytes
 * @typedef {{held: Held, readOnly: boolean}|null} Opened null: it is sealed, and `unlock` opens it
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
  #wishesToWrite = false;
  /** Records that are not durable: locking would lose them. @type {Set<number>} */
  #unsaved = new Set();
  #healing = false;
  /** Stored with the next record that can be. */
  #refusedPreferences = '';
  #started = false;
  /** @type {Promise<unknown>} */
  #beginning = Promise.resolve();

  /**
   * @param {Listener} listener
   * @param {{journal?: SealedJournal, lock?: WriterLock,
   *   timers?: Pick<import('./journal-db.mjs').Timers, 'set'>}} [parts]
   */
  constructor(listener, { journal = new SealedJournal(), lock = new WriterLock(),
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
      if (event.data?.anew) listener.sealedAnew();
      else if (!this.#writes && !this.locked) this.#hear(event.data);
    });
  }

  /**
   * Reads what is there; as the one that writes, if no other tab does.
   * @param {boolean} [onlyReads] never writes
   * @returns {Promise<Opened>}
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
    this.#wishesToWrite = writes;
    const turn = this.#beginning.then(() => this.#read(writes));
    this.#beginning = turn.catch(() => {});
    return turn;
  }

  /** Reads with this passcode. @param {string} passcode */
  async unlock(passcode) {
    await this.#journal.vault.open(passcode);
    return this.#begin(this.#wishesToWrite);
  }

  /** What is stored cannot be read until `unlock`. */
  get locked() { return this.#journal.vault.locked; }

  /** There is a passcode. */
  get sealed() { return this.#journal.vault.set; }

  /** Nothing waits to be written: the key may be forgotten. */
  get settled() { return this.#unsaved.size === 0 && !this.#unusable; }

  /** @param {boolean} writes @returns {Promise<Opened>} */
  async #read(writes) {
    try {
      if (writes) await this.#journal.claim();
      if (await this.#journal.look()) {
        this.#writes = writes;
        return null;
      }
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
        const opened = await this.#begin(true);
        if (opened) this.#listener.healed(opened.held);
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
    this.#unsaved.add(key);
    this.#guard(() => this.#journal.append(key, record)).then((text) => {
      this.#unsaved.delete(key);
      durable();
      // As it is stored: under a passcode no name goes through the channel.
      this.#channel?.postMessage({ key, text });
      this.#listener.stored(key);
      this.#noteGoodStart();
      this.#preferencesAgain();
    }, (error) => this.#refused(key, error));
  }

  /** Another tab wrote it. @param {{key: number, text: string}} message */
  #hear({ key, text }) {
    if (!Number.isSafeInteger(key) || typeof text !== 'string') return;
    this.#journal.openRecord(key, text).then((record) => this.#listener.heard(record), () => {});
  }

  /** Everything stored becomes this snapshot. @param {number} through @param {Bytes} bytes */
  rewrite(through, bytes) {
    return this.#guard(() => this.#journal.rewriteAll(through, bytes));
  }

  /** @param {string} was @param {string} now @param {number} through @param {Bytes} bytes */
  async changePasscode(was, now, through, bytes) {
    await this.#guard(() => this.#journal.changePasscode(was, now, through, bytes));
    this.tellOthers();
  }

  /** Other tabs start over: they lock, or read by the new key. */
  tellOthers() {
    this.#channel?.postMessage({ anew: true });
  }

  /** What seals files with the passcode. */
  get vault() { return this.#journal.vault; }

  /** Removes everything that is stored. */
  wipe() {
    return this.#journal.wipe();
  }

  /** @param {number} through @param {Bytes} bytes @param {boolean} [only] holds what is stored
   *  nowhere else: without it the next start would not just read more records */
  snapshot(through, bytes, only = false) {
    if (only) this.#unsaved.add(through);
    this.#guard(() => this.#journal.writeSnapshot(through, bytes, only)).then(
      () => {
        for (const key of this.#unsaved) if (key <= through) this.#unsaved.delete(key);
        if (only) this.tellOthers();
        this.#listener.stored(through);
        this.#preferencesAgain();
      },
      (error) => { if (only || error instanceof Emptied) this.#refused(through, error); });
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
    this.#guard(() => this.#journal.writePreferences(json)).then(
      () => { this.#refusedPreferences = ''; },
      () => { this.#refusedPreferences = json; });
  }

  #preferencesAgain() {
    if (this.#refusedPreferences) this.preferences(this.#refusedPreferences);
  }

  /** Whatever can be read, as one text. */
  raw() {
    return this.#journal.rawFile();
  }

  /** @template T @param {() => Promise<T>} write @returns {Promise<T>} */
  async #guard(write) {
    if (this.#unusable) throw new Error(this.#unusable);
    return write();
  }
}
