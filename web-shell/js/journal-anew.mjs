// @ts-check
/** What is stored is put in place of everything before: after a deletion, and for a passcode. */

import { OLD_STORES } from './journal-db.mjs';

/**
 * @typedef {object} Anew what is stored from now on
 * @property {number} through -1: records and snapshots stay as they are
 * @property {Uint8Array} [bytes] the snapshot that stands for everything through `through`
 * @property {import('./vault.mjs').Lock|null} [lock] null: none any more
 * @property {string} [preferences]
 */

/**
 * Both places get the one snapshot. Nothing of what was before may stay: not the older snapshot,
 * not what was set aside as damaged, not the stores of an older version.
 * @param {IDBTransaction} tx of all stores @param {Anew} anew
 * @param {import('./journal-seal.mjs').Image|null} image the snapshot with its checksum
 * @param {import('./journal-images.mjs').Images} images
 */
export function putAnew(tx, { through, lock, preferences }, image, images) {
  const settings = tx.objectStore('settings');
  if (image) {
    images.putAlone(tx, image);
    tx.objectStore('journal').delete(IDBKeyRange.upperBound(through));
    tx.objectStore('aside').clear();
    for (const name of OLD_STORES) {
      if (tx.objectStoreNames.contains(name)) tx.objectStore(name).clear();
    }
    for (const name of ['slots', 'kept']) settings.delete(name);
  }
  if (lock) settings.put(lock, 'lock');
  if (lock === null) settings.delete('lock');
  if (preferences !== undefined) settings.put(preferences, 'preferences');
}
