// @ts-check
/** Shown when the app cannot draw or run: plain words, and a way to the data. */

import { saveFile } from './files.mjs';

/**
 * @typedef {object} Rescue
 * @property {(() => Uint8Array|null)} [plan] the plan file, if the app runs at all
 * @property {() => Promise<string>} raw whatever storage holds
 */

/**
 * @param {string} reason what is missing or went wrong, one sentence
 * @param {string} remedy what the person can do about it
 * @param {Rescue} rescue
 */
export function showPlain(reason, remedy, rescue) {
  const page = /** @type {HTMLElement} */ (document.getElementById('plain'));
  if (!page.hidden) return;
  for (const id of ['stage', 'live']) document.getElementById(id)?.remove();
  const title = document.createElement('h1');
  title.textContent = 'Tallyround cannot run here';
  const why = document.createElement('p');
  why.textContent = `${reason} ${remedy}`;
  const data = document.createElement('p');
  data.textContent = 'Nothing that was saved is lost. You can save it to a file now and open ' +
    'that file on another device.';
  const save = document.createElement('button');
  save.type = 'button';
  save.textContent = 'Save what is stored to a file';
  const answer = document.createElement('p');
  answer.setAttribute('role', 'status');
  save.addEventListener('click', async () => { answer.textContent = await rescueFile(rescue); });
  const again = document.createElement('button');
  again.type = 'button';
  again.textContent = 'Try again';
  again.addEventListener('click', () => location.reload());
  page.replaceChildren(title, why, data, save, again, answer);
  page.hidden = false;
}

/** @param {Rescue} rescue */
async function rescueFile(rescue) {
  try {
    const plan = rescue.plan?.();
    if (plan && plan.length > 0) {
      await saveFile('tallyround-plan.json', 'application/json', plan);
      return 'Saved as a plan file.';
    }
  } catch { /* the app cannot: what storage holds is saved as it is */ }
  try {
    await saveFile('tallyround-stored.json', 'application/json', await rescue.raw());
    return 'Saved as it is stored.';
  } catch (error) {
    return error instanceof Error ? error.message : 'Nothing could be read.';
  }
}
