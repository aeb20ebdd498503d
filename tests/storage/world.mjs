// @ts-check
/** A world of its own for one simulated device: draws, time that only events move, and its end. */

/** Draws from one seed: the same everywhere (mulberry32). */
export class Draws {
  #state;

  /** @param {number} seed */
  constructor(seed) { this.#state = seed >>> 0; }

  /** A number in [0, 1). */
  next() {
    this.#state = (this.#state + 0x6d2b79f5) >>> 0;
    let t = this.#state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  }

  /** A whole number from 0 to n - 1. @param {number} n */
  below(n) { return Math.floor(this.next() * n); }

  /** @param {number} chance */
  happens(chance) { return this.next() < chance; }

  /** @template T @param {T[]} list @returns {T} */
  pick(list) { return list[this.below(list.length)]; }
}

/** Between two events everything that promises wait for runs. */
const settle = () => new Promise((done) => { setImmediate(done); });

export class World {
  now = 0;
  /** Steps since the last start of the page. */
  steps = 0;
  #life = 0;
  #order = 0;
  /** @type {{at: number, order: number, life: number, call: () => void}[]} */
  #events = [];

  /** Runs `call` after so many milliseconds of this world; never if the page has died before.
   *  @param {() => void} call @param {number} ms */
  later(call, ms) {
    const event = { at: this.now + ms, order: this.#order++, life: this.#life, call };
    let i = this.#events.length;
    while (i > 0 && this.#events[i - 1].at > event.at) i--;
    this.#events.splice(i, 0, event);
    return event;
  }

  /** @param {any} event */
  forget(event) {
    const at = this.#events.indexOf(event);
    if (at >= 0) this.#events.splice(at, 1);
  }

  /** Ends the page at once: nothing that was due happens. */
  die() {
    this.#life++;
    this.#events = [];
    this.steps = 0;
  }

  /**
   * Runs event after event until `stop` says so or none is left.
   * @param {() => boolean} stop
   */
  async run(stop) {
    await settle();
    while (this.#events.length > 0 && !stop()) {
      const event = /** @type {{at: number, call: () => void}} */ (this.#events.shift());
      this.now = event.at;
      this.steps++;
      event.call();
      await settle();
    }
  }
}
