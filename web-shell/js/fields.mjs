// @ts-check
/**
 * The mirror's text fields: real ones, in which any soft keyboard, input method, dictation and
 * paste work. The person's typing always wins: while a field has the focus the app's text replaces
 * it only when the app changed it by itself after it had heard the last letter.
 *
 * @typedef {HTMLInputElement|HTMLTextAreaElement} Field
 * @typedef {import('./mirror.mjs').Node} Node
 * @typedef {import('./mirror.mjs').Receiver} Receiver
 *
 * @typedef {object} Held
 * @property {number} id
 * @property {Field} field
 * @property {string} told what the app last said the text is
 * @property {boolean} typed the person typed since the last frame
 * @property {boolean} composing an input method is at work
 * @property {boolean} loose field and app may differ: settle when the person has left
 */

const SMALLEST_FONT = 16;  // below it iOS zooms the page in

/** @param {unknown} element @returns {element is Field} */
export function isField(element) {
  return element instanceof HTMLInputElement || element instanceof HTMLTextAreaElement;
}

/**
 * Enter that ends a line of text, not one that picks an input method's proposal.
 * @param {Event} event @param {Field} field
 */
function isLineEnd(event, field) {
  return event instanceof KeyboardEvent && event.key === 'Enter' && !event.isComposing &&
    field instanceof HTMLInputElement;
}

export class Fields {
  #receiver;
  /** @type {Map<number, Held>} */
  #held = new Map();

  /** @param {Receiver} receiver */
  constructor(receiver) {
    this.#receiver = receiver;
  }

  /** @param {number} id */
  remove(id) {
    this.#held.delete(id);
  }

  /** @param {Node} node @param {Field} field */
  set(node, field) {
    let held = this.#held.get(node.id);
    if (!held) {
      held = { id: node.id, field, told: '', typed: false, composing: false, loose: false };
      this.#held.set(node.id, held);
      this.#listen(held);
      field.autocomplete = 'off';
      field.dir = 'auto';  // a name runs in its own direction
      field.enterKeyHint = field instanceof HTMLInputElement ? 'done' : 'enter';
    }
    const secret = node.keyboard === 'password';
    const name = node.keyboard === 'name' || secret;
    const search = node.keyboard === 'search';
    field.inputMode = name ? '' : node.keyboard ?? '';
    if (field instanceof HTMLInputElement) field.type = secret ? 'password' : 'text';
    field.spellcheck = !name && !search;
    field.setAttribute('autocorrect', name || search ? 'off' : 'on');
    field.autocapitalize = secret || search ? 'none' : name ? 'words' : 'sentences';
    if (field.placeholder !== (node.hint ?? '')) field.placeholder = node.hint ?? '';
    field.readOnly = node.disabled ?? false;
    field.tabIndex = node.focusable === false && node.disabled ? -1 : 0;
    field.style.fontSize = `${Math.max(SMALLEST_FONT, node.font_size ?? SMALLEST_FONT)}px`;
    this.#hear(held, node.value ?? '');
  }

  /** The app's text of a field. @param {Held} held @param {string} text */
  #hear(held, text) {
    const changed = text !== held.told;
    held.told = text;
    if (text === held.field.value) return;
    const mayReplace = document.activeElement !== held.field ||
      (changed && !held.typed && !held.composing);
    if (mayReplace) held.field.value = text;
    else held.loose = true;
  }

  /** After every frame: what was typed before it has been heard. */
  settle() {
    for (const held of this.#held.values()) {
      held.typed = false;
      if (held.loose && document.activeElement !== held.field) {
        held.loose = false;
        if (held.field.value !== held.told) held.field.value = held.told;
      }
    }
  }

  /** @param {Held} held */
  #listen(held) {
    const { id, field } = held;
    const tell = () => {
      held.typed = true;
      held.loose = true;
      this.#receiver.edit(id, field.value);
    };
    field.addEventListener('input', tell);
    field.addEventListener('compositionstart', () => { held.composing = true; });
    field.addEventListener('compositionend', () => { held.composing = false; tell(); });
    field.addEventListener('keydown', (event) => {
      if (!isLineEnd(event, field)) return;
      held.typed = false;
      this.#receiver.editDone(id);
    });
    field.addEventListener('blur', () => {
      held.composing = false;
      if (this.#held.get(id) === held) this.#receiver.editDone(id);
    });
  }
}
