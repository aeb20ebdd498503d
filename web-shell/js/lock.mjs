// @ts-check
/** One tab writes: the Web Lock `tallyround-writer`, kept until the tab goes or loses it. */

const NAME = 'tallyround-writer';
/** A reloaded page's lock is let go a moment after the new page starts. */
const PATIENCE_MS = 400;

export class WriterLock {
  #locks;
  #held = false;
  /** Called at once when another tab takes the lock away. */
  onlost = () => {};

  /** @param {LockManager|undefined} [locks] */
  constructor(locks = globalThis.navigator.locks) {
    this.#locks = locks;
  }

  /**
   * True if this tab is the one that writes. Without Web Locks every tab may try: the journal's
   * own check then keeps two from writing at once.
   */
  async acquire() {
    if (!this.#locks) return true;
    return this.#request({ signal: AbortSignal.timeout(PATIENCE_MS) });
  }

  /** Takes the lock from whichever tab has it. */
  async steal() {
    if (!this.#locks || this.#held) return true;
    return this.#request({ steal: true });
  }

  /** @param {LockOptions} options @returns {Promise<boolean>} */
  #request(options) {
    return new Promise((resolve) => {
      const locks = /** @type {LockManager} */ (this.#locks);
      locks.request(NAME, options, () => {
        this.#held = true;
        resolve(true);
        return new Promise(() => {});
      }).catch(() => {
        if (this.#held) {
          this.#held = false;
          this.onlost();
        }
        resolve(false);
      });
    });
  }
}
