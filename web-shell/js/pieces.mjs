// @ts-check
/**
 * A file in pieces that may be missed and may come in any order, for a way that only goes one way:
 * one device shows them, the other looks.
 *
 * The first `count` pieces are the file itself, cut into blocks. Every later one is the exclusive
 * or of about half of the blocks, drawn at random from its number: a random linear code over GF(2),
 * in which any `count` + d pieces fail to give the file with a chance of about 2^-d (Luby 2002 and
 * MacKay 2005 have the faster codes of this kind; a plan is small enough for the plain one). So a
 * missed piece costs no more than the next one.
 *
 * A piece: "TRP1", CRC-32 of the file, its length, the block size (two bytes), the piece's number,
 * all big-endian, then a block.
 */
import { crc32 } from './crc32.mjs';

const MARK = [0x54, 0x52, 0x50, 0x31];
export const HEAD = 18;
/** Longer files are carried as files. */
export const LONGEST = 4 << 20;

/** Every bit of `x` moves every bit: the finaliser of MurmurHash3 (Appleby, public domain).
 *  @param {number} x */
function mix(x) {
  x = Math.imul(x ^ (x >>> 16), 0x85ebca6b);
  x = Math.imul(x ^ (x >>> 13), 0xc2b2ae35);
  return (x ^ (x >>> 16)) >>> 0;
}

/**
 * Which blocks piece `number` holds. A shift register would not do for drawing them: it is linear
 * over GF(2) itself, so that its rows span no more dimensions than it has bits.
 * @param {number} number @param {number} count @returns {Uint8Array} one byte a block
 */
function members(number, count) {
  const chosen = new Uint8Array(count);
  if (number < count) {
    chosen[number] = 1;
    return chosen;
  }
  const seed = mix(number);
  for (let block = 0; block < count; block++) chosen[block] = mix(seed + block) & 1;
  if (!chosen.includes(1)) chosen[seed % count] = 1;
  return chosen;
}

/** @param {Uint8Array} into @param {Uint8Array} from */
function xor(into, from) {
  for (let i = 0; i < into.length; i++) into[i] ^= from[i];
}

export class PieceMaker {
  #file;
  #room;
  #crc;
  count;

  /** @param {Uint8Array} file @param {number} room bytes of a block */
  constructor(file, room) {
    if (file.length === 0 || file.length > LONGEST) {
      throw new RangeError(`A file of ${file.length} bytes cannot be cut into pieces.`);
    }
    this.#file = file;
    this.#room = room;
    this.#crc = crc32(file);
    this.count = Math.ceil(file.length / room);
  }

  /** @param {number} number from 0, without end @returns {Uint8Array} */
  piece(number) {
    const whole = new Uint8Array(HEAD + this.#room);
    whole.set(MARK);
    const view = new DataView(whole.buffer);
    view.setUint32(4, this.#crc);
    view.setUint32(8, this.#file.length);
    view.setUint16(12, this.#room);
    view.setUint32(14, number);
    const block = whole.subarray(HEAD);
    members(number, this.count).forEach((isIn, i) => {
      if (isIn) xor(block, this.#padded(i));
    });
    return whole;
  }

  /** @param {number} block */
  #padded(block) {
    const part = this.#file.subarray(block * this.#room, (block + 1) * this.#room);
    if (part.length === this.#room) return part;
    const full = new Uint8Array(this.#room);
    full.set(part);
    return full;
  }
}

/** @typedef {{members: Uint8Array, block: Uint8Array}} Row */

export class PieceTaker {
  /** What the pieces in hand are of. */
  #crc = 0;
  #length = 0;
  #room = 0;
  /** Row with its first member at this place, in echelon form. @type {(Row|null)[]} */
  #rows = [];
  /** Pieces in hand that say something new. */
  have = 0;
  /** Pieces needed; 0 before the first. */
  count = 0;

  /**
   * @param {Uint8Array} piece whatever was read; anything that is no piece is passed over
   * @returns {'no piece'|'known'|'new'|'done'} done: `file` has it
   */
  take(piece) {
    const view = new DataView(piece.buffer, piece.byteOffset, piece.byteLength);
    if (piece.length <= HEAD || MARK.some((byte, i) => piece[i] !== byte)) return 'no piece';
    const [crc, length, room] = [view.getUint32(4), view.getUint32(8), view.getUint16(12)];
    if (room !== piece.length - HEAD || length === 0 || length > LONGEST) return 'no piece';
    if (crc !== this.#crc || length !== this.#length || room !== this.#room) {
      this.#start(crc, length, room);
    }
    if (this.have === this.count) return 'done';
    const row = { members: members(view.getUint32(14), this.count), block: piece.slice(HEAD) };
    if (!this.#put(row)) return 'known';
    this.have += 1;
    if (this.have < this.count) return 'new';
    this.#solve();
    if (crc32(this.file()) === this.#crc) return 'done';
    this.#start(crc, length, room);  // one was misread: from the start
    return 'new';
  }

  /** Another file's pieces. @param {number} crc @param {number} length @param {number} room */
  #start(crc, length, room) {
    this.#crc = crc;
    this.#length = length;
    this.#room = room;
    this.count = Math.ceil(length / room);
    this.#rows = new Array(this.count).fill(null);
    this.have = 0;
  }

  /** Whether the row says anything that those in hand do not. @param {Row} row */
  #put(row) {
    for (let at = row.members.indexOf(1); at >= 0; at = row.members.indexOf(1, at + 1)) {
      const there = this.#rows[at];
      if (!there) {
        this.#rows[at] = row;
        return true;
      }
      xor(row.members, there.members);
      xor(row.block, there.block);
    }
    return false;
  }

  /** Back substitution: afterwards row i is block i. */
  #solve() {
    for (let at = this.count - 1; at >= 0; at--) {
      const row = /** @type {Row} */ (this.#rows[at]);
      for (let other = at + 1; other < this.count; other++) {
        if (!row.members[other]) continue;
        row.members[other] = 0;
        xor(row.block, /** @type {Row} */ (this.#rows[other]).block);
      }
    }
  }

  /** The file, once `take` said done. @returns {Uint8Array} */
  file() {
    const all = new Uint8Array(this.count * this.#room);
    this.#rows.forEach((row, i) => all.set(/** @type {Row} */ (row).block, i * this.#room));
    return all.subarray(0, this.#length);
  }
}
