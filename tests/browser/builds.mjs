// @ts-check
/** An old and a new build of the site, for tests of updates. */
import { execFileSync } from 'node:child_process';
import { appendFileSync, cpSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { after, before } from 'node:test';
import { fileURLToPath } from 'node:url';

import { SITE } from './harness.mjs';

const MAKE_SITE = join(dirname(fileURLToPath(import.meta.url)), '../../web-shell/make-site.mjs');

/** A folder for the sites of this test file. @type {string} */
export let room;
before(() => { room = mkdtempSync(join(tmpdir(), 'tallyround-sites-')); });
after(() => rmSync(room, { recursive: true }));

/** The site once more, as another build: one file differs. @param {string} out */
export function otherBuild(out) {
  const app = join(room, 'app');
  mkdirSync(app, { recursive: true });
  for (const name of ['tallyround.mjs', 'tallyround.wasm']) {
    cpSync(join(SITE, name), join(app, name));
  }
  appendFileSync(join(app, 'tallyround.mjs'), '\nexport const otherBuild = true;\n');
  execFileSync(process.execPath,
    [MAKE_SITE, '--app', app, '--fonts', join(SITE, 'fonts'),
      '--vendor', join(SITE, 'vendor'), '--out', out]);
}

/** @param {import('./hands.mjs').Hands} app */
export const takenIn = (app) => app.page.evaluate(
  () => navigator.serviceWorker.ready.then(() => true));

/** A newer version comes to wait within ten seconds. @param {import('./hands.mjs').Hands} app */
export const waits = (app) => app.page.evaluate(async () => {
  const registration = await navigator.serviceWorker.getRegistration();
  for (let tries = 0; tries < 100 && !registration?.waiting; tries++) {
    await new Promise((done) => { setTimeout(done, 100); });
  }
  return Boolean(registration?.waiting);
});

/** Lets the version that waits take over. @param {import('./hands.mjs').Hands} app */
export const takeOver = (app) => app.page.evaluate(async () => {
  const registration = await navigator.serviceWorker.getRegistration();
  registration?.waiting?.postMessage('take over');
  while (registration?.waiting || registration?.active?.state !== 'activated') {
    await new Promise((done) => { setTimeout(done, 50); });
  }
});

/** Which build the page would load its app from. @param {import('./hands.mjs').Hands} app */
export const isOtherBuild = (app) => app.page.evaluate(async () =>
  (await (await fetch('tallyround.mjs')).text()).includes('otherBuild'));
