// @ts-check
/** A page with empty storage and the journal's modules, for tests of storage by itself. */
import { dirname, join } from 'node:path';
import { after, before } from 'node:test';
import { fileURLToPath } from 'node:url';

import { openLab } from './harness.mjs';

/** The site that has the modules. */
const MODULES = join(dirname(fileURLToPath(import.meta.url)), '../../web-shell/js');

/** For the tests of one file. @returns what opens a page */
export function storagePages() {
  /** @type {import('./harness.mjs').Lab} */
  let lab;
  before(async () => { lab = await openLab({ site: MODULES }); });
  after(() => lab.close());
  return () => open(lab);
}

/** A window of its own: the server's "not found", and what tests need as global names.
 *  @param {import('./harness.mjs').Lab} lab */
async function open(lab) {
  const { page } = await lab.open({ path: 'empty', ready: false });
  await page.evaluate(async () => {
    const { Journal } = await import(String('/journal.mjs'));
    const { crc32 } = await import(String('/crc32.mjs'));
    const { seal, sealImageNow } = await import(String('/journal-seal.mjs'));
    const { WriterLock } = await import(String('/lock.mjs'));
    /** A journal that writes. */
    const writer = async (options = {}) => {
      const journal = new Journal(options);
      await journal.claim();
      await journal.read();
      return journal;
    };
    const bytes = (text) => new TextEncoder().encode(text);
    const text = (data) => data && new TextDecoder().decode(data);
    const outcome = (promise) => promise.then(() => 'stored', (error) => error.message);
    /** Reaches into the database behind the journal's back. */
    const reach = (work, version = undefined, upgrade = (db) => db) => new Promise((done) => {
      const request = indexedDB.open('tallyround', version);
      request.onupgradeneeded = () => upgrade(request.result);
      request.onsuccess = () => {
        const db = request.result;
        const tx = db.transaction([...db.objectStoreNames], 'readwrite');
        const answer = work((name) => tx.objectStore(name));
        tx.oncomplete = () => { db.close(); done(answer?.result); };
      };
    });
    Object.assign(globalThis, { Journal, WriterLock, crc32, seal, sealImageNow, writer, bytes,
      text, outcome, reach });
  });
  return page;
}
