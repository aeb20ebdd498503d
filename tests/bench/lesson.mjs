// Memory over a lesson of ninety minutes with 600 marks on a clock of its own. Drawing in software
// is slow: a frame every five seconds of the lesson instead of every second.
import { Clock } from '../browser/clock.mjs';

const MINUTES = 90;
const MARKS = 600;
const STEP_S = 5;
const MB = 1e6;

/** Bytes in use after everything that can be thrown away is gone: scripts, page, wasm's memory. */
async function inUse(app) {
  for (let i = 0; i < 3; i += 1) await app.devtools.send('HeapProfiler.collectGarbage');
  const { usedSize, embedderHeapUsedSize, backingStorageSize } =
    await app.devtools.send('Runtime.getHeapUsage');
  return usedSize + embedderHeapUsedSize + backingStorageSize;
}

/** One minute: frames, and marks where their turn comes; how many were put so far. */
function minute({ begun, marks, seconds, step }) {
  const frame = () => new Promise((done) => { requestAnimationFrame(done); });
  const due = (second) => Math.floor(second * marks / seconds);
  const put = (n) => {
    const buttons = [...document.querySelectorAll('#mirror button')]
      .filter((one) => /: (secure|shaky|stuck)$/.test(one.getAttribute('aria-label') ?? ''));
    buttons[n * 7 % buttons.length].click();
  };
  return (async () => {
    for (let second = begun; second < begun + 60; second += step) {
      testClock.pass(step * 1000);
      for (let n = due(second); n < due(second + step); n += 1) put(n);
      await frame();
    }
    return due(begun + 60);
  })();
}

/** @returns {Promise<{mb: number, marks: number, frames: number}>} growth in megabytes */
export async function lessonMemory(lab) {
  const clock = new Clock(Date.parse('2027-03-09T09:00:00Z'));
  const app = await lab.open({ width: 390, height: 844, before: clock.script() });
  await app.startDemoRound();
  await clock.pass(app, 10_000);  // the message is gone
  const before = await inUse(app);
  const drawn = await app.frames();
  let marks = 0;
  for (let at = 0; at < MINUTES; at += 1) {
    marks = await app.page.evaluate(minute,
      { begun: at * 60, marks: MARKS, seconds: MINUTES * 60, step: STEP_S });
  }
  await app.settled();
  await app.see('status', 'Saved on this device');
  const result = { mb: (await inUse(app) - before) / MB, marks,
    frames: await app.frames() - drawn };
  await app.page.close();
  return result;
}
