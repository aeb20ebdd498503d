// @ts-check
/**
 * What is put around a record and a snapshot, so that damage is found: its number, the numbers of
 * the write that it was part of, and a CRC-32 over all of that.
 */

import { crc32 } from './crc32.mjs';

/**
 * @typedef {string|Uint8Array} Data
 * @typedef {{from: number, to: number, crc: number, data: Data}} Sealed
 *   a record: `from` to `to` were written by one transaction; data '' where a lost one was
 * @typedef {{through: number, crc: number, data: Uint8Array}} Image a snapshot
 */

const encoder = new TextEncoder();
/** Bytes of a snapshot that are added up at once: some milliseconds' worth. */
const SLICE = 1 << 20;

/** @param {number[]} numbers @param {Data} data */
function checksum(numbers, data) {
  const head = crc32(encoder.encode(`${numbers.join(' ')}\n`));
  return crc32(typeof data === 'string' ? encoder.encode(data) : data, head);
}

/** @param {number} key @param {number} from @param {number} to @param {Data} data
 *  @returns {Sealed} */
export function seal(key, from, to, data) {
  return { from, to, crc: checksum([key, from, to], data), data };
}

/** @param {number} key @param {any} value what is stored under the key */
export function isWhole(key, value) {
  const kind = value?.data;
  return (typeof kind === 'string' || kind instanceof Uint8Array) &&
    Number.isSafeInteger(value.from) && Number.isSafeInteger(value.to) &&
    value.from <= key && key <= value.to &&
    value.crc === checksum([key, value.from, value.to], kind);
}

/** A snapshot's checksum, added up in slices with a pause between them.
 *  @param {number} through @param {Uint8Array} bytes @param {() => Promise<void>} pause */
async function checksumInSlices(through, bytes, pause) {
  let crc = crc32(encoder.encode(`${through}\n`));
  for (let at = 0; at < bytes.length; at += SLICE) {
    if (at > 0) await pause();
    crc = crc32(bytes.subarray(at, at + SLICE), crc);
  }
  return crc;
}

/** @param {number} through @param {Uint8Array} data @param {() => Promise<void>} pause
 *  @returns {Promise<Image>} */
export async function sealImage(through, data, pause) {
  return { through, crc: await checksumInSlices(through, data, pause), data };
}

/** The same at once. @param {number} through @param {Uint8Array} data @returns {Image} */
export function sealImageNow(through, data) {
  return { through, crc: checksum([through], data), data };
}

/** @param {any} image what is stored @param {() => Promise<void>} pause */
export async function isWholeImage(image, pause) {
  return image?.data instanceof Uint8Array && Number.isSafeInteger(image.through) &&
    image.crc === await checksumInSlices(image.through, image.data, pause);
}

/** A number that tells damaged things apart. @param {any} data as it was found */
export function fingerprint(data) {
  const inner = data?.data ?? data;
  if (inner instanceof Uint8Array) return crc32(inner);
  return crc32(encoder.encode(typeof data === 'string' ? data : JSON.stringify(data)));
}
