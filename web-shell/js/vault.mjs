// @ts-check
/**
 * Seals what the device keeps, and files, with a passcode. WebCrypto alone:
 *
 *   passcode --PBKDF2-HMAC-SHA-256, 600,000 rounds, 16 random bytes of salt--> passcode key
 *   data key (32 random bytes), sealed by the passcode key: so a new passcode seals one key anew
 *   everything else: AES-256-GCM by the data key, 12 fresh random bytes of nonce for each seal
 *
 * Rounds: OWASP Password Storage Cheat Sheet (PBKDF2-HMAC-SHA256: 600,000). Random nonces: NIST SP
 * 800-38D, 8.2.2 and 8.3: at most 2^32 seals a key. A seal is bound to its place (which store,
 * which number, which version of the format), so that one cannot be put in another's place.
 */

export const ROUNDS = 600000;
const NONCE = 12;
const TAG = 16;
/** First byte of every seal. */
const VERSION = 1;
/** Place of a file's key. */
const FILE_KEY = 'file key';

const encoder = new TextEncoder();
const decoder = new TextDecoder('utf-8', { fatal: true });

/** @typedef {Uint8Array<ArrayBuffer>} Bytes */
/**
 * @typedef {object} Lock what is stored beside the seals
 * @property {number} version
 * @property {number} rounds
 * @property {Bytes} salt
 * @property {Bytes} key the data key, sealed by the passcode key
 */

/** The passcode does not open this, or the bytes were changed. */
export class WrongPasscode extends Error {
  constructor() {
    super('This is not the passcode.');
    this.name = 'WrongPasscode';
  }
}

/** A seal that does not open: damaged, changed, or taken from another place. */
export class BrokenSeal extends Error {
  /** @param {string} place */
  constructor(place) {
    super(`What was stored as ${place} is damaged or was changed.`);
    this.name = 'BrokenSeal';
  }
}

/** @param {number} length */
const random = (length) => crypto.getRandomValues(new Uint8Array(length));

/**
 * The key that a passcode comes to. NFC first: the same letters typed on another device's keyboard
 * must come to the same bytes (NIST SP 800-63B, 5.1.1.2).
 * @param {string} passcode @param {Bytes} salt @param {number} rounds
 */
export async function passcodeKey(passcode, salt, rounds) {
  const bytes = encoder.encode(passcode.normalize('NFC'));
  const base = await crypto.subtle.importKey('raw', bytes, 'PBKDF2', false, ['deriveKey']);
  return crypto.subtle.deriveKey({ name: 'PBKDF2', hash: 'SHA-256', salt, iterations: rounds },
    base, { name: 'AES-GCM', length: 256 }, false, ['encrypt', 'decrypt']);
}

/** @param {Bytes} raw */
export function dataKey(raw) {
  return crypto.subtle.importKey('raw', raw, 'AES-GCM', false, ['encrypt', 'decrypt']);
}

/**
 * @param {CryptoKey} key @param {string} place what the seal is bound to @param {Bytes} bytes
 * @param {Bytes} [nonce] given by tests alone
 * @returns {Promise<Bytes>} version, nonce, ciphertext with its tag
 */
export async function seal(key, place, bytes, nonce = random(NONCE)) {
  const box = await encrypt(key, nonce, bound(place), bytes);
  const out = new Uint8Array(1 + NONCE + box.length);
  out[0] = VERSION;
  out.set(nonce, 1);
  out.set(box, 1 + NONCE);
  return out;
}

/** @param {CryptoKey} key @param {string} place @param {Bytes} sealed @returns {Promise<Bytes>} */
export async function unseal(key, place, sealed) {
  if (!isSealed(sealed)) throw new BrokenSeal(place);
  const nonce = sealed.slice(1, 1 + NONCE);
  try {
    return await decrypt(key, nonce, bound(place), sealed.slice(1 + NONCE));
  } catch {
    throw new BrokenSeal(place);
  }
}

/** @param {string} place */
function bound(place) {
  return encoder.encode(`tallyround ${VERSION} ${place}`);
}

/** AES-GCM: ciphertext, then the tag.
 *  @param {CryptoKey} key @param {Bytes} iv @param {Bytes} additionalData @param {Bytes} bytes */
export async function encrypt(key, iv, additionalData, bytes) {
  const how = { name: 'AES-GCM', iv, additionalData, tagLength: 8 * TAG };
  return new Uint8Array(await crypto.subtle.encrypt(how, key, bytes));
}

/** @param {CryptoKey} key @param {Bytes} iv @param {Bytes} additionalData @param {Bytes} bytes */
export async function decrypt(key, iv, additionalData, bytes) {
  const how = { name: 'AES-GCM', iv, additionalData, tagLength: 8 * TAG };
  return new Uint8Array(await crypto.subtle.decrypt(how, key, bytes));
}

/** @param {unknown} value */
export function isSealed(value) {
  return value instanceof Uint8Array && value.length >= 1 + NONCE + TAG && value[0] === VERSION;
}

/** The key of this device while it is open, and what it does. */
export class Vault {
  /** @type {CryptoKey|null} */
  #data = null;
  /** Of the passcode, for files. @type {CryptoKey|null} */
  #passcode = null;
  /** @type {Lock|null} */
  #lock = null;

  /** True while there is a passcode. */
  get set() { return this.#lock !== null; }

  /** True while what is stored cannot be read. */
  get locked() { return this.#lock !== null && this.#data === null; }

  /** What is stored beside the seals; nothing without a passcode. */
  get lock() { return this.#lock; }

  /** @param {Lock|null} lock as it was stored */
  hold(lock) {
    if (lock && this.#lock && same(lock.key, this.#lock.key)) return;
    this.#lock = lock;
    this.#data = this.#passcode = null;
  }

  /** Opens the lock. @param {string} passcode */
  async open(passcode) {
    const lock = this.#lock;
    if (!lock) return;
    const { data, passcode: key } = await opened(lock, passcode);
    this.#data = data;
    this.#passcode = key;
  }

  /** True if the passcode is the one that is set. @param {string} passcode */
  async fits(passcode) {
    if (!this.#lock) return passcode === '';
    return opened(this.#lock, passcode).then(() => true, () => false);
  }

  /** A vault with a data key of its own. @param {string} passcode */
  static async make(passcode) {
    const vault = new Vault();
    const raw = random(32);
    await vault.#take(raw, passcode);
    vault.#data = await dataKey(raw);
    raw.fill(0);
    return vault;
  }

  /** This vault under another passcode. @param {string} was @param {string} passcode */
  async changed(was, passcode) {
    if (!this.#lock) throw new WrongPasscode();
    const { raw } = await opened(this.#lock, was);
    const vault = new Vault();
    await vault.#take(raw, passcode);
    vault.#data = await dataKey(raw);
    raw.fill(0);
    return vault;
  }

  /** @param {Bytes} raw the data key @param {string} passcode */
  async #take(raw, passcode) {
    const salt = random(16);
    this.#passcode = await passcodeKey(passcode, salt, ROUNDS);
    this.#lock = { version: VERSION, rounds: ROUNDS, salt,
      key: await seal(this.#passcode, 'key', raw) };
  }

  /** @param {string} place @param {Bytes} bytes */
  seal(place, bytes) {
    if (!this.#data) throw new Error('locked');
    return seal(this.#data, place, bytes);
  }

  /** @param {string} place @param {Bytes} sealed */
  unseal(place, sealed) {
    if (!this.#data) throw new Error('locked');
    return unseal(this.#data, place, sealed);
  }

  /** @param {string} place @param {string} text */
  sealText(place, text) { return this.seal(place, encoder.encode(text)); }

  /** @param {string} place @param {Bytes} sealed */
  async unsealText(place, sealed) { return decoder.decode(await this.unseal(place, sealed)); }

  /**
   * A key of one file's own, so that the file says nothing about what is stored here; the device's
   * passcode opens it anywhere.
   * @returns {Promise<{data: CryptoKey, rounds: number, salt: Bytes, key: Bytes}>} `key`: the data
   *   key, sealed by the passcode key
   */
  async fileKey() {
    if (!this.#lock || !this.#passcode) throw new Error('locked');
    const raw = random(32);
    const key = await seal(this.#passcode, FILE_KEY, raw);
    const data = await dataKey(raw);
    raw.fill(0);
    const { rounds, salt } = this.#lock;
    return { data, rounds, salt, key };
  }
}

/** The data key of a file. @param {Pick<Lock, 'rounds'|'salt'|'key'>} lock
 *  @param {string} passcode */
export async function openFileKey(lock, passcode) {
  return (await opened(lock, passcode, FILE_KEY)).data;
}

/** @param {Bytes} a @param {Bytes} b */
function same(a, b) {
  return a.length === b.length && a.every((byte, i) => byte === b[i]);
}

/** @param {Pick<Lock, 'rounds'|'salt'|'key'>} lock @param {string} passcode
 *  @param {string} [place] of the key */
async function opened({ rounds, salt, key }, passcode, place = 'key') {
  const passcodeKey_ = await passcodeKey(passcode, salt, rounds);
  try {
    const raw = await unseal(passcodeKey_, place, key);
    return { raw, data: await dataKey(raw), passcode: passcodeKey_ };
  } catch {
    throw new WrongPasscode();
  }
}

/** @param {Uint8Array} bytes */
export function toBase64(bytes) {
  let text = '';
  for (let at = 0; at < bytes.length; at += 0x8000) {
    text += String.fromCharCode(...bytes.subarray(at, at + 0x8000));
  }
  return btoa(text);
}

/** @param {unknown} text @returns {Bytes} */
export function fromBase64(text) {
  try {
    return Uint8Array.from(atob(String(text)), (c) => c.charCodeAt(0));
  } catch {
    throw new Error('The file is damaged. Use another copy of it.');
  }
}
