// @ts-check
/**
 * How long after the finger lifted the answer was painted, and how long until what it caused was
 * durable. The last few hundred of each, for tests/bench.
 */

const KEPT = 1000;

export class Timings {
  /** @type {number[]} milliseconds */
  painted = [];
  /** @type {number[]} milliseconds */
  durable = [];
  #tap = 0;
  #unpainted = 0;
  #channel = new MessageChannel();

  constructor() {
    // The message is heard after the frame's drawing was handed over.
    this.#channel.port1.onmessage = ({ data }) => keep(this.painted, performance.now() - data);
  }

  /** A finger lifted, at this time of the page's clock. @param {number} time */
  tap(time) {
    this.#tap = time;
    if (!this.#unpainted) this.#unpainted = time;
  }

  /** Called at the end of every frame: what follows it was not caused by an earlier tap. */
  frame() {
    this.#tap = 0;
    if (!this.#unpainted) return;
    this.#channel.port2.postMessage(this.#unpainted);
    this.#unpainted = 0;
  }

  /** Call when a record is handed over; call what it returns when it is durable. */
  record() {
    const tap = this.#tap;
    return () => { if (tap) keep(this.durable, performance.now() - tap); };
  }
}

/** @param {number[]} list @param {number} value */
function keep(list, value) {
  if (list.length >= KEPT) list.shift();
  list.push(value);
}
