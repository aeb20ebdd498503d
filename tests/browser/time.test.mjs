// @ts-check
/** The countdown whatever happens to clocks and tabs; sound, and the screen that stays on. */
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';

import { Clock } from './clock.mjs';
import { openLab } from './harness.mjs';

const MINUTE = 60_000;
const START = Date.parse('2027-03-09T09:10:00Z');

/** @type {import('./harness.mjs').Lab} */
let lab;
before(async () => { lab = await openLab({ zone: 'Europe/London' }); });
after(() => lab.close());

/** Stands in for what the page asks of the device, and notes it in `asked`. */
function watchDevice() {
  const page = /** @type {any} */ (globalThis);
  page.asked = [];
  page.AudioContext = class {
    currentTime = 0;
    destination = null;
    constructor() { page.asked.push('sound opened'); }
    async suspend() {}
    async resume() {
      const type = globalThis.event?.type;
      if (type) page.asked.push(`sound begun at ${type}`);
      // What a browser does where nobody touched the page.
      if (!navigator.userActivation.hasBeenActive) throw new DOMException('', 'NotAllowedError');
    }
  };
  class Part {
    gain = { setValueAtTime() {}, linearRampToValueAtTime() {}, exponentialRampToValueAtTime() {} };
    /** @param {any} to */
    connect(to) { return to; }
  }
  page.GainNode = Part;
  page.OscillatorNode = class extends Part {
    /** @param {unknown} audio @param {{frequency: number}} options */
    constructor(audio, { frequency }) {
      super();
      page.asked.push(`tone ${frequency}`);
    }
    start() {}
    stop() {}
  };
  page.locks = [];
  Object.defineProperty(navigator, 'wakeLock', { value: {
    /** @param {string} what */
    async request(what) {
      page.asked.push(`awake: ${what}`);
      const lock = { released: false, async release() {
        lock.released = true;
        page.asked.push('may sleep');
      } };
      page.locks.push(lock);
      return lock;
    },
  } });
}

/** Whether the tab is hidden, as the browser would say it. @param {import('./hands.mjs').Hands} app
 *  @param {boolean} hidden */
async function hide(app, hidden) {
  await app.page.evaluate((is) => {
    Object.defineProperty(document, 'hidden', { configurable: true, value: is });
    document.dispatchEvent(new Event('visibilitychange'));
  }, hidden);
  await app.settled();
}

/** The demo class in its first round of ten minutes. */
async function inRoundOne() {
  const clock = new Clock(START);
  const app = await lab.open({ before: `${clock.script()};(${watchDevice})()` });
  await app.startDemoRound();
  await app.see('timer', '10:00 left');
  return { app, clock };
}

/** What the page asked of the device since the last call. @param {import('./hands.mjs').Hands} app
 *  @returns {Promise<string[]>} */
const asked = (app) => app.page.evaluate(() => /** @type {any} */ (globalThis).asked.splice(0));

test('a hidden tab draws nothing, and its countdown is right when it is seen again', async () => {
  const { app, clock } = await inRoundOne();
  await hide(app, true);
  const drawn = await app.frames();
  for (let i = 0; i < 5; i += 1) await clock.pass(app, MINUTE);
  assert.equal(await app.frames(), drawn);
  await hide(app, false);
  await app.see('timer', '5:00 left');
  assert.ok(await app.frames() - drawn <= 3);
  await app.page.close();
});

test('after a reload and in another time zone the countdown is right', async () => {
  const { app, clock } = await inRoundOne();
  await clock.pass(app, 2 * MINUTE);
  await app.see('status', 'Saved on this device');
  await app.reload();
  await app.see('timer', '8:00 left');
  await app.page.evaluate(() => { Date.prototype.getTimezoneOffset = () => -120; });
  await clock.pass(app, MINUTE);
  await app.see('timer', '7:00 left');
  await app.page.close();
});

test('the device’s clock is set back: the countdown goes on as it was, once', async () => {
  const { app, clock } = await inRoundOne();
  await clock.pass(app, 3 * MINUTE);
  await app.see('timer', '7:00 left');
  await clock.sleep(app, -10 * MINUTE);
  await clock.pass(app, 1000);
  await app.see('timer', '6:59 left');
  await app.hear(/clock was set back/);
  await clock.pass(app, MINUTE);
  await app.see('timer', '5:59 left');
  await app.page.close();
});

test('tones only after a touch: one at two minutes, three at the end, none twice', async () => {
  const clock = new Clock(START);
  const app = await lab.open({ before: `${clock.script()};(${watchDevice})()` });
  assert.deepEqual(await asked(app), []);
  await app.tapAt(5, 5);
  await app.settled();
  // Where a finger goes up, not before: that is what browsers ask for.
  assert.deepEqual(await asked(app), ['sound opened', 'sound begun at pointerup']);
  await app.tapAt(5, 5);
  await app.settled();
  assert.deepEqual(await asked(app), []);
  await app.page.close();

  const lesson = await inRoundOne();
  await asked(lesson.app);
  await lesson.clock.pass(lesson.app, 8 * MINUTE);
  assert.deepEqual(await asked(lesson.app), ['tone 659']);
  await lesson.clock.pass(lesson.app, MINUTE);
  assert.deepEqual(await asked(lesson.app), []);
  await lesson.clock.pass(lesson.app, MINUTE);
  assert.deepEqual(await asked(lesson.app), ['tone 784', 'tone 659', 'tone 523']);
  await lesson.clock.pass(lesson.app, MINUTE);
  assert.deepEqual(await asked(lesson.app), []);
  await lesson.app.see('timer', 'Time is up, +1:00');
  await lesson.app.page.close();
});

test('the bell is heard from a hidden tab', async () => {
  const { app, clock } = await inRoundOne();
  await asked(app);
  await hide(app, true);
  await clock.pass(app, 8 * MINUTE);
  assert.deepEqual(await asked(app), ['tone 659']);
  await clock.pass(app, 2 * MINUTE);
  assert.deepEqual(await asked(app), ['tone 784', 'tone 659', 'tone 523']);
  await hide(app, false);
  await app.see('timer', /^(0:00 left|Time is up)/);
  assert.deepEqual(await asked(app), []);
  await app.page.close();
});

test('the screen stays on in a lesson, also after the tab was away', async () => {
  const { app } = await inRoundOne();
  assert.ok((await asked(app)).includes('awake: screen'));
  await app.page.evaluate(() => { /** @type {any} */ (globalThis).locks[0].released = true; });
  await hide(app, true);
  assert.deepEqual(await asked(app), []);
  await hide(app, false);
  assert.deepEqual(await asked(app), ['awake: screen']);
  await app.tap('button', 'Lesson menu');
  await app.tap('button', 'End the lesson');
  await app.tap('button', 'End it now');
  assert.deepEqual(await asked(app), ['may sleep']);
  await app.page.close();
});
