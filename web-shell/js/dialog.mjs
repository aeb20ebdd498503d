// @ts-check
/** A dialog of the page itself, over the app. */

/** @param {string} tag @param {object} [set] @param {...(Node|string)} inside */
export function make(tag, set = {}, ...inside) {
  const element = Object.assign(document.createElement(tag), set);
  element.append(...inside);
  return element;
}

/** @param {string} textContent */
export function makeButton(textContent) {
  return /** @type {HTMLButtonElement} */ (make('button', { type: 'button', textContent }));
}

/**
 * Opens one with a button that closes it.
 * @param {string} title @param {(Node|string)[]} inside @param {() => void} closed
 */
export function openDialog(title, inside, closed) {
  const close = makeButton('Close');
  const heading = make('h1', { textContent: title, id: 'dialog-title' });
  const dialog = /** @type {HTMLDialogElement} */ (make('dialog', {}, heading, ...inside, close));
  dialog.setAttribute('aria-labelledby', heading.id);
  close.addEventListener('click', () => dialog.close());
  dialog.addEventListener('close', () => { dialog.remove(); closed(); });
  document.body.append(dialog);
  dialog.showModal();
  return dialog;
}
