// @ts-check
/** Reading what the journal holds: whole or not, and what is missing between. */

import { result } from './journal-db.mjs';
import { fingerprint, isWhole, isWholeImage } from './journal-seal.mjs';

/** Records read by one request. */
const CHUNK = 10000;

/**
 * @typedef {object} Damage something that was stored and cannot be used
 * @property {'record'|'snapshot'|'count'} what `count`: how many records there were
 * @property {string|number} key where it stood
 * @property {string} why in plain words
 * @property {any} data as it was found; null where nothing was
 *
 * @typedef {import('./journal-seal.mjs').Sealed} Sealed
 * @typedef {(stored: Uint8Array, through: number) =>
 *   Promise<{bytes: Uint8Array, opens: boolean}>} Opener takes a snapshot out of its seal
 * @typedef {object} Found
 * @property {string[]} records whole ones, oldest first
 * @property {number[]} keys their numbers
 * @property {number} lastKey
 * @property {Damage[]} damage
 */

/** What it is called among what was set aside. @param {Damage} damage */
export function nameAside({ what, key, data }) {
  return [what, key, fingerprint(data)].join(' ');
}

/**
 * The newest snapshot that is whole and opens.
 * @param {(name: string) => Promise<any>} get what is stored under a name
 * @param {() => Promise<void>} pause
 * @param {Opener} open
 */
export async function readImages(get, pause, open) {
  /** @type {{bytes: Uint8Array|null, through: number, damage: Damage[],
   *    slots: Record<string, number>, hint: Uint8Array|null}} */
  const found = { bytes: null, through: 0, damage: [], slots: {}, hint: null };
  for (const name of ['a', 'b']) {
    const image = await get(name);
    if (image === undefined) continue;
    const isWhole = await isWholeImage(image, pause);
    const opened = image?.data instanceof Uint8Array
      ? await open(image.data, image.through) : { bytes: null, opens: false };
    if (isWhole && opened.opens) {
      found.slots[name] = image.through;
      if (image.through >= found.through) {
        found.bytes = opened.bytes;
        found.through = image.through;
      }
    } else {
      found.damage.push({ what: 'snapshot', key: name, data: image,
        why: isWhole ? 'does not open with the passcode' : 'does not match its checksum' });
      // It may be its number that is wrong; the app has a check of its own.
      found.hint = opened.bytes ?? found.hint;
    }
  }
  return found;
}

/** The snapshots' names. @param {Record<string, number>} slots how far each reaches */
export function olderFirst(slots) {
  return ['a', 'b'].sort((x, y) => (slots[x] ?? -1) - (slots[y] ?? -1));
}

/**
 * The records after `through`, each under its number, and the number of the last one written.
 * @param {import('./journal-db.mjs').Database} database @param {number} through
 * @returns {Promise<{entries: [number, any][], last: number, done: number, lost: Damage[],
 *   aside: Set<string>}>} `done`: up to this one every write was finished, as far as is noted;
 *   `aside`: the names of what was set aside
 */
export function readRecords(database, through) {
  return database.run('readonly', ['journal', 'settings', 'aside'], (tx, done) => {
    const store = tx.objectStore('journal');
    const found = { entries: /** @type {[number, any][]} */ ([]), last: 0, done: 0,
      lost: /** @type {Damage[]} */ ([]), aside: new Set() };
    done(found);
    tx.objectStore('aside').getAllKeys().onsuccess = (event) => {
      found.aside = new Set(result(event));
    };
    tx.objectStore('settings').get('last').onsuccess = (event) => {
      const last = result(event);
      if (isWhole(last?.to, last)) found.last = last.to;
      else if (last !== undefined) {
        found.lost.push({ what: 'count', key: 'last', why: 'does not match its checksum',
          data: last });
      }
    };
    tx.objectStore('settings').get('done').onsuccess = (event) => {
      const finished = result(event);
      if (isWhole(finished?.to, finished)) found.done = finished.to;
    };
    const next = (/** @type {number} */ after) => {
      const range = IDBKeyRange.lowerBound(after, true);
      /** @type {number[]} */
      let keys = [];
      store.getAllKeys(range, CHUNK).onsuccess = (event) => { keys = result(event); };
      store.getAll(range, CHUNK).onsuccess = (event) => {
        result(event).forEach((/** @type {any} */ value, /** @type {number} */ i) => {
          found.entries.push([keys[i], value]);
        });
        if (keys.length === CHUNK) next(keys[CHUNK - 1]);
      };
    };
    next(through);
  });
}

/**
 * Takes out the records that the newest snapshot stands for. They are the older one's spare:
 * returns whether all of them are whole.
 * @param {[number, any][]} entries in order @param {number} older through where the older reaches
 * @param {number} through the newest one's
 */
export function takeCovered(entries, older, through) {
  const after = entries.findIndex(([key]) => !(key <= through));
  const covered = entries.splice(0, after < 0 ? entries.length : after);
  return covered.length === through - older &&
    covered.every(([key, value], i) => key === older + 1 + i && isWhole(key, value));
}

/**
 * Which records are whole, which are not, which are missing. A hole means that storage lost
 * something; what comes after it still counts, except behind a hole inside a last write that is not
 * known to have been finished: a write is all or nothing, so that one was torn and never said to be
 * stored.
 * @param {number} through the snapshot's
 * @param {Pick<Awaited<ReturnType<typeof readRecords>>, 'entries'|'last'|'done'|'aside'>} stored
 * @returns {Found}
 */
export function checkRecords(through, { entries, last, done, aside }) {
  /** @type {Damage[]} */
  const damage = [];
  const lastKey = entries.findLast(([key]) => Number.isSafeInteger(key))?.[0] ?? through;
  const records = [];
  const keys = [];
  let before = through;
  let end = Math.max(through, last, done);
  let lost = 0;  // the last record that is not there
  const good = new Map(entries.filter(([key, value]) => isWhole(key, value)));
  // A write begins when all before it is stored: up to here nothing was torn.
  const begun = [...good.values()].reduce((most, { from }) => Math.max(most, from), done + 1);
  let torn = false;
  for (const [key, value] of entries) {
    if (!Number.isSafeInteger(key)) {
      damage.push({ what: 'record', key, why: 'stands under no number', data: value });
      continue;
    }
    for (let hole = before + 1; hole < key && hole < before + CHUNK; hole++) {
      damage.push({ what: 'record', key: hole, why: 'is missing', data: null });
      lost = hole;
    }
    before = key;
    if (!good.has(key)) {
      damage.push({ what: 'record', key, why: 'does not match its checksum', data: value });
      lost = key;
      continue;
    }
    end = Math.max(end, value.to);
    if (aside.size > 0 && aside.has(nameAside({ what: 'record', key, why: '', data: value }))) {
      continue;
    }
    torn ||= lost >= begun;
    if (torn) {
      damage.push({ what: 'record', key, why: 'an earlier one of the same write is lost',
        data: value });
    } else if (value.data !== '') {
      records.push(value.data);
      keys.push(key);
    }
  }
  for (let hole = lastKey + 1; hole <= end && hole <= lastKey + CHUNK; hole++) {
    damage.push({ what: 'record', key: hole, why: 'is missing', data: null });
  }
  return { records, keys, lastKey: Math.max(lastKey, end), damage };
}
