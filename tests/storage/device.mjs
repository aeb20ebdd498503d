// @ts-check
/**
 * A stand-in for IndexedDB as journal.mjs uses it, on a device that fails. One database; its
 * transactions run one after the other, request by request, each request an event of the world.
 *
 * What is simulated. A transaction's writes are seen by nobody before it commits. Committed, they
 * are in the device's cache; a 'strict' transaction says "complete" only when they are flushed, a
 * relaxed one at once. The page can end between any two events. Whatever then is in the cache and
 * not flushed meets one of these fates, each transaction for itself, so that a later one may stay
 * where an earlier one goes (reorder):
 *   keep       as if flushed
 *   drop       gone
 *   tear       only some of its operations stay, in no order: an IndexedDB that keeps its promise
 *              of all or nothing would never do that
 *   duplicate  done, and done once more after all others
 * While the page runs, with a chance per operation given by `Faults`:
 *   quota      a put fails with QuotaExceededError and the transaction aborts
 *   hang       a request, a commit or an open answers after a minute or never; behind a commit that
 *              hangs, others may be committed meanwhile
 *   close      the handle dies, with or without a "close" event; its transactions abort
 *   open       opening fails with UnknownError
 *   evict      the browser clears everything
 * While the page is closed: flip (a bit of one stored thing: text, bytes or one of its numbers) and
 * lose (a stored record is gone). What was flushed is otherwise kept: a device that says "flushed"
 * and forgets by itself is not simulated, and neither are two pages at once.
 */

import { NEVER_MS, Transaction, apply } from './transaction.mjs';

/** @typedef {import('./world.mjs').World} World */
/** @typedef {import('./world.mjs').Draws} Draws */
/** @typedef {import('./transaction.mjs').Change} Change */
/** @typedef {{quota: number, hang: number, close: number, open: number, evict: number}} Faults */

export const NO_FAULTS = { quota: 0, hang: 0, close: 0, open: 0, evict: 0 };

export class Device {
  version = 0;
  #flushedVersion = 0;
  /** What is flushed. @type {Map<string, Map<any, any>>} */
  #flushed = new Map();
  /** Committed and not flushed yet. @type {Transaction[]} */
  #cache = [];
  /** @type {Transaction[]} */
  #waiting = [];
  /** @type {Set<Handle>} */
  #handles = new Set();
  /** @type {Faults} */
  faults = NO_FAULTS;
  /** How often each fault came. @type {Record<string, number>} */
  counts = {};
  /** Called when everything was cleared. */
  onevicted = () => {};

  /** @param {World} world @param {Draws} draws */
  constructor(world, draws) {
    this.world = world;
    this.draws = draws;
  }

  /** What everyone sees: flushed and cached. */
  get seen() {
    const all = new Map([...this.#flushed].map(([name, store]) => [name, new Map(store)]));
    for (const tx of this.#cache) {
      for (const name of tx.made) all.set(name, new Map());
      for (const change of tx.changes) apply(all, change);
    }
    return all;
  }

  get unflushed() { return this.#cache.filter(({ changes }) => changes.length > 0).length; }

  /** @param {keyof Faults} kind */
  strikes(kind) {
    if (!this.draws.happens(this.faults[kind])) return false;
    this.note(kind);
    return true;
  }

  /** @param {string} kind */
  note(kind) { this.counts[kind] = (this.counts[kind] ?? 0) + 1; }

  /** @param {string} _name @param {number} version */
  open(_name, version) {
    /** @type {any} */
    const request = { result: null, transaction: null, error: null };
    const fail = (/** @type {string} */ name) => {
      request.error = new DOMException(name, name);
      request.onerror?.({ target: request });
    };
    this.world.later(() => {
      if (this.strikes('open')) return fail('UnknownError');
      if (version < this.version) return fail('VersionError');
      const handle = new Handle(this);
      request.result = handle;
      const succeed = () => {
        this.#handles.add(handle);
        request.onsuccess?.({ target: request });
      };
      if (version === this.version) return succeed();
      const upgrade = new Transaction(this, 'versionchange', true, version);
      request.transaction = upgrade;
      upgrade.addEventListener('complete', succeed);
      upgrade.addEventListener('abort', () => fail('AbortError'));
      upgrade.onstart = () => {
        if (this.version === version) return; // another page's opening has done it meanwhile
        handle.upgrading = upgrade;
        request.onupgradeneeded?.({ target: request, oldVersion: this.version });
        handle.upgrading = null;
      };
      this.queue(upgrade);
    }, this.strikes('hang') ? NEVER_MS : 1);
    return request;
  }

  /** @param {Transaction} tx */
  queue(tx) {
    this.#waiting.push(tx);
    if (this.#waiting.length === 1) this.world.later(() => tx.begin(), 1);
  }

  /** @param {Transaction} tx */
  ended(tx) {
    const at = this.#waiting.indexOf(tx);
    if (at < 0) return;
    this.#waiting.splice(at, 1);
    const next = this.#waiting[0];
    if (at === 0 && next) this.world.later(() => next.begin(), 1);
  }

  /** @param {Transaction} tx */
  commit(tx) {
    if (tx.version) this.version = tx.version;
    this.#cache.push(tx);
  }

  /** @param {Transaction} tx */
  flush(tx) {
    const at = this.#cache.indexOf(tx);
    if (at < 0) return;
    // What was committed before it is flushed with it.
    for (const one of this.#cache.splice(0, at + 1)) this.#keep(one, one.changes);
  }

  /** @param {Transaction} tx @param {Change[]} changes */
  #keep(tx, changes) {
    if (tx.version) this.#flushedVersion = tx.version;
    for (const name of tx.made) this.#flushed.set(name, new Map());
    for (const change of changes) apply(this.#flushed, change);
  }

  /** The handles die, with or without a word. @param {boolean} [force] */
  closeHandles(force = false) {
    for (const handle of this.#handles) handle.die(this.draws.happens(0.5));
    this.#handles.clear();
    for (const tx of [...this.#waiting]) tx.kill('AbortError', force);
  }

  evict() {
    this.closeHandles(true);
    this.#cache = [];
    this.#flushed = new Map();
    this.version = 0;
    this.#flushedVersion = 0;
    this.onevicted();
  }

  /** The page has ended: what was not flushed meets its fate. */
  crash() {
    const cache = this.#cache;
    const again = [];
    this.#cache = [];
    this.#waiting = [];
    this.#handles.clear();
    if (cache.length > 1) this.note('several unflushed');
    for (const tx of cache) {
      // What makes the stores is all or nothing here: without them there is nothing to read.
      const fate = this.draws.pick(tx.version ? ['keep', 'drop']
        : ['keep', 'drop', 'tear', 'duplicate']);
      if (tx.changes.length > 0) this.note(fate);
      if (fate === 'drop') continue;
      this.#keep(tx, fate === 'tear' ? tx.changes.filter(() => this.draws.happens(0.5))
        : tx.changes);
      if (fate === 'duplicate') again.push(...tx.changes);
    }
    for (const change of again) apply(this.#flushed, change);
    this.version = this.#flushedVersion;
  }

  /** One thing stored in one of these stores is damaged; says which.
   *  @param {string[]} stores @param {boolean} lose the thing goes altogether */
  damage(stores, lose) {
    const all = stores.flatMap((store) => [...this.#flushed.get(store)?.keys() ?? []]
      .map((key) => ({ store, key })));
    if (all.length === 0) return null;
    const hit = this.draws.pick(all);
    const there = /** @type {Map<any, any>} */ (this.#flushed.get(hit.store));
    this.note(lose ? 'lose' : 'flip');
    if (lose) there.delete(hit.key);
    else there.set(hit.key, this.#flipped(there.get(hit.key)));
    return hit;
  }

  /** @param {any} value @returns {any} */
  #flipped(value) {
    if (typeof value === 'number') return value ^ (1 << this.draws.below(30));
    if (typeof value === 'string') {
      const at = this.draws.below(value.length + 1);
      const code = value.charCodeAt(at) || 32;
      const other = String.fromCharCode(code ^ (1 << this.draws.below(6)));
      return value.slice(0, at) + other + value.slice(at + 1);
    }
    if (value instanceof Uint8Array) {
      const bytes = value.slice();
      if (bytes.length > 0) bytes[this.draws.below(bytes.length)] ^= 1 << this.draws.below(8);
      return bytes;
    }
    const names = Object.keys(value ?? {});
    if (names.length === 0) return value;
    const name = this.draws.pick(names);
    return { ...value, [name]: this.#flipped(value[name]) };
  }

  /** @param {Map<string, Map<any, any>>} stores @param {number} version puts these there */
  furnish(stores, version) {
    this.#flushed = stores;
    this.version = version;
    this.#flushedVersion = version;
  }
}

class Handle {
  /** @type {Transaction|null} */
  upgrading = null;
  onclose = () => {};
  onversionchange = () => {};
  #dead = false;

  /** @param {Device} device */
  constructor(device) { this.device = device; }

  get objectStoreNames() { return [...this.device.seen.keys()]; }

  /** @param {string} name */
  createObjectStore(name) { this.upgrading?.made.push(name); }

  /** @param {string[]} _stores @param {string} mode @param {{durability: string}} options */
  transaction(_stores, mode, { durability }) {
    if (this.#dead) throw new DOMException('closing', 'InvalidStateError');
    if (this.device.strikes('close')) {
      this.device.closeHandles();
      throw new DOMException('closing', 'InvalidStateError');
    }
    if (mode === 'readwrite' && this.device.strikes('evict')) {
      this.device.evict();
      throw new DOMException('closing', 'InvalidStateError');
    }
    const tx = new Transaction(this.device, mode, durability === 'strict');
    this.device.queue(tx);
    return tx;
  }

  close() { this.#dead = true; }

  /** @param {boolean} aloud */
  die(aloud) {
    this.#dead = true;
    if (aloud) this.device.world.later(() => this.onclose(), 1);
  }
}
