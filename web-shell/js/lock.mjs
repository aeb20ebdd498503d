// @ts-check
/** One tab writes: the Web Lock `tallyround-writer`, kept until the tab goes or loses it. */

const NAME = 'tallyround-writer';
/** A reloaded page's lock is mostly let go within this after the new page starts. */
const PATIENCE_MS = 400;

export class WriterLock {
  #locks;
  #held = false;
  /** Ends the wait for the lock, if this tab waits for it. @type {AbortController|null} */
  #waiting = null;
  /** Called at once when another tab takes the lock away. */
  onlost = () => {};
  /** Called when `acquire` said no and the tab that had the lock has gone since. */
  ongained = () => {};

  /** @param {LockManager|undefined} [locks] */
  constructor(locks = globalThis.navigator.locks) {
    this.#locks = locks;
  }

  /**
   * True if this tab is the one that writes. If not, it waits its turn: see `ongained`. Without
   * Web Locks every tab may try: the journal's own check then keeps two from writing at once.
   */
  async acquire() {
    // A lock that is free is ours however long this page, while it starts, is too busy to hear it.
    if (!this.#locks || await this.#request({ ifAvailable: true })) return true;
    this.#waiting = new AbortController();
    let answered = false;
    const granted = this.#request({ signal: this.#waiting.signal }).then((got) => {
      this.#waiting = null;
      if (got && answered) this.ongained();
      return got;
    });
    const patience = new Promise((done) => { setTimeout(() => done(false), PATIENCE_MS); });
    const got = await Promise.race([granted, patience]);
    answered = true;
    return got;
  }

  /** Takes the lock from whichever tab has it. */
  async steal() {
    if (!this.#locks || this.#held) return true;
    this.#waiting?.abort();
    return this.#request({ steal: true });
  }

  /** @param {LockOptions} options @returns {Promise<boolean>} */
  #request(options) {
    return new Promise((resolve) => {
      const locks = /** @type {LockManager} */ (this.#locks);
      locks.request(NAME, options, (lock) => {
        if (!lock) {
          resolve(false);
          return undefined;
        }
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
