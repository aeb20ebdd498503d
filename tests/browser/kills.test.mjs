// @ts-check
/**
 * The browser is killed (SIGKILL to all of its processes at once) at random moments while marks are
 * tapped, again and again on one profile. After each: everything that had been shown as saved is
 * there, nothing is damaged, the lesson goes on.
 *
 * A share in every run; all of it: TALLYROUND_KILLS=200 node --test tests/browser/kills.test.mjs
 */
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';

import { newProfile, openLab } from './harness.mjs';
import { Draws } from '../storage/world.mjs';

const KILLS = Number(process.env.TALLYROUND_KILLS ?? 10);
const SEED = Number(process.env.TALLYROUND_SEED ?? 20261126);
/** Longest time of tapping before a kill. */
const MOST_MS = 1500;

/** @type {import('./harness.mjs').Lab} */
let lab;
before(async () => { lab = await openLab({ profile: newProfile() }); });
after(() => lab.close());

/** What storage holds, read beside the app. @param {import('./hands.mjs').Hands} app */
const held = (app) => app.page.evaluate(async () => {
  const { Journal } = await import(String('./js/journal.mjs'));
  const { lastKey, damage, aside, keys, through } = await new Journal().read();
  return { lastKey, damage, aside, whole: keys.length === lastKey - through };
});

/** How many taps the page has said are saved. @param {import('./hands.mjs').Hands} app */
const saved = (app) => app.page.evaluate(() =>
  /** @type {any} */ (globalThis).tallyround.timings.durable.length);

/** Taps marks, one after the other, until the time is over; then kills. Returns how many were shown
 *  as saved. @param {import('./hands.mjs').Hands} app @param {number} ms */
async function tapAndKill(app, ms) {
  const names = (await app.names('button')).filter((n) => /: (secure|shaky|stuck)$/.test(n));
  const spots = [];
  for (const name of names.slice(0, 6)) spots.push(await app.spot('button', name));
  assert.ok(spots.length > 0, 'there are marks to tap');
  const before = await saved(app);
  let seen = before;
  const end = performance.now() + ms;
  for (let i = 0; performance.now() < end; i++) {
    const { x, y } = spots[i % spots.length];
    app.tapAt(x, y).catch(() => {});
    const now = await Promise.race([saved(app).catch(() => seen),
      new Promise((done) => { setTimeout(() => done(seen), end - performance.now()); })]);
    seen = Math.max(seen, Number(now));
  }
  await lab.killBrowser();
  return seen - before;
}

test(`${KILLS} kills while marks are tapped, seed ${SEED}: what was shown as saved is there`,
  { timeout: 7_200_000 }, async () => {
    const draws = new Draws(SEED);
    let app = await lab.open();
    await app.startDemoRound();
    await app.read('Saved on this device');
    let { lastKey } = await held(app);
    let taps = 0;
    for (let kill = 1; kill <= KILLS; kill++) {
      const seen = await tapAndKill(app, 50 + draws.below(MOST_MS));
      taps += seen;
      app = await lab.open();
      await app.read(/^Round 1 of/);
      const now = await held(app);
      assert.deepEqual([now.damage, now.aside, now.whole], [[], 0, true], `kill ${kill}`);
      assert.ok(now.lastKey >= lastKey + seen,
        `kill ${kill}: ${seen} shown as saved, ${now.lastKey - lastKey} there`);
      await app.read('Saved on this device');
      ({ lastKey } = now);
      if (kill % 20 === 0) console.log(`${kill} kills, ${taps} marks shown as saved`);
    }
    console.log(`${KILLS} kills, ${taps} marks shown as saved, all of them there`);
    assert.ok(taps > KILLS, `only ${taps} marks were shown as saved`);
  });
