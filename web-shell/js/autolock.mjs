// @ts-check
/** Calls back when the page has been hidden for a set time, at the latest when it is seen again. */

export class AutoLock {
  #lock;
  #minutes = 0;
  #hiddenAt = 0;
  #timer = 0;

  /** @param {() => void} lock */
  constructor(lock) {
    this.#lock = lock;
    document.addEventListener('visibilitychange', () => this.#look());
  }

  /** @param {number} minutes 0: never */
  after(minutes) {
    this.#minutes = minutes;
    this.#look();
  }

  #look() {
    clearTimeout(this.#timer);
    if (document.hidden) {
      this.#hiddenAt ||= Date.now();
      // Hidden pages' timers run late or not at all: what counts is the look when it is seen again.
      if (this.#minutes > 0) {
        const left = this.#hiddenAt + this.#minutes * 60000 - Date.now();
        this.#timer = window.setTimeout(this.#lock, Math.max(0, left));
      }
      return;
    }
    const hidden = this.#hiddenAt === 0 ? 0 : Date.now() - this.#hiddenAt;
    this.#hiddenAt = 0;
    if (this.#minutes > 0 && hidden >= this.#minutes * 60000) this.#lock();
  }
}
