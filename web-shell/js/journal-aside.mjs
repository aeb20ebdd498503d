// @ts-check
/** Where what is damaged goes, and what takes its place. */

import { result } from './journal-db.mjs';
import { nameAside } from './journal-read.mjs';
import { seal } from './journal-seal.mjs';

/** @typedef {import('./journal-read.mjs').Damage} Damage */

/**
 * Keeps what is damaged, once however often it is found.
 * @param {IDBTransaction} tx @param {Damage} damage @param {() => void} added
 */
export function putAside(tx, damage, added) {
  const store = tx.objectStore('aside');
  const name = nameAside(damage);
  store.count(name).onsuccess = (event) => {
    if (result(event) > 0) return;
    store.put({ ...damage, at: Date.now() }, name);
    added();
  };
}

/**
 * An empty record in the place of a lost one. A damaged snapshot never counts as whole again: from
 * now on numbers up to its own are given out anew.
 * @param {IDBTransaction} tx @param {Damage} damage
 * @param {import('./journal-images.mjs').Images} images
 */
export function fillHole(tx, { what, key, data }, images) {
  if (what === 'count') tx.objectStore('settings').delete(key);
  if (what === 'snapshot' && data?.data instanceof Uint8Array) {
    images.markDamaged(tx, String(key));
  }
  if (what !== 'record') return;
  const journal = tx.objectStore('journal');
  if (Number.isSafeInteger(key)) {
    const number = Number(key);
    journal.put(seal(number, number, number, ''), number);
  } else {
    journal.delete(key);
  }
}
