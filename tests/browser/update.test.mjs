// @ts-check
/** An old build, a new one, and the way back: never both at once, never in a lesson. */
import assert from 'node:assert/strict';
import { createHash } from 'node:crypto';
import { cpSync, readFileSync, readdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { test } from 'node:test';

import { isOtherBuild, otherBuild, room, takenIn, waits } from './builds.mjs';
import { SITE, openLab } from './harness.mjs';

/** Hashes of the site's files but the worker itself. @param {string} site */
function hashes(site) {
  /** @type {Record<string, string>} */
  const out = {};
  for (const path of readdirSync(site, { recursive: true, encoding: 'utf8' })) {
    if (path === 'sw.js' || !/\.\w+$/.test(path)) continue;
    out[path] = createHash('sha256').update(readFileSync(join(site, path))).digest('hex');
  }
  return out;
}

/** Hashes of what the page gets when it asks for each of these.
 *  @param {import('./hands.mjs').Hands} app @param {string[]} paths */
const served = (app, paths) => app.page.evaluate(async (list) => {
  /** @type {Record<string, string>} */
  const out = {};
  for (const path of list) {
    const bytes = await (await fetch(path)).arrayBuffer();
    out[path] = [...new Uint8Array(await crypto.subtle.digest('SHA-256', bytes))]
      .map((byte) => byte.toString(16).padStart(2, '0')).join('');
  }
  return out;
}, paths);

/** The old build, taken in by the browser; then the new one on the server, waiting.
 *  @param {string} name */
async function oldThenNew(name) {
  const site = join(room, name);
  cpSync(SITE, site, { recursive: true });
  const lab = await openLab({ site });
  const app = await lab.open();
  await takenIn(app);
  await app.page.waitForFunction(() => navigator.serviceWorker.controller);
  const before = hashes(site);
  otherBuild(site);
  await app.reload();
  assert.equal(await waits(app), true);
  return { site, lab, app, before, now: hashes(site) };
}

test('every file is of the old build until the switch, and of the new one after it', async () => {
  const { lab, app, before, now } = await oldThenNew('mixed');
  try {
    assert.notDeepEqual(before, now);
    assert.deepEqual(await served(app, Object.keys(before)), before);
    await app.tap('button', 'Settings and files');
    const reloaded = app.page.waitForEvent('load');
    await app.tap('button', 'Start the new version').catch(() => {});
    await reloaded;
    await app.startedOver();
    assert.deepEqual(await served(app, Object.keys(now)), now);
  } finally {
    await lab.close();
  }
});

test('while a lesson runs the new build is not started, whoever asks', async () => {
  const { lab, app } = await oldThenNew('lesson');
  try {
    await app.tap('button', 'Look around in the demo class');
    await app.tap('button', 'To the lesson');
    await app.tap('button', 'Start the lesson');
    await app.page.evaluate(() => {
      Object.assign(globalThis, { same: true });
      window.dispatchEvent(new Event('visibilitychange'));
    });
    await app.page.waitForFunction(
      () => /** @type {any} */ (globalThis).tallyround.lessonRunning);
    assert.equal(await app.find('button', 'Start the new version').count(), 0);
    assert.equal(await app.page.evaluate(() => 'same' in globalThis), true);
    // A reload in the lesson goes on with the old build.
    await app.reload();
    assert.equal(await isOtherBuild(app), false);
    assert.equal(await app.page.evaluate(
      () => /** @type {any} */ (globalThis).tallyround.lessonRunning), true);
  } finally {
    await lab.close();
  }
});

test('the way back: a file saved by the new build opens in the old one', async () => {
  const { site, lab, app, before } = await oldThenNew('back');
  try {
    await app.tap('button', 'Settings and files');
    const reloaded = app.page.waitForEvent('load');
    await app.tap('button', 'Start the new version').catch(() => {});
    await reloaded;
    await app.startedOver();
    assert.equal(await isOtherBuild(app), true);
    await app.tap('button', 'Look around in the demo class');
    await app.tap('button', 'Settings and files');
    const file = await app.download('button', 'Save plan file');
    // What a later build would add is kept as it came: kinds and members nobody here knows.
    rmSync(site, { recursive: true });
    cpSync(SITE, site, { recursive: true });
    const other = await lab.open();
    assert.deepEqual(await served(other, Object.keys(before)), before);
    await other.choose('button', 'Open a plan file',
      { name: file.name, mimeType: 'application/json', buffer: file.bytes });
    await other.see('button', /^Room 12/);
    const again = await (async () => {
      await other.tap('button', 'Settings and files');
      return other.download('button', 'Save plan file');
    })();
    assert.deepEqual(JSON.parse(again.bytes.toString()).events,
      JSON.parse(file.bytes.toString()).events);
  } finally {
    await lab.close();
  }
});
