// @ts-check
/**
 * The journal under a passcode: what goes into it is sealed, what comes out is opened; the journal
 * itself keeps texts and bytes and does not know. Without a passcode everything passes as it is.
 *
 * A sealed text is "sealed:" and Base64. Once a passcode is set, what is not sealed is refused:
 * nobody can put a record of their own in.
 */

import { Journal } from './journal.mjs';
import { BrokenSeal, Vault, WrongPasscode, fromBase64, isSealed, toBase64 } from './vault.mjs';

const MARK = 'sealed:';

export class SealedJournal extends Journal {
  #vault = new Vault();
  /** Seals in order: a record is on its way before the next one is looked at. */
  #turn = Promise.resolve();
  #preferences = '';

  get vault() { return this.#vault; }

  /** Reads whether there is a passcode. @returns {Promise<boolean>} whether it is asked for */
  async look() {
    this.#vault.hold(await this.readLock());
    return this.#vault.locked;
  }

  /** @returns {Promise<import('./journal.mjs').Held>} */
  async read() {
    const held = await super.read();
    if (!this.#vault.set) {
      this.#preferences = held.preferences;
      return held;
    }
    const records = await Promise.all(held.records.map((text, i) =>
      this.#openText(`record ${held.keys[i]}`, text).catch(brokenRecord)));
    const preferences = held.preferences &&
      await this.#openText('preferences', held.preferences).catch(() => '');
    this.#preferences = preferences;
    return { ...held, records, preferences };
  }

  /** One that another tab wrote. @param {number} key @param {string} text */
  openRecord(key, text) {
    return this.#vault.set ? this.#openText(`record ${key}`, text) : Promise.resolve(text);
  }

  /** @param {number} key @param {string} record @returns {Promise<string>} as it was stored */
  append(key, record) {
    return this.#inTurn(() => this.#sealText(`record ${key}`, record),
      async (text) => { await super.append(key, text); return text; });
  }

  /** @param {number} through @param {Uint8Array<ArrayBuffer>} bytes */
  writeSnapshot(through, bytes, only = false) {
    return this.#inTurn(() => this.#sealBytes(this.#vault, `snapshot ${through}`, bytes),
      (sealed) => super.writeSnapshot(through, sealed, only));
  }

  /** @param {string} json */
  writePreferences(json) {
    this.#preferences = json;
    return this.#inTurn(() => this.#sealText('preferences', json),
      (text) => super.writePreferences(text));
  }

  /** @param {string} data @param {string} why */
  setAside(data, why) {
    return this.#inTurn(() => this.#sealText('aside', data), (text) => super.setAside(text, why));
  }

  /**
   * Everything that is stored becomes this snapshot; nothing of what was before stays.
   * @param {number} through @param {Uint8Array<ArrayBuffer>} bytes
   */
  rewriteAll(through, bytes) {
    return this.#inTurn(() => this.#sealBytes(this.#vault, `snapshot ${through}`, bytes),
      (sealed) => super.rewrite({ through, bytes: sealed }));
  }

  /**
   * Sets a passcode, changes it, or takes it away. What is stored is sealed by a new key (or
   * opened) in one transaction; a change of the passcode keeps the key and seals that alone anew.
   * @param {string} was '' when there is none @param {string} now '' for none
   * @param {number} through @param {Uint8Array<ArrayBuffer>} bytes the whole record
   */
  changePasscode(was, now, through, bytes) {
    return this.#inTurn(async () => {
      if (!await this.#vault.fits(was)) throw new WrongPasscode();
      if (was && now) {
        const vault = await this.#vault.changed(was, now);
        return { vault, write: { through: -1, lock: vault.lock } };
      }
      const vault = now ? await Vault.make(now) : new Vault();
      return { vault, write: {
        through,
        bytes: await this.#sealBytes(vault, `snapshot ${through}`, bytes),
        lock: vault.lock,
        preferences: this.#preferences && await sealText(vault, 'preferences', this.#preferences),
      } };
    }, async ({ vault, write }) => {
      await super.rewrite(write);
      this.#vault = vault;
    }, true);
  }

  /**
   * Prepares one write after the other. The writes themselves may be under way side by side, but
   * what changes the vault is over before the next one is prepared.
   * @template T, R @param {() => Promise<T>} prepare @param {(ready: T) => Promise<R>} write
   * @param {boolean} [alone] @returns {Promise<R>}
   */
  #inTurn(prepare, write, alone = false) {
    const ready = this.#turn.then(prepare);
    const outcome = ready.then(write);
    /** @type {Promise<unknown>} */
    const turn = alone ? outcome : ready;
    this.#turn = turn.then(() => {}, () => {});
    return outcome;
  }

  /** @param {string} place @param {string} text */
  #sealText(place, text) {
    return sealText(this.#vault, place, text);
  }

  /** @param {Vault} vault @param {string} place @param {Uint8Array<ArrayBuffer>} bytes */
  async #sealBytes(vault, place, bytes) {
    return vault.set ? vault.seal(place, bytes) : bytes;
  }

  /** @param {string} place @param {string} text */
  async #openText(place, text) {
    if (!text.startsWith(MARK)) throw new BrokenSeal(place);
    let sealed;
    try {
      sealed = fromBase64(text.slice(MARK.length));
    } catch {
      throw new BrokenSeal(place);
    }
    return this.#vault.unsealText(place, sealed);
  }

  /** One that does not open counts as damaged: the older one is read in its place.
   *  @param {Uint8Array} stored @param {number} through */
  async openImage(stored, through) {
    if (!this.#vault.set) return super.openImage(stored, through);
    const sealed = /** @type {Uint8Array<ArrayBuffer>} */ (stored);
    const bytes = isSealed(sealed) &&
      await this.#vault.unseal(`snapshot ${through}`, sealed).catch(() => null);
    return bytes ? { bytes, opens: true } : { bytes: BROKEN_SNAPSHOT, opens: false };
  }
}

/** Not a snapshot: the app says so, and goes on with the records. */
const BROKEN_SNAPSHOT = new TextEncoder().encode('TRSNAP\n\0 broken seal');

/** Not a record: the app names it and passes it over. @param {unknown} error */
function brokenRecord(error) {
  return `(${error instanceof Error ? error.message : 'A record is damaged.'})`;
}

/** @param {Vault} vault @param {string} place @param {string} text */
async function sealText(vault, place, text) {
  return vault.set ? MARK + toBase64(await vault.sealText(place, text)) : text;
}
