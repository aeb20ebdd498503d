// @ts-check
/**
 * The two snapshots as they lie in storage. The bytes of a large one are in pieces, each put and
 * read by a request of its own: as one value the browser would copy all of them in one go, and the
 * screen would stand still.
 *
 * Pieces come first, in a place of their own beside all others; the one value that points to them
 * follows when they are stored. So a write that is torn, or done once more too late, leaves a
 * snapshot that was there before as it was.
 */

import { result } from './journal-db.mjs';

/** The stores that hold them. */
export const IMAGES = ['images', 'parts'];
/** Bytes of a piece. */
const PART = 1 << 20;
const DIGITS = 5;
/** No number is a checksum of this. */
const NEVER_WHOLE = -1;

/** @typedef {import('./journal-seal.mjs').Image} Image */

/** Where the pieces of a snapshot lie. @param {string} name @param {Image} image */
const placeOf = (name, { through, crc }) => `${name} ${through} ${crc.toString(16)}`;
/** @param {string} place @param {number} n from 0 on */
const partName = (place, n) => `${place} ${String(n).padStart(DIGITS, '0')}`;

/** @param {Uint8Array[]} parts */
function joined(parts) {
  const all = new Uint8Array(parts.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const part of parts) {
    all.set(part, at);
    at += part.length;
  }
  return all;
}

/** Pieces that no snapshot points to go. @param {IDBTransaction} tx of both stores
 *  @param {string} coming a place that one will point to */
function dropStrays(tx, coming) {
  const [images, parts] = IMAGES.map((store) => tx.objectStore(store));
  images.getAll().onsuccess = (event) => {
    const places = new Set([coming,
      ...result(event).map((/** @type {any} */ image) => image?.place)]);
    parts.getAllKeys().onsuccess = (answer) => {
      for (const key of result(answer)) {
        if (!places.has(String(key).slice(0, -1 - DIGITS))) parts.delete(key);
      }
    };
  };
}

export class Images {
  #part;

  /** @param {number} [part] bytes of a piece */
  constructor(part = PART) {
    this.#part = part;
  }

  /** Needs `putPieces` before `put`. @param {Image} image */
  isLarge(image) {
    return image.data.length > this.#part;
  }

  /** @param {IDBTransaction} tx of both stores @param {string} name @param {Image} image */
  putPieces(tx, name, image) {
    dropStrays(tx, placeOf(name, image));
    this.#putPieces(tx, name, image);
  }

  /** @param {IDBTransaction} tx @param {string} name @param {Image} image */
  #putPieces(tx, name, image) {
    const { data } = image;
    const place = placeOf(name, image);
    const next = (/** @type {number} */ n) => {
      const end = (n + 1) * this.#part;
      const put = tx.objectStore('parts').put(data.slice(n * this.#part, end), partName(place, n));
      if (end < data.length) put.onsuccess = () => next(n + 1);
    };
    next(0);
  }

  /** Puts a snapshot in the place of the one that has this name.
   *  @param {IDBTransaction} tx of both stores @param {string} name @param {Image} image */
  put(tx, name, image) {
    const { data, ...head } = image;
    tx.objectStore('images').put(this.isLarge(image) ? { ...head, place: placeOf(name, image),
      parts: Math.ceil(data.length / this.#part) } : image, name);
  }

  /** Puts one in the place of all that were there. @param {IDBTransaction} tx of both stores
   *  @param {Image} image */
  putAlone(tx, image) {
    tx.objectStore('parts').clear();
    for (const name of ['a', 'b']) {
      if (this.isLarge(image)) this.#putPieces(tx, name, image);
      this.put(tx, name, image);
    }
  }

  /** Reads a snapshot, whole or not. @param {IDBTransaction} tx of both stores
   *  @param {string} name
   *  @param {(image: any) => void} done told what is there under the name, its pieces joined */
  get(tx, name, done) {
    tx.objectStore('images').get(name).onsuccess = (event) => {
      const image = result(event);
      if (image?.place === undefined) return done(image);
      const { place, parts, ...head } = image;
      /** @type {Uint8Array[]} */
      const found = [];
      const next = () => {
        tx.objectStore('parts').get(partName(place, found.length)).onsuccess = (answer) => {
          const piece = result(answer);
          if (piece instanceof Uint8Array) found.push(piece);
          if (piece instanceof Uint8Array && found.length < parts) next();
          else done({ ...head, data: joined(found) });
        };
      };
      return next();
    };
  }

  /** It stays readable for the app, but never counts as whole again, even if only the reading had
   *  gone wrong. @param {IDBTransaction} tx of both stores @param {string} name */
  markDamaged(tx, name) {
    const images = tx.objectStore('images');
    images.get(name).onsuccess = (event) => {
      images.put({ ...result(event), crc: NEVER_WHOLE }, name);
    };
  }
}
