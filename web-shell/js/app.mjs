// @ts-check
/** The app in WebAssembly behind typed calls: text and bytes in and out of its memory. */

// @ts-ignore: the build makes it
import createTallyround from '../tallyround.mjs';

import { openContext } from './surface.mjs';

const encoder = new TextEncoder();
/** Work between two chances for the page to do something else. */
const SLICE_MS = 10;
/** Of a snapshot, so much is handed over at once. */
const PIECE_BYTES = 1 << 20;

/** A pause, when the last one was some while ago. */
function breather() {
  let breath = performance.now();
  return async () => {
    if (performance.now() - breath < SLICE_MS) return;
    await new Promise((done) => { setTimeout(done); });
    breath = performance.now();
  };
}

/**
 * What the app asks of the page; web-shell/src calls these by name.
 * @typedef {object} Host
 * @property {(text: string, size: number, scale: number, bold: boolean) =>
 *   {pixels: Uint8ClampedArray, width: number, height: number}|null} paint
 * @property {(json: string) => void} mirror one frame's changes, '' for none
 * @property {(names: string) => void} colors "#ink #soft #paper #focus #accent"
 * @property {(key: number, record: string) => void} append
 * @property {(through: number, bytes: Uint8Array<ArrayBuffer>, only: boolean) => void} snapshot
 * @property {(json: string) => void} preferences
 * @property {(record: string, why: string) => void} setAside
 * @property {() => void} saveStored
 * @property {(name: string, mime: string, bytes: Uint8Array<ArrayBuffer>, seal: boolean,
 *   parts: boolean) => void} saveFile
 * @property {(bytes: Uint8Array, seal: boolean) => void} filePart lent for this call
 * @property {() => void} forgetParts
 * @property {(through: number, bytes: Uint8Array<ArrayBuffer>) => void} rewrite
 * @property {(passcode: string) => void} unlock
 * @property {(was: string, now: string, through: number, bytes: Uint8Array<ArrayBuffer>) => void}
 *   changePasscode
 * @property {() => void} lock
 * @property {(minutes: number) => void} lockAfter
 * @property {(purpose: string, name: string, bytes: Uint8Array<ArrayBuffer>, passcode: string) =>
 *   void} openSealed
 * @property {() => void} wipe
 * @property {() => void} install
 * @property {(purpose: string, accept: string) => void} pickFile
 * @property {(title: string, html: string) => void} print
 * @property {(bytes: Uint8Array) => void} showCodes
 * @property {() => void} readCodes
 * @property {(text: string) => void} announce
 * @property {() => void} takeOver
 * @property {(on: boolean) => void} keepAwake
 * @property {() => void} persist
 * @property {(milliseconds: number) => void} vibrate
 * @property {(final: boolean) => void} chime
 * @property {(node: number) => void} focus
 * @property {(on: boolean) => void} fullScreen
 * @property {() => void} boardWindow
 * @property {() => void} switchVersion
 * @property {(bytes: Uint8Array) => void} plan answer to planFile
 */

/** @param {string|Uint8Array} text */
function bytesOf(text) {
  return typeof text === 'string' ? encoder.encode(text) : text;
}

export class App {
  #wasm;
  #stopped = false;
  /** @type {(error: unknown) => void} */
  #onfail;

  /** @param {any} wasm @param {(error: unknown) => void} onfail */
  constructor(wasm, onfail) {
    this.#wasm = wasm;
    this.#onfail = onfail;
  }

  /**
   * @param {Partial<Host>} host may be filled until `start`
   * @param {(error: unknown) => void} onfail called once if the app breaks down
   */
  static async load(host, onfail) {
    const canvas = /** @type {HTMLCanvasElement} */ (document.getElementById('canvas'));
    openContext(canvas);
    const wasm = await createTallyround({ host, canvas });
    return new App(wasm, onfail);
  }

  /** False once it broke down: nothing reaches it any more. */
  get works() {
    return !this.#stopped;
  }

  /**
   * Makes the app. @param {Uint8Array} regular @param {Uint8Array} bold
   * @returns {boolean} whether it can draw
   */
  start(regular, bold) {
    const [entropy] = crypto.getRandomValues(new BigUint64Array(1));
    // The fonts stay in the app's memory for good.
    const fonts = [...this.#put(regular), ...this.#put(bold)];
    return Boolean(this.#call('_shell_start', [...fonts, entropy]));
  }

  /**
   * @param {{width: number, height: number, scale: number, safe: number[], dark: boolean,
   *   contrast: boolean, still: boolean, touch: boolean}} surface
   */
  surface({ width, height, scale, safe, dark, contrast, still, touch }) {
    this.#call('_shell_surface', [width, height, scale, ...safe, dark, contrast, still, touch]);
  }

  /**
   * Takes in what is stored, and lets the page breathe meanwhile: it may be ten years of marks.
   * @param {import('./journal.mjs').Held} held @param {boolean} readOnly
   */
  async open(held, readOnly) {
    const breathe = breather();
    const snapshot = held.snapshot ?? new Uint8Array(0);
    for (let at = 0; at < snapshot.length; at += PIECE_BYTES) {
      if (at > 0) await breathe();
      this.#with([snapshot.subarray(at, at + PIECE_BYTES)], (piece) =>
        this.#call('_shell_snapshot_piece', [...piece, at === 0, snapshot.length]));
    }
    this.#with([held.records.join('\n'), held.preferences],
      (texts) => this.#call('_shell_open', [...texts, held.lastKey, readOnly]));
    while (this.#call('_shell_step_open') === 0) await breathe();
    this.#call('_shell_damage', [held.damage.length, held.aside]);
  }

  /** Storage works again. @param {import('./journal.mjs').Held} held */
  healed(held) {
    this.#with([held.snapshot ?? new Uint8Array(0), held.records.join('\n')],
      (texts) => this.#call('_shell_healed', [...texts, held.lastKey]));
    this.#call('_shell_damage', [held.damage.length, held.aside]);
  }

  /** @param {number} key */
  stored(key) { this.#call('_shell_stored', [key]); }

  /** @param {number} key @param {string} reason */
  notStored(key, reason) {
    this.#with([reason], (texts) => this.#call('_shell_not_stored', [key, ...texts]));
  }

  /** @param {string} reason */
  noStorage(reason) {
    this.#with([reason], (texts) => this.#call('_shell_no_storage', texts));
  }

  /** Another tab wrote it. @param {string} record */
  heard(record) { this.#with([record], (texts) => this.#call('_shell_heard', texts)); }
  showBoard() { this.#call('_shell_show_board'); }
  lostLock() { this.#call('_shell_lost_lock'); }

  /** @param {boolean} granted */
  persistence(granted) { this.#call('_shell_persistence', [granted]); }

  /** What is stored is sealed. @param {string} trouble why the last passcode did not open it */
  locked(trouble) { this.#with([trouble], (texts) => this.#call('_shell_locked', texts)); }

  /** @param {boolean} set @param {string} [said] @param {boolean} [good] */
  passcode(set, said = '', good = true) {
    this.#with([said], (texts) => this.#call('_shell_passcode', [set, ...texts, good]));
  }

  /** @param {string} trouble */
  sealedRefused(trouble) {
    this.#with([trouble], (texts) => this.#call('_shell_sealed_refused', texts));
  }

  /** @param {string} trouble '' when the old copies are gone */
  rewritten(trouble) { this.#with([trouble], (texts) => this.#call('_shell_rewritten', texts)); }

  /** @param {import('./install.mjs').Installable} how */
  installable(how) { this.#call('_shell_installable', [how]); }

  /** @param {string} purpose @param {string} name @param {Uint8Array} bytes */
  filePicked(purpose, name, bytes) {
    this.#with([purpose, name, bytes], (texts) => this.#call('_shell_file_picked', texts));
  }

  /** A large plan file comes in pieces. @param {string} name @param {number} bytes in all */
  fileBegins(name, bytes) {
    this.#with([name], (texts) => this.#call('_shell_file_begins', [...texts, bytes]));
  }

  /** @param {Uint8Array} bytes @returns {number} as in PIECE of files.mjs */
  filePiece(bytes) {
    return this.#with([bytes], (texts) => this.#call('_shell_file_piece', texts));
  }

  /** @returns {number} */
  fileEnds() { return this.#call('_shell_file_ends'); }

  /** One that was chosen and not read. @param {string} name @param {string} why */
  fileRefused(name, why) {
    this.#with([name, why], (texts) => this.#call('_shell_file_refused', texts));
  }

  /** The bytes come through Host.plan before this returns. */
  planFile() { this.#call('_shell_plan_file'); }
  updateWaiting() { this.#call('_shell_update_waiting'); }
  lessonRunning() { return Boolean(this.#call('_shell_lesson_running')); }

  /** @param {number} kind 0 down, 1 move, 2 up @param {number} finger @param {number} x
   *  @param {number} y @param {number} time */
  pointer(kind, finger, x, y, time) { this.#call('_shell_pointer', [kind, finger, x, y, time]); }

  /** @param {number} finger */
  pointerCancel(finger) { this.#call('_shell_pointer_cancel', [finger]); }

  /** @param {number} x @param {number} y @param {number} dx @param {number} dy */
  wheel(x, y, dx, dy) { this.#call('_shell_wheel', [x, y, dx, dy]); }

  /** @param {number} key */
  key(key) { this.#call('_shell_key', [key]); }

  /** @param {number} node */
  activate(node) { this.#call('_shell_activate', [node]); }

  /** @param {number} node @param {string} text */
  edit(node, text) {
    this.#with([text], (texts) => this.#call('_shell_edit', [node, ...texts]));
  }

  /** @param {number} node */
  editDone(node) { this.#call('_shell_edit_done', [node]); }

  /** @param {number} node */
  focus(node) { this.#call('_shell_focus', [node]); }
  frame() { this.#call('_shell_frame'); }
  unseen() { this.#call('_shell_unseen'); }
  nextFrameIn() { return Number(this.#call('_shell_next_frame_in') ?? -1); }
  contextLost() { this.#call('_shell_context_lost'); }

  /** True if everything that draws could be made again. */
  contextRestored() { return Boolean(this.#call('_shell_context_restored')); }

  // Calls ----------------------------------------------------------------------------------------

  /** @param {string} name @param {unknown[]} [values] */
  #call(name, values = []) {
    if (this.#stopped) return undefined;
    try {
      return this.#wasm[name](...values);
    } catch (error) {
      this.#stopped = true;
      this.#onfail(error);
      return undefined;
    }
  }

  /** Copies bytes into the app's memory. @param {Uint8Array} bytes @returns {[number, number]} */
  #put(bytes) {
    const at = this.#wasm._malloc(bytes.length || 1);
    this.#wasm.HEAPU8.set(bytes, at);
    return [at, bytes.length];
  }

  /** Lends texts for one call. @param {(string|Uint8Array)[]} texts
   *  @param {(lent: number[]) => any} use */
  #with(texts, use) {
    if (this.#stopped) return undefined;
    const lent = texts.map((text) => this.#put(bytesOf(text)));
    const answer = use(lent.flat());
    for (const [at] of lent) this.#wasm._free(at);
    return answer;
  }
}
