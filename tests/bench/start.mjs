// From navigation to the first frame: the app against Dear ImGui's bare demo, in turns.
import { cpSync } from 'node:fs';
import { join } from 'node:path';

import { openLab } from '../browser/harness.mjs';
import { canvasSite } from './canvas-site.mjs';

const TIMES = 9;

/** Runs in the page: `firstFrame` is when the first frame's drawing was handed over, ms. */
function watch() {
  const draw = WebGL2RenderingContext.prototype.drawElements;
  WebGL2RenderingContext.prototype.drawElements = function first(...given) {
    WebGL2RenderingContext.prototype.drawElements = draw;
    queueMicrotask(() => { globalThis.firstFrame = performance.now(); });
    return draw.apply(this, given);
  };
}

/** The demo as a site. */
function bareSite(wasm) {
  const folder = canvasSite(`import create from './bare_demo.mjs';
    create({ canvas: document.getElementById('canvas') });`);
  for (const file of ['bare_demo.mjs', 'bare_demo.wasm']) {
    cpSync(join(wasm, 'tests/bench', file), join(folder, file));
  }
  return folder;
}

/** One cold start in a window with nothing kept. */
async function once(lab) {
  const app = await lab.open({ width: 1024, height: 768, before: watch, ready: false });
  await app.page.waitForFunction(() => globalThis.firstFrame > 0);
  const ms = await app.page.evaluate(() => globalThis.firstFrame);
  await app.page.context().close();
  return ms;
}

const median = (all) => [...all].sort((a, b) => a - b)[Math.floor(all.length / 2)];

/** @returns {Promise<{app: number, bare: number, ratio: number}>} medians, milliseconds */
export async function coldStart(wasm) {
  const ours = await openLab({ site: join(wasm, 'site') });
  const bare = await openLab({ site: bareSite(wasm) });
  const times = [];
  await once(ours);  // the browsers themselves are warm
  await once(bare);
  for (let i = 0; i < TIMES; i += 1) times.push({ app: await once(ours), bare: await once(bare) });
  await ours.close();
  await bare.close();
  return { app: median(times.map(({ app }) => app)), bare: median(times.map((t) => t.bare)),
    ratio: median(times.map(({ app, bare: b }) => app / b)) };
}
