// @ts-check
/**
 * The mirror: real elements over the canvas, one for each thing drawn on it, kept in step with the
 * app's list of nodes. They are what a screen reader, the keyboard, a soft keyboard and the tests
 * see. All but text fields let the pointer through to the canvas.
 *
 * @typedef {[number, number, number, number]} Rect left, top, width, height in CSS pixels
 *
 * @typedef {object} Node as in ui/mirror/node.h; a key left out has its default
 * @property {number} id
 * @property {number} [parent]
 * @property {string} role
 * @property {number} [level]
 * @property {boolean} [disabled]
 * @property {boolean} [checked]
 * @property {boolean} [expanded]
 * @property {boolean} [has_popup]
 * @property {boolean} [focusable]
 * @property {Rect} [rect]
 * @property {Rect} [full]
 * @property {string} [label]
 * @property {string} [value]
 * @property {string} [hint]
 * @property {string} [keyboard]
 * @property {number} [font_size]
 *
 * @typedef {object} Diff
 * @property {Node[]} [set]
 * @property {number[]} [gone]
 * @property {number[]} [order]
 *
 * @typedef {object} Receiver what the mirror reports
 * @property {(node: number) => void} activate
 * @property {(node: number, text: string) => void} edit
 * @property {(node: number) => void} editDone
 * @property {(node: number) => void} focus the keyboard is here now; 0: nowhere
 */

import { Fields, isField } from './fields.mjs';

/** Element and ARIA role of each role of the app; a role the element has by itself is left out. */
const ELEMENTS = {
  main: ['main'], navigation: ['nav'], banner: ['header'], region: ['section'],
  dialog: ['div', 'dialog'], list: ['div', 'list'], list_item: ['div', 'listitem'],
  table: ['div', 'table'], row: ['div', 'row'], column_header: ['div', 'columnheader'],
  row_header: ['div', 'rowheader'], cell: ['div', 'cell'], heading: ['h2'], text: ['p'],
  status: ['p', 'status'], timer: ['p', 'timer'], image: ['div', 'img'], button: ['button'],
  link: ['button', 'link'], checkbox: ['button', 'checkbox'], radio: ['button', 'radio'],
  tab: ['button'], text_field: ['input'], text_area: ['textarea'], group: ['div', 'group'],
};

/** Roles whose words are their content; the others are named by aria-label. */
const SPOKEN = new Set(['heading', 'text', 'status', 'timer', 'list_item', 'column_header',
  'row_header', 'cell']);

const NOWHERE = /** @type {Rect} */ ([0, 0, 0, 0]);

/** @param {HTMLElement} element @param {string} name @param {string|null} value */
export function setAttribute(element, name, value) {
  if (value === null) element.removeAttribute(name);
  else if (element.getAttribute(name) !== value) element.setAttribute(name, value);
}

export class Mirror {
  #root;
  #live;
  #receiver;
  /** @type {Map<number, Node>} */
  #nodes = new Map();
  /** @type {Map<number, HTMLElement>} */
  #elements = new Map();
  #fields;
  /** @type {HTMLElement|null} */
  #dialog = null;
  /** Where the focus was when a dialog opened. @type {HTMLElement[]} */
  #openers = [];
  #wantFocus = 0;
  /** The window's size, asked for before anything changes: later the answer needs a new layout. */
  #window = [0, 0];

  /** @param {HTMLElement} root @param {HTMLElement} live @param {Receiver} receiver */
  constructor(root, live, receiver) {
    this.#root = root;
    this.#live = live;
    this.#receiver = receiver;
    this.#fields = new Fields(receiver);
    root.addEventListener('click', (event) => this.#click(event));
    root.addEventListener('focusin', (event) => {
      const id = this.#idOf(event.target);
      if (id) receiver.focus(id);
    });
    root.addEventListener('focusout', (event) => {
      if (!this.#idOf(event.relatedTarget)) receiver.focus(0);
    });
  }

  /** Node id of the focused element, 0 if the focus is elsewhere. */
  get focused() {
    return this.#root.contains(document.activeElement) ? this.#idOf(document.activeElement) : 0;
  }

  /** Node id of the text field that is being typed in, 0 if none. */
  get typingIn() {
    return isField(document.activeElement) ? this.focused : 0;
  }

  /**
   * Takes in one frame's changes. Call it for every frame, also without changes.
   * @param {Diff} diff
   */
  apply(diff) {
    const active = /** @type {HTMLElement|null} */ (document.activeElement);
    this.#window = [innerWidth, innerHeight];
    for (const id of diff.gone ?? []) this.#remove(id);
    for (const node of diff.set ?? []) this.#set(node);
    if (diff.order?.length) this.#arrange(diff.order);
    for (const node of diff.set ?? []) this.#place(node);
    this.#fields.settle();
    this.#showDialog(active);
    this.#giveFocus();
  }

  /** Moves the keyboard focus to a node as soon as the mirror shows it. @param {number} id */
  focusSoon(id) {
    this.#wantFocus = id;
  }

  /** Says something in the polite live region. @param {string} text */
  announce(text) {
    // The same words twice are only read twice if the region changes in between.
    this.#live.textContent = this.#live.textContent === text ? `${text}\u00a0` : text;
  }

  /** A finger on the canvas ends typing, and the mark that shows where the keyboard is. */
  leave() {
    if (this.typingIn) /** @type {HTMLElement} */ (document.activeElement).blur();
    else if (this.focused) this.#receiver.focus(0);
  }

  // Elements -------------------------------------------------------------------------------------

  /** @param {EventTarget|null} target */
  #idOf(target) {
    const element = target instanceof HTMLElement ? target.closest('[data-node]') : null;
    return element ? Number(/** @type {HTMLElement} */ (element).dataset.node) : 0;
  }

  /** @param {Event} event */
  #click(event) {
    const id = this.#idOf(event.target);
    const node = this.#nodes.get(id);
    if (!node || node.disabled || isField(event.target)) return;
    if (this.#elements.get(id)?.tagName === 'BUTTON') this.#receiver.activate(id);
  }

  /** @param {number} id */
  #remove(id) {
    this.#fields.remove(id);  // first: a field that goes while it has the focus is not "done"
    this.#elements.get(id)?.remove();
    this.#elements.delete(id);
    this.#nodes.delete(id);
  }

  /** @param {Node} node */
  #set(node) {
    const [tag, role] = elementOf(node);
    let element = this.#elements.get(node.id);
    if (!element || element.tagName.toLowerCase() !== tag) {
      const made = document.createElement(tag);
      made.dataset.node = String(node.id);
      if (element) {
        made.append(...element.children);
        element.replaceWith(made);
      } else {
        this.#parentOf(node).append(made);
      }
      this.#elements.set(node.id, made);
      this.#fields.remove(node.id);
      element = made;
    }
    this.#nodes.set(node.id, node);
    setAttribute(element, 'role', role ?? null);
    describe(element, node);
    if (isField(element)) this.#fields.set(node, element);
  }

  /** @param {Node} node */
  #parentOf(node) {
    return this.#elements.get(node.parent ?? 0) ?? this.#root;
  }

  /**
   * Puts every element in its parent, in order, moving as few as can be and never the one that
   * holds the focus (a moved element loses it).
   * @param {number[]} order
   */
  #arrange(order) {
    /** @type {Map<Element, Element|null>} */
    const cursors = new Map();
    for (const id of order) {
      const element = this.#elements.get(id);
      const node = this.#nodes.get(id);
      if (!element || !node) continue;
      const parent = this.#parentOf(node);
      let cursor = cursors.has(parent) ? cursors.get(parent) ?? null : parent.firstElementChild;
      if (cursor !== element && element.parentElement === parent &&
          element.contains(document.activeElement)) {
        while (cursor && cursor !== element) {
          const next = cursor.nextElementSibling;
          parent.append(cursor);
          cursor = next;
        }
      }
      // One that leaves another parent must not stay that parent's next place.
      const from = element.parentElement;
      if (from && from !== parent && cursors.get(from) === element) {
        cursors.set(from, element.nextElementSibling);
      }
      if (cursor === element) {
        cursors.set(parent, element.nextElementSibling);
      } else {
        parent.insertBefore(element, cursor);
        cursors.set(parent, cursor);
      }
    }
  }

  /** Positions an element and those inside it, which are placed against it. @param {Node} node */
  #place(node) {
    const element = this.#elements.get(node.id);
    if (!element) return;
    this.#position(element, node);
    for (const child of element.children) {
      const inner = this.#nodes.get(this.#idOf(child));
      if (inner) this.#position(/** @type {HTMLElement} */ (child), inner);
    }
  }

  /** @param {HTMLElement} element @param {Node} node */
  #position(element, node) {
    const around = this.#origin(node.parent ?? 0);
    const shown = node.rect ?? NOWHERE;
    const [x, y] = this.#origin(node.id);
    let [, , width, height] = shown;
    if (isField(element)) {
      const full = node.full ?? shown;
      [, , width, height] = full;
      const hidden = shown[2] <= 0 || shown[3] <= 0;
      setAttribute(element, 'data-hidden', hidden ? '' : null);
      const inset = [shown[1] - full[1], full[0] + full[2] - shown[0] - shown[2],
        full[1] + full[3] - shown[1] - shown[3], shown[0] - full[0]];
      element.style.clipPath = hidden || inset.every((side) => side < 0.5)
        ? '' : `inset(${inset.map((side) => `${Math.max(0, side)}px`).join(' ')})`;
    }
    element.style.transform = `translate(${x - around[0]}px, ${y - around[1]}px)`;
    element.style.width = `${Math.max(1, width)}px`;
    element.style.height = `${Math.max(1, height)}px`;
  }

  /**
   * Top left of an element on the page. What is scrolled out of sight stays inside the window, so
   * that focusing it scrolls nothing.
   * @param {number} id
   */
  #origin(id) {
    const node = this.#nodes.get(id);
    if (!node) return [0, 0];
    const shown = node.rect ?? NOWHERE;
    const seen = shown[2] > 0 && shown[3] > 0;
    const [x, y] = seen && isField(this.#elements.get(id)) ? node.full ?? shown : shown;
    if (seen) return [x, y];
    const [width, height] = this.#window;
    return [clamp(x, 0, width - 1), clamp(y, 0, height - 1)];
  }

  // Dialogs and focus ----------------------------------------------------------------------------

  /** Makes everything behind the topmost dialog inert. @param {HTMLElement|null} active */
  #showDialog(active) {
    const dialogs = this.#root.querySelectorAll('[role=dialog]');
    const top = /** @type {HTMLElement|undefined} */ (dialogs[dialogs.length - 1]) ?? null;
    if (top === this.#dialog && !top) return;
    const changed = top !== this.#dialog;
    const wasOpen = this.#dialog;
    this.#dialog = top;
    const lit = new Set();
    for (let at = top; at && at !== this.#root; at = at.parentElement) lit.add(at);
    for (const element of this.#root.querySelectorAll('[inert]')) {
      if (!top || lit.has(element)) /** @type {HTMLElement} */ (element).inert = false;
    }
    for (const element of lit) {
      for (const sibling of element.parentElement.children) {
        sibling.inert = !lit.has(sibling);
      }
    }
    if (!changed) return;
    if (top && !wasOpen && active && this.#root.contains(active)) this.#openers.push(active);
    if (this.#wantFocus) return;
    if (top && !top.contains(document.activeElement)) {
      top.focus({ preventScroll: true });
    } else if (!top) {
      const back = this.#openers.pop();
      if (back?.isConnected) back.focus({ preventScroll: true });
    }
  }

  #giveFocus() {
    if (!this.#wantFocus) return;
    const element = this.#elements.get(this.#wantFocus);
    this.#wantFocus = 0;
    if (!element) return;
    if (element.tabIndex < 0) element.tabIndex = -1;
    element.focus({ preventScroll: true });
  }
}

/** @param {Node} node @returns {[string, string?]} */
function elementOf(node) {
  if (node.role === 'heading') return [`h${clamp(node.level ?? 2, 1, 3)}`];
  return /** @type {any} */ (ELEMENTS)[node.role] ?? ['div'];
}

/**
 * Name, state and reachability.
 * @param {HTMLElement} element @param {Node} node
 */
function describe(element, node) {
  const { role, label = '', value = '' } = node;
  if (SPOKEN.has(role)) setWords(element, label);
  else setAttribute(element, 'aria-label', label || null);
  if (isField(element)) return;
  setAttribute(element, 'aria-description', value || null);
  setAttribute(element, 'aria-disabled', node.disabled ? 'true' : null);
  setAttribute(element, 'aria-modal', role === 'dialog' ? 'true' : null);
  const checkable = role === 'checkbox' || role === 'radio';
  setAttribute(element, 'aria-checked', checkable ? String(node.checked ?? false) : null);
  setAttribute(element, 'aria-current', role === 'tab' && node.checked ? 'true' : null);
  setAttribute(element, 'aria-haspopup', node.has_popup ? 'dialog' : null);
  setAttribute(element, 'aria-expanded', node.has_popup ? String(node.expanded ?? false) : null);
  const button = element instanceof HTMLButtonElement;
  if (button) element.type = 'button';
  if (node.focusable) element.tabIndex = 0;
  else if (button || role === 'dialog') element.tabIndex = -1;
  else element.removeAttribute('tabindex');
}

/** The element's own words, beside any elements inside it. @param {HTMLElement} element */
function setWords(element, /** @type {string} */ words) {
  const first = element.firstChild;
  if (first instanceof Text) {
    if (first.data !== words) first.data = words;
  } else if (words) {
    element.prepend(words);
  }
}

/** @param {number} value @param {number} low @param {number} high */
function clamp(value, low, high) {
  return Math.min(Math.max(value, low), Math.max(low, high));
}
