// @ts-check
/**
 * One simulated lesson: a device that fails (device.mjs), the real storage.mjs and journal.mjs on
 * it, and a small app that keeps its side of the agreement as ui/app_storage.cpp does. The page is
 * opened a few times and each time ends in the middle or in peace; taps happen at any moment.
 *
 * What must hold each time something is read back:
 *   - without damage on the closed device: what comes back is a prefix of what happened, in order,
 *     and holds everything of which storage had said that it is stored;
 *   - with damage: what comes back is in the order of what happened, and everything that was said
 *     to be stored and does not come back is named in `damage`, and lies in `aside` if a trace of
 *     it was left; one damaged snapshot loses nothing, unless storage has refused all along to mend
 *     what was lost before of that snapshot's spare (the older one and the records behind it).
 * After the browser has cleared everything nothing counts as stored until it is said again.
 */

import { crc32 } from '../../web-shell/js/crc32.mjs';
import { IMAGES, Images } from '../../web-shell/js/journal-images.mjs';
import { SealedJournal } from '../../web-shell/js/sealed-journal.mjs';
import { Storage } from '../../web-shell/js/storage.mjs';
import { Device, NO_FAULTS } from './device.mjs';
import { KeyRange } from './transaction.mjs';
import { Draws, World } from './world.mjs';

Object.assign(globalThis, { IDBKeyRange: KeyRange, BroadcastChannel: undefined });

const SNAPSHOT_EVERY = 7;
/** So many at once are not stored as records. */
const MANY = 4;
const RETRY_MS = 4000;
const encoder = new TextEncoder();
const decoder = new TextDecoder();

/** @typedef {import('../../web-shell/js/journal.mjs').Held} Held */

/** @param {boolean} holds @param {string} what @param {any} [facts] */
function require(holds, what, facts) {
  if (!holds) throw new Error(`${what}: ${JSON.stringify(facts)}`);
}

/** The events of a snapshot, if it is one. @param {Uint8Array|null} bytes @returns {string[]} */
function unpack(bytes) {
  if (!bytes) return [];
  try {
    const { events, sum } = JSON.parse(decoder.decode(bytes));
    return sum === sumOf(events) ? events : [];
  } catch {
    return [];
  }
}

/** @param {string[]} events */
const pack = (events) => encoder.encode(JSON.stringify({ events, sum: sumOf(events) }));

/** @param {string[]} events */
const sumOf = (events) => crc32(encoder.encode(events.join()));

/** What the app does with storage, as ui/app_storage.cpp. */
class Page {
  /** @type {string[]} */
  events = [];
  /** @type {Map<number, string>} written and not durable yet; '' stands for a snapshot */
  pending = new Map();
  trouble = 'not open';
  readOnly = false;
  /** What is stored with each snapshot under way. @type {Map<number, string[]>} */
  #whole = new Map();
  #lastKey = 0;
  #snapshotKey = 0;
  #retryKey = 0;

  /** @param {Lesson} lesson */
  constructor(lesson) {
    this.lesson = lesson;
    const { world } = lesson;
    const timers = { set: (/** @type {() => void} */ call, /** @type {number} */ ms) =>
      world.later(call, ms), clear: (/** @type {any} */ timer) => world.forget(timer) };
    // Snapshots that are one value, of a few pieces, of many.
    const images = new Images(lesson.draws.pick([1 << 20, 60, 16]));
    this.journal = new SealedJournal({ factory: /** @type {any} */ (lesson.device), timers,
      images });
    const lock = { acquire: async () => true, steal: async () => true };
    this.storage = new Storage({
      stored: (key) => this.#stored(key),
      notStored: (key) => this.#notStored(key),
      heard: () => {},
      lost: () => { this.readOnly = true; },
      gained: () => {},
      healed: (held) => this.#take(held),
      failed: (reason) => {
        this.trouble = reason;
        this.pending.clear();
      },
    }, { journal: this.journal, lock: /** @type {any} */ (lock), timers });
  }

  async open() {
    try {
      const { held } = await this.storage.open();
      this.#take(held);
    } catch (error) {
      this.trouble = String(error);
    }
  }

  /** What storage holds, and what only this page has. @param {Held} held */
  #take(held) {
    const read = [...new Set([...unpack(held.snapshot), ...held.records])];
    try {
      this.lesson.check(held, read);
    } catch (error) {
      this.lesson.failure ??= error;
    }
    const only = this.events.filter((event) => !read.includes(event));
    this.events = read;
    this.pending.clear();
    this.#retryKey = 0;
    this.trouble = '';
    this.#lastKey = held.lastKey;
    this.#snapshotKey = held.damage.length > 0 ? -SNAPSHOT_EVERY : held.through;
    this.lesson.begin(read);
    for (const event of only) this.tap([event]);
    this.#maybeSnapshot();
  }

  /** @param {string[]} events */
  tap(events) {
    if (this.readOnly) return;
    if (events.length >= MANY && !this.trouble) {
      this.#bring(events);
      return;
    }
    for (const event of events) {
      this.events.push(event);
      this.lesson.happened(event);
      this.#lastKey += 1;
      if (this.trouble) continue;
      this.pending.set(this.#lastKey, event);
      this.lesson.keys.set(event, this.#lastKey);
      this.storage.append(this.#lastKey, event, () => this.lesson.acknowledged(event));
    }
  }

  /** Very many at once, as from a plan file: one snapshot, not records. @param {string[]} events */
  #bring(events) {
    for (const event of events) {
      this.events.push(event);
      this.lesson.happened(event);
      this.#lastKey += 1;
      this.lesson.keys.set(event, this.#lastKey);
    }
    this.#snapshotKey = this.#lastKey;
    this.pending.set(this.#lastKey, '');
    this.#whole.set(this.#lastKey, [...this.events]);
    this.#writeWhole(this.#lastKey);
  }

  /** @param {number} key */
  #writeWhole(key) {
    this.storage.snapshot(key, pack(this.events), true);
  }

  #maybeSnapshot() {
    if (this.pending.size > 0 || this.trouble || this.readOnly) return;
    if (this.#lastKey < this.#snapshotKey + SNAPSHOT_EVERY) return;
    this.#snapshotKey = this.#lastKey;
    this.storage.snapshot(this.#lastKey, pack(this.events));
  }

  /** @param {number} key */
  #stored(key) {
    for (const event of this.#whole.get(key) ?? []) this.lesson.acknowledged(event);
    this.#whole.delete(key);
    for (const one of [...this.pending.keys()]) if (one <= key) this.pending.delete(one);
    if (this.pending.size === 0) this.#maybeSnapshot();
  }

  /** @param {number} key */
  #notStored(key) {
    const due = this.#retryKey !== 0;
    this.#retryKey = due ? Math.min(this.#retryKey, key) : key;
    if (!due) this.lesson.world.later(() => this.#retry(), RETRY_MS);
  }

  #retry() {
    const from = this.#retryKey;
    this.#retryKey = 0;
    if (from === 0 || this.trouble) return;
    for (const [key, event] of this.pending) {
      if (key < from) continue;
      if (event === '') this.#writeWhole(key);
      else this.storage.append(key, event, () => this.lesson.acknowledged(event));
    }
  }
}

export class Lesson {
  world = new World();
  /** Everything that happened and may come back, in order. @type {string[]} */
  #happened = [];
  /** Of these storage has said that it is stored. @type {Set<string>} */
  #acknowledged = new Set();
  /** Lost and named before: a damaged snapshot that the app can read may bring it back.
   *  @type {Set<string>} */
  #namedLost = new Set();
  /** Number of each event's record. @type {Map<string, number>} */
  keys = new Map();
  /** Damage done since the last reading; `spared`: the newest snapshot could be done without.
   *  @type {{store: string, key: any, lose: boolean, spared: boolean}[]} */
  #damage = [];
  #count = 0;
  #evictedAt = -1;
  #cleared = false;
  /** The first thing that did not hold. @type {unknown} */
  failure = null;
  /** What was seen: for the tally. */
  tally = { events: 0, acknowledged: 0, starts: 0, readings: 0, damaged: 0 };

  /** @param {number} seed */
  constructor(seed) {
    this.draws = new Draws(seed);
    this.device = new Device(this.world, this.draws);
    this.device.onevicted = () => {
      this.#evictedAt = this.world.steps;
      this.#cleared = true;
      this.#acknowledged.clear();
    };
  }

  /** A device that the first released version has written to. */
  #furnish() {
    const count = 1 + this.draws.below(20);
    const events = Array.from({ length: count }, () => `e${++this.#count}`);
    const slots = /** @type {Record<string, any>} */ ({});
    const snapshots = new Map();
    const through = ['a', 'b'].map(() => this.draws.below(count + 1)).sort((x, y) => x - y);
    through.slice(this.draws.below(3)).forEach((n, i) => {
      const bytes = pack(events.slice(0, n));
      snapshots.set('ab'[i], bytes);
      slots['ab'[i]] = { through: n, crc: crc32(bytes) };
    });
    const from = snapshots.size === 2 ? Math.min(slots.a.through, slots.b.through) : 0;
    const records = new Map(events.map((event, i) => /** @type {[number, string]} */ (
      [i + 1, event])).filter(([key]) => key > from));
    const settings = new Map(Object.entries({ slots, writer: 3, preferences: '{}' }));
    this.device.furnish(new Map(Object.entries({ records, snapshots, settings })), 1);
    for (const [i, event] of events.entries()) this.keys.set(event, i + 1);
    this.begin(events);
  }

  async run() {
    const { draws, device } = this;
    if (draws.happens(0.15)) this.#furnish();
    const visits = 1 + draws.below(4);
    for (let visit = 0; visit < visits; visit++) {
      device.faults = this.#drawFaults();
      await this.#visit(draws.happens(0.75));
      if (draws.happens(0.25)) this.#harm();
    }
    device.faults = NO_FAULTS;
    await this.#visit(false);
    const page = new Page(this);
    page.open();
    await this.world.run(() => page.trouble === '');
    if (this.failure) throw this.failure;
    require(page.trouble === '', 'a sound device opens', page.trouble);
  }

  #drawFaults() {
    const chance = () => this.draws.pick([0, 0, 0, 0.01, 0.03, 0.1]);
    return { quota: chance(), hang: chance() / 3, close: chance(), open: chance() * 2,
      evict: chance() / 20 };
  }

  /** Opens the page and taps. @param {boolean} crashes ends in the middle of something */
  async #visit(crashes) {
    const { world, draws, device } = this;
    this.tally.starts++;
    this.#cleared = false;
    const page = new Page(this);
    page.open();
    const began = world.now;
    let at = 0;
    for (let n = draws.below(14); n > 0; n--) {
      at += draws.below(draws.happens(0.5) ? 8 : 3000);
      const events = Array.from({ length: draws.happens(0.2) ? 1 + draws.below(5) : 1 },
        () => `e${++this.#count}`);
      world.later(() => page.tap(events), at);
    }
    const last = crashes ? 1 + draws.below(160) : Infinity;
    // Half of the ends come while something is committed and not flushed.
    const awaited = draws.happens(0.5) ? 1 : 0;
    await world.run(() => (world.steps >= last && device.unflushed >= awaited) ||
      world.now > began + at + 300000);
    if (this.failure) throw this.failure;
    if (!crashes && device.faults === NO_FAULTS) {
      require(page.pending.size === 0 && page.trouble === '', 'all is stored in the end',
        [[...page.pending], page.trouble]);
    }
    world.die();
    device.crash();
  }

  /** The closed device loses or changes something. */
  #harm() {
    const { draws, device } = this;
    for (let n = draws.pick([1, 1, 1, 2, 3]); n > 0; n--) {
      const lose = draws.happens(0.3);
      // Version 1 kept its snapshots' numbers without a checksum: damage to these is not seen.
      const old = device.seen.get('settings')?.has('slots');
      const stores = lose ? ['journal']
        : draws.pick([['journal'], IMAGES, [old ? 'journal' : 'settings']]);
      const spared = this.#hasSpare();
      const hit = device.damage(stores, lose);
      if (hit) this.#damage.push({ ...hit, lose, spared });
    }
  }

  /** The older snapshot and the records behind it would do in place of the newest. */
  #hasSpare() {
    const [images, journal] = ['images', 'journal'].map((name) => this.device.seen.get(name));
    const [older, newest] = ['a', 'b'].map((name) => images?.get(name)?.through ?? 0)
      .sort((x, y) => x - y);
    for (let key = older + 1; key <= newest; key++) if (!journal?.get(key)?.data) return false;
    return true;
  }

  /** @param {string} event */
  happened(event) {
    if (this.#happened.includes(event)) return;
    this.#happened.push(event);
    this.tally.events++;
  }

  /** @param {string} event */
  acknowledged(event) {
    // Stored, cleared and said to be stored in one breath.
    if (this.world.steps === this.#evictedAt) return;
    this.#cleared = false;
    this.#acknowledged.add(event);
    this.tally.acknowledged++;
  }

  /** From here on only what was read has happened. @param {string[]} read */
  begin(read) {
    this.#happened = [...read];
    // It may have been cleared while it was read: then it is stored again with the next tap.
    this.#acknowledged = new Set(this.#cleared ? [] : read);
    this.#damage = [];
  }

  /** @param {Held} held @param {string[]} read */
  check(held, read) {
    this.tally.readings++;
    const happened = this.#happened;
    const lost = [...this.#acknowledged].filter((event) => !read.includes(event));
    const facts = { happened, read, lost, found: held.damage.map(({ what, key, why }) =>
      `${what} ${key} ${why}`), done: this.#damage };
    const back = held.through === 0 && held.damage.some(({ what }) => what === 'snapshot')
      ? read.filter((event) => this.#namedLost.has(event)) : [];
    const known = [...happened, ...back].sort((a, b) => Number(a.slice(1)) - Number(b.slice(1)));
    const places = read.map((event) => known.indexOf(event));
    require(places.every((place, i) => place >= 0 && (i === 0 || place > places[i - 1])),
      'only what happened, in order', facts);
    const harmed = this.#damage.filter(({ store }) => store !== 'settings');
    if (harmed.length === 0) {
      require(lost.length === 0, 'nothing that was stored is lost', facts);
      require(places.every((place, i) => place === i), 'a prefix of what happened', facts);
      return;
    }
    this.tally.damaged++;
    // One damaged snapshot costs nothing while the other is whole.
    require(lost.length === 0 || held.through === 0 ||
      harmed.some(({ store, spared }) => store === 'journal' || !spared),
    'one snapshot is enough', facts);
    this.#checkNames(held, lost, facts);
  }

  /** Everything that is lost has been named, now or at a start before, and lies aside.
   *  @param {Held} held @param {string[]} lost @param {any} facts */
  #checkNames(held, lost, facts) {
    const aside = [...this.device.seen.get('aside')?.values() ?? []];
    const named = [...held.damage, ...aside];
    const sorts = new Set(named.map(({ what }) => what));
    const records = new Set(named.map(({ key }) => key));
    // Without any snapshot, or without knowing how many there were, their numbers are not known.
    if (!sorts.has('count') && !(sorts.has('snapshot') && held.through === 0)) {
      for (const event of lost) {
        require(records.has(this.keys.get(event)), `${event} is lost and not named`, facts);
        this.#namedLost.add(event);
      }
    }
    if (this.#cleared) return;  // while it was read: what was set aside with it
    require(held.aside > aside.length || held.damage.every(({ what, key, why }) =>
      aside.some((one) => one.what === what && one.key === key && one.why === why)),
    'what is named lies aside, or waits to', facts);
  }
}
