// @ts-check
/** The passcode, the lock, deleting for good and sealed files: what the page does for them. */

import { AutoLock } from './autolock.mjs';
import { FileParts, saveFile } from './files.mjs';
import { isPacked, unpack } from './packed.mjs';
import { PartsSealer, START, isInParts, openFile, openParts, sealFile } from './sealed-file.mjs';

/**
 * @typedef {object} Page
 * @property {import('./storage.mjs').Storage} storage
 * @property {(say: (app: import('./app.mjs').App) => void) => void} tell
 * @property {(read: () => Promise<import('./storage.mjs').Opened>) => void} open
 * @property {(purpose: string, source: import('./files.mjs').Source) => Promise<void>} bring gives
 *   the app a large file
 * @property {() => void} pause draws no more
 */

/** @param {unknown} error */
export function words(error) {
  return error instanceof Error ? error.message : String(error);
}

export class Safekeeping {
  #page;
  #autoLock = new AutoLock(() => this.#lock(false));
  /** Of the file that is being made. @type {FileParts|PartsSealer|null} */
  #parts = null;
  /** Sealed in boxes, of which the app has the beginning alone. @type {File|null} */
  #held = null;

  /** @param {Page} page */
  constructor(page) {
    this.#page = page;
  }

  /** Part of what the app asks for. */
  host() {
    const { storage, tell, open } = this.#page;
    /** @type {Pick<import('./app.mjs').Host, 'rewrite'|'unlock'|'changePasscode'|'lock'|
     *  'lockAfter'|'openSealed'|'wipe'|'saveFile'|'filePart'|'forgetParts'>} */
    const part = {
      rewrite: async (through, bytes) => {
        const trouble = await storage.rewrite(through, bytes).then(() => '', words);
        tell((app) => app.rewritten(trouble));
      },
      unlock: (passcode) => open(() => storage.unlock(passcode)),
      changePasscode: (was, now, through, bytes) => {
        this.#changePasscode(was, now, through, bytes);
      },
      lock: () => this.#lock(true),
      lockAfter: (minutes) => this.#autoLock.after(minutes),
      openSealed: async (purpose, name, bytes, passcode) => {
        try {
          await this.#openSealed(purpose, name, bytes, passcode);
        } catch (error) {
          tell((app) => app.sealedRefused(words(error)));
        }
      },
      wipe: async () => {
        await storage.wipe().catch(() => {});
        storage.tellOthers();
        this.startOver();
      },
      filePart: (bytes, seal) => this.#partsSoFar(seal).add(bytes),
      forgetParts: () => { this.#parts = null; },
      saveFile: async (name, mime, bytes, seal, parts) => {
        const file = await this.#made(bytes, seal, parts);
        return saveFile(seal ? name.replace(/\.json$/, '.sealed.json') : name, mime, file);
      },
    };
    return part;
  }

  /** @param {boolean} seal */
  #partsSoFar(seal) {
    this.#parts ??= seal ? new PartsSealer(this.#page.storage.vault) : new FileParts();
    return this.#parts;
  }

  /** What a file holds. @param {Uint8Array<ArrayBuffer>} bytes @param {boolean} seal
   *  @param {boolean} parts as in SaveFile of ui/effects.h */
  async #made(bytes, seal, parts) {
    if (!parts) return seal ? sealFile(this.#page.storage.vault, bytes) : bytes;
    const made = this.#partsSoFar(seal);
    this.#parts = null;
    return made.after(bytes);
  }

  /** Keeps a file that is sealed in boxes. @param {File} file
   *  @returns {Blob} its beginning, for the app to ask for the passcode */
  hold(file) {
    this.#held = file;
    return file.slice(0, START);
  }

  /** @param {string} purpose @param {string} name @param {Uint8Array<ArrayBuffer>} bytes
   *  @param {string} passcode */
  async #openSealed(purpose, name, bytes, passcode) {
    const { tell, bring } = this.#page;
    if (isInParts(new TextDecoder().decode(bytes.subarray(0, START)))) {
      const opened = await openParts(this.#held ?? new Blob([bytes]), passcode);
      return bring(purpose, { name, ...opened });
    }
    const opened = await openFile(bytes, passcode);
    const file = isPacked(opened) ? await unpack(opened) : opened;
    tell((app) => app.filePicked(purpose, name, file));
  }

  /** @param {string} was @param {string} now @param {number} through
   *  @param {Uint8Array<ArrayBuffer>} bytes */
  async #changePasscode(was, now, through, bytes) {
    const { storage, tell } = this.#page;
    try {
      await storage.changePasscode(was, now, through, bytes);
      const said = !now ? 'The passcode is taken away.'
        : was ? 'The passcode is changed.' : 'The passcode is set. It is final if you forget it.';
      tell((app) => app.passcode(storage.sealed, said, true));
    } catch (error) {
      tell((app) => app.passcode(storage.sealed, words(error), false));
    }
  }

  /**
   * Forgets the key and all that was read with it: by starting over, for then nothing of it is left
   * in this page's memory. Not before everything is durable. @param {boolean} others tabs, too
   */
  #lock(others) {
    const { storage } = this.#page;
    if (!storage.sealed || storage.locked) return;
    if (!storage.settled) {
      setTimeout(() => this.#lock(others), 1000);
      return;
    }
    if (others) storage.tellOthers();
    this.startOver();
  }

  startOver() {
    this.#page.pause();
    for (const id of ['stage', 'print', 'live']) document.getElementById(id)?.remove();
    location.reload();
  }
}
