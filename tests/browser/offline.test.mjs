// @ts-check
/** Without a network after the first load; new versions wait their turn; any sub-folder works. */
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { appendFileSync, cpSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { after, before, test } from 'node:test';
import { fileURLToPath } from 'node:url';

import { needs } from './engines/choose.mjs';
import { SITE, newProfile, openLab } from './harness.mjs';

const MAKE_SITE = join(dirname(fileURLToPath(import.meta.url)), '../../web-shell/make-site.mjs');

/** @type {string} */
let room;
before(() => { room = mkdtempSync(join(tmpdir(), 'tallyround-sites-')); });
after(() => rmSync(room, { recursive: true }));

/** The site once more, as another build: one file differs. @param {string} out */
function otherBuild(out) {
  const app = join(room, 'app');
  mkdirSync(app, { recursive: true });
  for (const name of ['tallyround.mjs', 'tallyround.wasm']) {
    cpSync(join(SITE, name), join(app, name));
  }
  appendFileSync(join(app, 'tallyround.mjs'), '\nexport const otherBuild = true;\n');
  execFileSync(process.execPath,
    [MAKE_SITE, '--app', app, '--fonts', join(SITE, 'fonts'), '--out', out]);
}

/** @param {import('./hands.mjs').Hands} app */
const takenIn = (app) => app.page.evaluate(() => navigator.serviceWorker.ready.then(() => true));

/** A newer version comes to wait within ten seconds. @param {import('./hands.mjs').Hands} app */
const waits = (app) => app.page.evaluate(async () => {
  const registration = await navigator.serviceWorker.getRegistration();
  for (let tries = 0; tries < 100 && !registration?.waiting; tries++) {
    await new Promise((done) => { setTimeout(done, 100); });
  }
  return Boolean(registration?.waiting);
});

/** Lets the version that waits take over. @param {import('./hands.mjs').Hands} app */
const takeOver = (app) => app.page.evaluate(async () => {
  const registration = await navigator.serviceWorker.getRegistration();
  registration?.waiting?.postMessage('take over');
  while (registration?.waiting || registration?.active?.state !== 'activated') {
    await new Promise((done) => { setTimeout(done, 50); });
  }
});

/** Which build the page would load its app from. @param {import('./hands.mjs').Hands} app */
const isOtherBuild = (app) => app.page.evaluate(async () =>
  (await (await fetch('tallyround.mjs')).text()).includes('otherBuild'));

test('reload with the server killed, and after a browser restart', needs('profile'), async () => {
  const lab = await openLab({ profile: newProfile() });
  try {
    const app = await lab.open();
    await takenIn(app);
    await lab.stopServer();
    await app.reload();
    await lab.closeBrowser();
    const again = await lab.open();
    await again.see('main');
    assert.deepEqual(again.complaints, []);
    assert.deepEqual(lab.foreign, []);
  } finally {
    await lab.close();
  }
});

test('the cache holds every file of the site and asks the network for none', async () => {
  const lab = await openLab();
  try {
    const app = await lab.open();
    await takenIn(app);
    await app.page.waitForFunction(() => navigator.serviceWorker.controller);
    const before = lab.served.length;
    await app.reload();
    const asked = lab.served.slice(before).filter((path) => !path.endsWith('/sw.js'));
    assert.deepEqual(asked, []);
  } finally {
    await lab.close();
  }
});

test('a new version waits; it takes over when it is told to, and the old cache goes', async () => {
  const site = join(room, 'site');
  cpSync(SITE, site, { recursive: true });
  const lab = await openLab({ site });
  try {
    const app = await lab.open();
    await takenIn(app);
    await app.page.waitForFunction(() => navigator.serviceWorker.controller);
    otherBuild(site);
    await app.reload();
    assert.equal(await waits(app), true);
    await app.reload();
    assert.equal(await isOtherBuild(app), false, 'the old version goes on');
    await takeOver(app);
    await app.reload();
    assert.equal(await isOtherBuild(app), true);
    assert.equal((await app.page.evaluate(() => caches.keys())).length, 1);
  } finally {
    await lab.close();
  }
});

test('a new version of which one file is not whole never takes over', async () => {
  const site = join(room, 'half');
  cpSync(SITE, site, { recursive: true });
  const lab = await openLab({ site });
  try {
    const app = await lab.open();
    await takenIn(app);
    await app.page.waitForFunction(() => navigator.serviceWorker.controller);
    otherBuild(site);
    appendFileSync(join(site, 'style.css'), '/* cut off');
    const outcome = await app.page.evaluate(async () => {
      const registration = await navigator.serviceWorker.getRegistration();
      await registration?.update();
      const worker = registration?.installing;
      if (!worker) return 'nothing new';
      return new Promise((done) => { worker.onstatechange = () => done(worker.state); });
    });
    assert.equal(outcome, 'redundant');
    await app.reload();
    assert.equal(await isOtherBuild(app), false);
  } finally {
    await lab.close();
  }
});

test('the site works from a sub-folder, offline too', async () => {
  const site = join(room, 'host');
  cpSync(SITE, join(site, 'school/maths'), { recursive: true });
  const lab = await openLab({ site });
  try {
    const app = await lab.open({ path: 'school/maths/' });
    await takenIn(app);
    await lab.stopServer();
    await app.reload();
    assert.deepEqual(app.complaints, []);
  } finally {
    await lab.close();
  }
});
