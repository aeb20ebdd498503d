// @ts-check
/** What the device can do besides drawing and storing; each does nothing where it is missing. */

/** Keeps the screen on; the browser lets go when the page is hidden, so it is asked again. */
export class Wakefulness {
  #wanted = false;
  /** @type {WakeLockSentinel|null} */
  #lock = null;

  constructor() {
    document.addEventListener('visibilitychange', () => this.#ask());
  }

  /** @param {boolean} on */
  keep(on) {
    this.#wanted = on;
    if (on) {
      this.#ask();
    } else {
      this.#lock?.release().catch(() => {});
      this.#lock = null;
    }
  }

  async #ask() {
    if (!this.#wanted || document.hidden || !navigator.wakeLock) return;
    if (this.#lock && !this.#lock.released) return;
    try {
      const lock = await navigator.wakeLock.request('screen');
      if (this.#wanted) this.#lock = lock;
      else await lock.release();
    } catch { /* low battery or not allowed: the screen goes dark as it always does */ }
  }
}

/** Short tones; browsers play them only after the person has touched the page. */
export class Chimes {
  /** @type {AudioContext|null} */
  #audio = null;
  /** It has run once, so that it may start by itself from now on. */
  #allowed = false;
  /** When the tones that were struck last are over, by performance.now. */
  #over = 0;

  /** Call when a finger or a key goes down: making the context takes some time. */
  touched() {
    if (globalThis.AudioContext) this.#audio ??= new AudioContext();
  }

  /** Call when a finger goes up or a key down: there browsers let sound begin, with a finger not
   *  before (HTML, "activation triggering input event"). */
  async released() {
    if (this.#allowed || !this.#audio) return;
    try {
      await this.#audio.resume();
      this.#allowed = true;
    } catch { return; }
    this.#rest();
  }

  /** One tone for a warning, three that fall for the end. @param {boolean} final */
  async ring(final) {
    const audio = this.#audio;
    if (!audio) return;
    try { await audio.resume(); } catch { return; }
    const tones = final ? [784, 659, 523] : [659];  // G5 E5 C5, in hertz
    const start = audio.currentTime + 0.02;
    tones.forEach((hertz, i) => strike(audio, hertz, start + i * 0.28));
    const rest = (tones.length * 0.28 + 1) * 1000;
    this.#over = performance.now() + rest;
    setTimeout(() => this.#rest(), rest + 1);
  }

  /** Nothing sounds: the loudspeaker costs no power. */
  #rest() {
    if (performance.now() >= this.#over) this.#audio?.suspend().catch(() => {});
  }
}

/** @param {AudioContext} audio @param {number} hertz @param {number} at */
function strike(audio, hertz, at) {
  const tone = new OscillatorNode(audio, { type: 'sine', frequency: hertz });
  const loudness = new GainNode(audio, { gain: 0 });
  loudness.gain.setValueAtTime(0, at);
  loudness.gain.linearRampToValueAtTime(0.35, at + 0.015);
  loudness.gain.exponentialRampToValueAtTime(0.001, at + 0.7);
  tone.connect(loudness).connect(audio.destination);
  tone.start(at);
  tone.stop(at + 0.75);
}

/** @param {number} milliseconds */
export function vibrate(milliseconds) {
  navigator.vibrate?.(milliseconds);
}

/** Asks the browser not to throw the data away. @returns {Promise<boolean>} */
export async function askToPersist() {
  try {
    return await navigator.storage?.persist?.() ?? false;
  } catch {
    return false;
  }
}
