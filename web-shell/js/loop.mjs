// @ts-check
/**
 * Frames on demand: one after anything happened, and when the app said that one is due; otherwise
 * none, and no timer either.
 */

/**
 * @typedef {object} Stage
 * @property {() => void} draw
 * @property {() => number} dueIn milliseconds till a frame is due without input; negative: none is
 */

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
    // A hidden page gets no frames; it is woken when it is seen again.
    if (this.#frame || this.#paused || document.hidden) return;
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
