// @ts-check
/** What is stored, as it is: for whoever helps when something is damaged. */

import { result } from './journal-db.mjs';
import { toBase64 } from './vault.mjs';

/**
 * Every store with its keys as one JSON text; bytes are given as base64.
 * @param {import('./journal-db.mjs').Database} database
 */
export async function rawFile(database) {
  const stores = await database.stores();
  const raw = await database.run('readonly', stores, (tx, done) => {
    /** @type {Record<string, {keys: any[], values: any[]}>} */
    const found = {};
    for (const name of stores) {
      found[name] = { keys: [], values: [] };
      tx.objectStore(name).getAllKeys().onsuccess = (event) => {
        found[name].keys = result(event);
      };
      tx.objectStore(name).getAll().onsuccess = (event) => {
        found[name].values = result(event);
      };
    }
    done(found);
  });
  const file = /** @type {Record<string, any>} */ ({ format: 'tallyround-raw', version: 2 });
  for (const name of stores) {
    const { keys, values } = raw[name];
    file[name] = keys.map((/** @type {any} */ key, /** @type {number} */ i) => [key, values[i]]);
  }
  return JSON.stringify(file, (_, value) =>
    value instanceof Uint8Array ? { base64: toBase64(value) } : value);
}
