// @ts-check
/**
 * Plan files sealed with a passcode (see vault.mjs). Version 1 is one seal over all of it. A large
 * one, version 2, is sealed in boxes, one a line: the file's beginning, which is known last and so
 * bound to the number of boxes behind it, then those, each bound to its number. So none can be
 * left out, added or moved, and neither side ever has all of it in hand.
 */
import { fromBase64, openFileKey, seal, toBase64, unseal } from './vault.mjs';

const FORMAT = 'tallyround-sealed';
/** More rounds than this in a file are a trick to keep the device busy. */
const MOST_ROUNDS = 10000000;
/** Bytes of a box: what is worked on at a time. */
const BOX = 64 << 10;
/** The boxes begin within so many bytes. */
export const START = 4096;
const BOXES = '"boxes": [';
const SLICE = 1 << 20;

const decoder = new TextDecoder('utf-8', { fatal: true });

const damaged = () => new Error('The file is damaged or was changed. Use another copy of it.');
const cut = () => new Error('The file is cut short or damaged. Use another copy of it.');

/** @typedef {import('./vault.mjs').Bytes} Bytes */
/** @typedef {Awaited<ReturnType<import('./vault.mjs').Vault['fileKey']>>} FileKey */

/** What stands in front of what is sealed. @param {number} version @param {FileKey} fileKey */
function envelope(version, { rounds, salt, key }) {
  return {
    format: FORMAT,
    version,
    kdf: { name: 'PBKDF2-HMAC-SHA-256', rounds, salt: toBase64(salt) },
    cipher: 'AES-256-GCM',
    key: toBase64(key),
  };
}

/** @param {any} file as in `envelope` @param {number} version */
function readEnvelope(file, version) {
  const rounds = file?.kdf?.rounds;
  if (file?.format !== FORMAT || file.kdf?.name !== 'PBKDF2-HMAC-SHA-256' ||
      file.cipher !== 'AES-256-GCM' || file.version !== version) {
    throw new Error(
      'The file was sealed by a newer version of the app. Update the app to open it.');
  }
  if (!Number.isInteger(rounds) || rounds < 1 || rounds > MOST_ROUNDS) {
    throw new Error('The file’s number of rounds is not one that this app makes.');
  }
  return { rounds, salt: fromBase64(file.kdf.salt), key: fromBase64(file.key) };
}

/** @param {string} text @returns {any} */
function parsed(text) {
  try {
    return JSON.parse(text);
  } catch {
    throw cut();
  }
}

// In one seal -----------------------------------------------------------------------------------

/** A file that opens anywhere with the vault's passcode.
 *  @param {import('./vault.mjs').Vault} vault @param {Bytes} bytes */
export async function sealFile(vault, bytes) {
  const fileKey = await vault.fileKey();
  const box = toBase64(await seal(fileKey.data, 'file', bytes));
  return `${JSON.stringify({ ...envelope(1, fileKey), box }, null, 1)}\n`;
}

/** Opens a file of version 1. @param {Bytes} bytes @param {string} passcode
 *  @returns {Promise<Bytes>} */
export async function openFile(bytes, passcode) {
  let text = '';
  try {
    text = decoder.decode(bytes);
  } catch {
    throw cut();
  }
  const file = parsed(text);
  const lock = readEnvelope(file, 1);
  const box = fromBase64(file.box);
  const key = await openFileKey(lock, passcode);
  return unseal(key, 'file', box).catch(() => { throw damaged(); });
}

// In boxes --------------------------------------------------------------------------------------

/** @param {number} count of the boxes behind it */
const startPlace = (count) => `file start before ${count} parts`;
/** @param {number} number from 1 on */
const partPlace = (number) => `file part ${number}`;

/** Seals a large file while it is being made. */
export class PartsSealer {
  #fileKey;
  #count = 0;
  /** Lines that are sealed, for the browser to keep. @type {Blob[]} */
  #lines = [];
  /** What was added last is sealed. */
  #done = Promise.resolve();

  /** @param {import('./vault.mjs').Vault} vault */
  constructor(vault) {
    this.#fileKey = vault.fileKey();
  }

  /** @param {Uint8Array} bytes lent for this call */
  add(bytes) {
    const copy = bytes.slice();
    this.#done = this.#done.then(() => this.#seal(copy));
    this.#done.catch(() => {});  // `after` tells
  }

  /** @param {Bytes} bytes */
  async #seal(bytes) {
    const { data } = await this.#fileKey;
    const lines = [];
    for (let at = 0; at < bytes.length; at += BOX) {
      const box = await seal(data, partPlace(++this.#count), bytes.subarray(at, at + BOX));
      lines.push(`,\n"${toBase64(box)}"`);
    }
    this.#lines.push(new Blob(lines));
  }

  /** The sealed file: `start`, then all that was added. @param {Uint8Array} start lent */
  async after(start) {
    const copy = start.slice();
    await this.#done;
    const fileKey = await this.#fileKey;
    const box = await seal(fileKey.data, startPlace(this.#count), copy);
    const head = JSON.stringify({ ...envelope(2, fileKey), parts: this.#count }, null, 1);
    return new Blob([`${head.slice(0, -2)},\n ${BOXES}\n"${toBase64(box)}"`, ...this.#lines,
      '\n]}\n']);
  }
}

/** Whether a file begins as one that is sealed in boxes. @param {string} start its first bytes */
export function isInParts(start) {
  return /^\s*\{\s*"format"\s*:\s*"tallyround-sealed",\s*"version"\s*:\s*2\b/.test(start);
}

/**
 * Opens a file that is sealed in boxes.
 * @param {Blob} file @param {string} passcode
 * @returns {Promise<Omit<import('./files.mjs').Source, 'name'>>} what it holds; its pieces end with
 *   an error where the file is damaged
 */
export async function openParts(file, passcode) {
  const start = await file.slice(0, START).text();
  const at = start.indexOf(BOXES);
  if (at < 0) throw cut();
  const head = parsed(`${start.slice(0, at)}${BOXES}]}`);
  const lock = readEnvelope(head, 2);
  const key = await openFileKey(lock, passcode);
  const rest = file.slice(at + BOXES.length);
  return {
    size: Math.floor(0.75 * rest.size),
    pieces: () => boxesOf(rest, key, head.parts),
  };
}

/** @param {Blob} rest @param {CryptoKey} key @param {number} count */
async function* boxesOf(rest, key, count) {
  let number = 0;
  for await (const line of linesOf(rest)) {
    const box = /^"([^"]*)",?$/.exec(line)?.[1];
    if (box === undefined) break;
    const place = number === 0 ? startPlace(count) : partPlace(number);
    yield await unseal(key, place, fromBase64(box)).catch(() => { throw damaged(); });
    number += 1;
  }
  if (number !== count + 1) throw cut();
}

/** Lines with something in them. @param {Blob} file */
async function* linesOf(file) {
  let rest = '';
  for (let at = 0; at < file.size; at += SLICE) {
    const lines = (rest + await file.slice(at, at + SLICE).text()).split('\n');
    rest = lines.pop() ?? '';
    yield* lines.filter(Boolean);
  }
  if (rest) yield rest;
}
