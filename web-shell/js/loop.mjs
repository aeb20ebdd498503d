// @ts-check
/**
 * Frames on demand: one after anything happened, and when the app said that one is due; otherwise
 * none, and no timer either. A hidden page draws nothing; it hears that time goes by, for the bell.
 */

/**
 * @typedef {object} Stage
 * @property {() => void} draw
 * @property {() => void} unseen time went by while the page is hidden
 * @property {() => number} dueIn milliseconds till a frame is due without input; negative: none is
 */

/** Between two looks at the clock of a hidden page at the least. */
const UNSEEN_MS = 1000;

export class Loop {
  #stage;
  #frame = 0;
  #timer = 0;
  #paused = false;
  /** Frames drawn since the start. */
  frames = 0;

  /** @param {Stage} stage */
  constructor(stage) {
    this.#stage = stage;
    document.addEventListener('visibilitychange', () => this.wake());
  }

  /** Something changed: draw at the next chance. */
  wake() {
    if (this.#timer) {
      clearTimeout(this.#timer);
      this.#timer = 0;
    }
    if (this.#frame || this.#paused) return;
    // A hidden page gets no frames; it is woken when it is seen again.
    if (document.hidden) return this.#waitUnseen();
    this.#frame = requestAnimationFrame(() => this.#step());
  }

  /** No drawing until `resume`: there is nothing to draw on. */
  pause() {
    this.#paused = true;
    cancelAnimationFrame(this.#frame);
    clearTimeout(this.#timer);
    this.#frame = 0;
    this.#timer = 0;
  }

  resume() {
    this.#paused = false;
    this.wake();
  }

  #waitUnseen() {
    const due = this.#stage.dueIn();
    if (due < 0) return;
    this.#timer = window.setTimeout(() => {
      this.#timer = 0;
      this.#stage.unseen();
      this.wake();
    }, Math.max(UNSEEN_MS, Math.ceil(due)));
  }

  #step() {
    this.#frame = 0;
    this.frames++;
    this.#stage.draw();
    if (this.#frame || this.#paused) return;
    const due = this.#stage.dueIn();
    if (due === 0) this.wake();
    else if (due > 0) this.#timer = window.setTimeout(() => this.wake(), Math.ceil(due));
  }
}
