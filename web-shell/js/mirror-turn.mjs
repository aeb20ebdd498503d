// @ts-check
/**
 * Hands the mirror each frame's changes. Few are taken in with the frame, so that a text field
 * moves with the picture around it. Many, as when another screen comes, have a task of their own
 * right behind the frame, which does not wait for them.
 */

/** Characters of JSON that are many changes: some milliseconds' worth. */
const MANY = 8000;

export class MirrorTurn {
  #mirror;
  /** Of frames before, not taken in yet. */
  #waiting = '';

  /** @param {Pick<import('./mirror.mjs').Mirror, 'apply'>} mirror */
  constructor(mirror) {
    this.#mirror = mirror;
  }

  /** @param {string} json one frame's changes, '' for none */
  take(json) {
    this.#takeIn();
    if (json.length < MANY) {
      this.#mirror.apply(json ? JSON.parse(json) : {});
      return;
    }
    this.#waiting = json;
    setTimeout(() => this.#takeIn());
  }

  #takeIn() {
    const json = this.#waiting;
    this.#waiting = '';
    if (json) this.#mirror.apply(JSON.parse(json));
  }
}
