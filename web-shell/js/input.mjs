// @ts-check
/**
 * Fingers, mouse, wheel and keys, straight from the page's events to the app, in order and with
 * each event's own time: a tap that waited while the device was busy still counts, for what was on
 * screen when the finger went down.
 */

import { isField } from './fields.mjs';

const KEYS = /** @type {const} */ ({
  Enter: 1, Escape: 2, ArrowUp: 3, ArrowDown: 4, ArrowLeft: 5, ArrowRight: 6,
});
const UNDO = 7;
/** Keys that mean something by themselves; the person can turn them off in the app. */
const SINGLE = new Map([['1', 8], ['2', 9], ['3', 10], ['w', 11], ['?', 12]]);
/** A touch that has gone this far up or down on a text field moves the page instead. */
const FIELD_SLOP = 14;
const LINE = 40;  // CSS pixels, where a wheel counts in lines

/**
 * @typedef {object} Target
 * @property {(kind: 'down'|'move'|'up', finger: number, x: number, y: number,
 *   time: number) => void} pointer
 * @property {(finger: number) => void} cancel
 * @property {(x: number, y: number, dx: number, dy: number) => void} wheel
 * @property {(key: number) => void} key index of ui::Key
 * @property {() => void} touched any sign of the person begins
 * @property {() => void} released such a sign for which browsers let sound begin
 * @property {() => void} leave a finger came down beside every text field
 */

/** Numbers fingers from 0, smallest free number first. */
class Fingers {
  /** @type {Map<number, number>} */
  #numbers = new Map();

  /** @param {number} pointer */
  down(pointer) {
    const taken = new Set(this.#numbers.values());
    let finger = 0;
    while (taken.has(finger)) finger++;
    this.#numbers.set(pointer, finger);
    return finger;
  }

  /** @param {number} pointer */
  of(pointer) {
    return this.#numbers.get(pointer);
  }

  /** @param {number} pointer */
  up(pointer) {
    const finger = this.#numbers.get(pointer);
    this.#numbers.delete(pointer);
    return finger;
  }
}

/**
 * @param {HTMLCanvasElement} canvas
 * @param {HTMLElement} mirror
 * @param {Target} target
 */
export function listen(canvas, mirror, target) {
  const fingers = new Fingers();
  listenToCanvas(canvas, fingers, target);
  listenToFields(mirror, canvas, fingers, target);
  listenToKeys(target);
  addEventListener('wheel', (event) => {
    if (event.ctrlKey) return;  // the browser's own zoom
    const unit = event.deltaMode === WheelEvent.DOM_DELTA_LINE ? LINE
      : event.deltaMode === WheelEvent.DOM_DELTA_PAGE ? innerHeight : 1;
    target.wheel(event.clientX, event.clientY, event.deltaX * unit, event.deltaY * unit);
  }, { passive: true });
  const early = { capture: true, passive: true };
  for (const type of ['pointerdown', 'keydown']) {
    addEventListener(type, () => target.touched(), early);
  }
  for (const type of ['pointerup', 'keydown']) {
    addEventListener(type, () => target.released(), early);
  }
}

/** @param {HTMLCanvasElement} canvas @param {Fingers} fingers @param {Target} target */
function listenToCanvas(canvas, fingers, target) {
  canvas.addEventListener('pointerdown', (event) => {
    if (event.button !== 0) return;
    target.leave();
    capture(canvas, event.pointerId);
    target.pointer('down', fingers.down(event.pointerId), event.clientX, event.clientY,
      event.timeStamp);
  });
  canvas.addEventListener('pointermove', (event) => {
    const finger = fingers.of(event.pointerId);
    if (finger === undefined) return;
    target.pointer('move', finger, event.clientX, event.clientY, event.timeStamp);
  });
  canvas.addEventListener('pointerup', (event) => {
    const finger = fingers.up(event.pointerId);
    if (finger === undefined) return;
    target.pointer('up', finger, event.clientX, event.clientY, event.timeStamp);
  });
  for (const type of /** @type {const} */ (['pointercancel', 'lostpointercapture'])) {
    canvas.addEventListener(type, (event) => {
      const finger = fingers.up(event.pointerId);
      if (finger !== undefined) target.cancel(finger);
    });
  }
  // No menu on a long press, no zoom by pinch or double tap where touch-action is not heeded, no
  // mouse events after a touch that would take the focus from where the app put it.
  canvas.addEventListener('contextmenu', (event) => event.preventDefault());
  canvas.addEventListener('mousedown', (event) => event.preventDefault());
  for (const type of ['gesturestart', 'dblclick']) {
    document.addEventListener(type, (event) => {
      if (!isField(event.target)) event.preventDefault();
    });
  }
}

/**
 * A drag that starts on a text field and goes up or down is the page's.
 * @param {HTMLElement} mirror @param {HTMLCanvasElement} canvas
 * @param {Fingers} fingers @param {Target} target
 */
function listenToFields(mirror, canvas, fingers, target) {
  /** @type {{id: number, x: number, y: number, time: number}|null} */
  let start = null;
  mirror.addEventListener('pointerdown', (event) => {
    start = event.pointerType === 'touch' && isField(event.target)
      ? { id: event.pointerId, x: event.clientX, y: event.clientY, time: event.timeStamp } : null;
  });
  mirror.addEventListener('pointermove', (event) => {
    if (start?.id !== event.pointerId) return;
    if (Math.abs(event.clientY - start.y) < FIELD_SLOP) return;
    const { x, y, time } = start;
    start = null;
    capture(canvas, event.pointerId);
    const finger = fingers.down(event.pointerId);
    target.pointer('down', finger, x, y, time);
    target.pointer('move', finger, event.clientX, event.clientY, event.timeStamp);
  });
  for (const type of ['pointerup', 'pointercancel']) {
    mirror.addEventListener(type, () => { start = null; });
  }
}

/** @param {Target} target */
function listenToKeys(target) {
  addEventListener('keydown', (event) => {
    if (event.isComposing || event.defaultPrevented || event.altKey) return;
    const typing = isField(event.target);
    const command = event.ctrlKey || event.metaKey;
    if (command) {
      if (event.key.toLowerCase() !== 'z' || event.shiftKey || typing) return;
      event.preventDefault();
      target.key(UNDO);
      return;
    }
    const single = typing ? undefined : SINGLE.get(event.key.toLowerCase());
    if (single !== undefined) {
      if (!event.repeat) target.key(single);
      return;
    }
    const key = KEYS[/** @type {keyof typeof KEYS} */ (event.key)];
    if (key === undefined) return;
    if (typing && (event.key.startsWith('Arrow') || event.target instanceof HTMLTextAreaElement &&
      event.key === 'Enter')) return;
    // Enter on a button of the mirror is that button's click.
    if (event.key === 'Enter' && event.target instanceof HTMLButtonElement) return;
    target.key(key);
  });
}

/** @param {Element} element @param {number} pointer */
function capture(element, pointer) {
  // A pointer that has gone already cannot be captured; its end is then heard as a cancel.
  try { element.setPointerCapture(pointer); } catch { /* nothing to capture */ }
}
