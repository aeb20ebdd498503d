// @ts-check
/** How records and the count of them are put down. */

import { seal } from './journal-seal.mjs';

/** @param {IDBTransaction} tx @param {import('./journal.mjs').Write[]} writes records, in order
 *  @param {number} stored the last one that is stored already */
export function putRecords(tx, writes, stored) {
  const keys = writes.map((write) => write.kind === 'record' ? write.key : 0);
  const from = Math.min(...keys);
  const to = Math.max(...keys);
  for (const write of writes) {
    if (write.kind !== 'record') continue;
    tx.objectStore('journal').put(seal(write.key, from, to, write.record), write.key);
  }
  putCount(tx, Math.max(to, stored));
}

/** Without it nothing would tell that the last ones are missing.
 *  @param {IDBTransaction} tx @param {number} last @param {'last'|'done'} [name] */
export function putCount(tx, last, name = 'last') {
  tx.objectStore('settings').put(seal(last, last, last, ''), name);
}
