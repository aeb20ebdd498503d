// From the finger to the screen, on a processor four times slower, and what a bare page takes.
import { openLab } from '../browser/harness.mjs';
import { canvasSite } from './canvas-site.mjs';

const TAPS = 60;
const SIZE = { width: 1024, height: 768 };

/** In the page, from its start on: Event Timing's durations of "pointerup", in steps of 8 ms: from
 *  the touch to the frame that shows what came of it. */
function watchEvents() {
  globalThis.presented = [];
  new PerformanceObserver((list) => {
    for (const { name, duration } of list.getEntries()) {
      if (name === 'pointerup') globalThis.presented.push(duration);
    }
  }).observe({ type: 'event', durationThreshold: 16 });
}

/** Does nothing but paint one square of the canvas. */
const SQUARE = `const c = document.getElementById('canvas');
  const gl = c.getContext('webgl2', { preserveDrawingBuffer: true });
  gl.enable(gl.SCISSOR_TEST);
  gl.scissor(100, 100, 60, 60);
  let n = 0;
  addEventListener('pointerup', () => requestAnimationFrame(() => {
    gl.clearColor(n++ % 2, 0.5, 0.5, 1);
    gl.clear(gl.COLOR_BUFFER_BIT);
  }));`;

/** @param {import('../browser/hands.mjs').Hands} app @param {{x: number, y: number}[]} spots */
async function presented(app, spots) {
  await app.throttle(4);
  await app.page.evaluate(() => { globalThis.presented.length = 0; });
  for (let i = 0; i < TAPS; i += 1) {
    const { x, y } = spots[i % spots.length];
    await app.tapAt(x, y);
    await app.page.waitForTimeout(400);
  }
  await app.throttle(1);
  return app.page.evaluate(() => globalThis.presented);
}

/** Marks at twelve places by taps.
 *  @param {import('../browser/harness.mjs').Lab} lab of the app @param {string} plan
 *  @returns {Promise<Record<string, number[]>>} milliseconds */
export async function tapTimes(lab, plan) {
  const app = await lab.open({ ...SIZE, before: watchEvents });
  app.page.setDefaultTimeout(120_000);
  await app.choose('button', 'Open a plan file', plan);
  await app.hear(/brought in/);
  await app.see('status', 'Saved on this device');
  await app.tap('button', /^Room 12/);
  await app.tap('button', '7. Walk');
  await app.tap('button', 'Start the lesson');
  await app.tap('button', /^Start round/);
  await app.page.waitForTimeout(6000);  // the message is gone
  const names = (await app.names('button')).filter((n) => /: (secure|shaky|stuck)$/.test(n));
  const spots = [];
  for (const name of names.slice(0, 12)) spots.push(await app.spot('button', name));
  const count = () => app.page.evaluate(() => [tallyround.timings.painted.length,
    tallyround.timings.durable.length]);
  const [painted, durable] = await count();
  const shown = await presented(app, spots);
  const own = await app.page.evaluate(([p, d]) => ({
    painted: tallyround.timings.painted.slice(p), durable: tallyround.timings.durable.slice(d),
  }), [painted, durable]);
  await app.page.close();
  const bare = await openLab({ site: canvasSite(SQUARE) });
  const page = await bare.open({ ...SIZE, before: watchEvents, ready: false });
  await page.page.waitForTimeout(1000);
  const least = await presented(page, [{ x: 300, y: 300 }]);
  await bare.close();
  return { 'handed to the screen': own.painted, 'presented (Event Timing)': shown,
    'presented by a bare page': least, durable: own.durable };
}
