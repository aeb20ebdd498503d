// @ts-check
/** One transaction of the simulated device (device.mjs says what it does). */

/** @typedef {import('./device.mjs').Device} Device */
/** @typedef {{store: string, op: 'put'|'delete'|'clear', key?: any, value?: any}} Change */

export const NEVER_MS = 60000;

/** Numbers before texts, as IndexedDB orders them. @param {any} a @param {any} b */
const order = (a, b) => typeof a === typeof b ? (a < b ? -1 : Number(a > b))
  : typeof a === 'number' ? -1 : 1;

/** @param {any} value */
function copy(value) {
  if (value instanceof Uint8Array) return value.slice();
  if (value === null || typeof value !== 'object') return value;
  return Object.fromEntries(Object.entries(value).map(([name, one]) => [name, copy(one)]));
}

/** The ranges that the journal asks for. */
export const KeyRange = {
  lowerBound: (/** @type {any} */ low, open = false) => ({ low, open }),
  upperBound: (/** @type {any} */ high) => ({ high }),
};

/** @param {any} range @param {any} key */
function inRange(range, key) {
  if (range === undefined) return true;
  if (typeof range !== 'object') return key === range;
  if (range.low !== undefined) {
    const side = order(key, range.low);
    if (side < 0 || (side === 0 && range.open)) return false;
  }
  return range.high === undefined || order(key, range.high) <= 0;
}

/** @param {Map<string, Map<any, any>>} stores @param {Change} change */
export function apply(stores, { store, op, key, value }) {
  const there = stores.get(store);
  if (!there) return;
  if (op === 'put') there.set(key, value);
  else if (op === 'clear') there.clear();
  else for (const one of [...there.keys()]) if (inRange(key, one)) there.delete(one);
}

export class Transaction {
  /** @type {Change[]} */
  changes = [];
  /** Stores that it makes. @type {string[]} */
  made = [];
  error = null;
  onstart = () => {};
  /** @type {Map<string, Map<any, any>>} */
  #view = new Map();
  /** @type {{run: () => any, request: any}[]} */
  #requests = [];
  /** @type {Record<string, (() => void)[]>} */
  #listeners = { complete: [], abort: [] };
  /** @type {'waiting'|'open'|'committing'|'over'} */
  #stage = 'waiting';

  /** @param {Device} device @param {string} mode @param {boolean} strict
   *  @param {number} [version] */
  constructor(device, mode, strict, version = 0) {
    this.device = device;
    this.mode = mode;
    this.strict = strict;
    this.version = version;
  }

  /** @param {string} type @param {() => void} listener */
  addEventListener(type, listener) { this.#listeners[type].push(listener); }

  /** @param {string} name */
  objectStore(name) {
    const read = (/** @type {(store: Map<any, any>) => any} */ look) =>
      this.#ask(() => look(this.#view.get(name) ?? new Map()));
    const write = (/** @type {Change} */ change) => this.#ask(() => {
      if (change.op === 'put' && this.device.strikes('quota')) {
        throw new DOMException('full', 'QuotaExceededError');
      }
      this.changes.push(change);
      apply(this.#view, change);
    });
    const sorted = (/** @type {Map<any, any>} */ store, /** @type {any} */ range) =>
      [...store].filter(([key]) => inRange(range, key)).sort(([a], [b]) => order(a, b));
    return {
      get: (/** @type {any} */ key) => read((store) => copy(store.get(key))),
      count: (/** @type {any} */ key) => read((store) => sorted(store, key).length),
      getAll: (/** @type {any} */ range, n = Infinity) => read((store) =>
        sorted(store, range).slice(0, n).map(([, value]) => copy(value))),
      getAllKeys: (/** @type {any} */ range, n = Infinity) => read((store) =>
        sorted(store, range).slice(0, n).map(([key]) => key)),
      openCursor: () => this.#cursor(name),
      put: (/** @type {any} */ value, /** @type {any} */ key) =>
        write({ store: name, op: 'put', key, value: copy(value) }),
      delete: (/** @type {any} */ key) => write({ store: name, op: 'delete', key }),
      clear: () => write({ store: name, op: 'clear' }),
    };
  }

  /** @param {string} name */
  #cursor(name) {
    const entries = [...this.#view.get(name) ?? []].sort(([a], [b]) => order(a, b));
    /** @type {any} */
    const request = {};
    let at = 0;
    const step = () => this.#ask(() => {
      const entry = entries[at++];
      return entry ? { key: entry[0], value: copy(entry[1]), continue: step } : null;
    }, request);
    return step();
  }

  /** @param {() => any} run @param {any} [request] */
  #ask(run, request = {}) {
    if (this.#stage === 'committing' || this.#stage === 'over') {
      throw new DOMException('over', 'TransactionInactiveError');
    }
    this.#requests.push({ run, request });
    return request;
  }

  begin() {
    if (this.#stage !== 'waiting') return;
    this.#stage = 'open';
    this.#view = this.device.seen;
    this.onstart();
    for (const name of this.made) this.#view.set(name, new Map());
    this.#next();
  }

  #next() {
    const { world } = this.device;
    world.later(() => {
      if (this.#stage !== 'open') return;
      const asked = this.#requests.shift();
      if (!asked) {
        this.#commit();
        return;
      }
      try {
        asked.request.result = asked.run();
      } catch (error) {
        this.kill(/** @type {DOMException} */ (error).name);
        return;
      }
      asked.request.onsuccess?.({ target: asked.request });
      this.#next();
    }, this.device.strikes('hang') ? NEVER_MS : 1);
  }

  #commit() {
    const { world, draws } = this.device;
    this.#stage = 'committing';
    this.device.commit(this);
    const complete = () => {
      if (this.#stage === 'over') return;
      this.#stage = 'over';
      for (const listener of this.#listeners.complete) listener();
      this.device.ended(this);
    };
    const hangs = this.device.strikes('hang');
    const wait = hangs ? NEVER_MS : 1 + draws.below(4);
    // Whoever has lost patience with it does not wait for it to be flushed.
    if (hangs) world.later(() => this.device.ended(this), 1);
    if (!this.strict) world.later(complete, 1);
    world.later(() => {
      this.device.flush(this);
      if (this.strict) complete();
    }, this.strict ? wait : 200 + wait);
  }

  abort() {
    if (this.#stage === 'committing' || this.#stage === 'over') {
      throw new DOMException('over', 'InvalidStateError');
    }
    this.kill('AbortError');
  }

  /** @param {string} name @param {boolean} [force] what is committing ends, too */
  kill(name, force = false) {
    if (this.#stage === 'over' || (this.#stage === 'committing' && !force)) return;
    this.#stage = 'over';
    this.error = /** @type {any} */ (new DOMException(name, name));
    this.device.world.later(() => {
      for (const listener of this.#listeners.abort) listener();
    }, 1);
    this.device.ended(this);
  }
}
