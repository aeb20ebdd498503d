// @ts-check
/** Without a network after the first load; new versions wait their turn; any sub-folder works. */
import assert from 'node:assert/strict';
import { appendFileSync, cpSync } from 'node:fs';
import { join } from 'node:path';
import { test } from 'node:test';

import { isOtherBuild, otherBuild, room, takeOver, takenIn, waits } from './builds.mjs';
import { needs } from './engines/choose.mjs';
import { SITE, newProfile, openLab } from './harness.mjs';

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
