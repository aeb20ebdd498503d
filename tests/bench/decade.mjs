// Ten years of a full timetable, a million marks, in the browser: the longest task and the memory
// of the tab while the plan file comes in, at the next start, in a lesson and while it is saved.
import { readFileSync, statSync } from 'node:fs';
import { setTimeout } from 'node:timers/promises';

import { demoEvents, levelOf, writePlan } from './plans.mjs';

const YEARS = 10;
const CLASSES = 5;
const YEAR_MS = 365 * 86_400_000;

/** @param {string} date as 2026-11-17 @param {number} years */
const yearsBefore = (date, years) => `${Number(date.slice(0, 4)) - years}${date.slice(4)}`;

/** One year: classes as the demo class was, each with its marks through that year. */
function yearBack(back, demo, marksAClass) {
  const isMark = ({ kind }) => kind === 'marked';
  const marks = demo.filter(isMark);
  const start = Math.max(...demo.map((event) => event.at[0])) - back * YEAR_MS;
  const events = [];
  for (let c = 0; c < CLASSES; c += 1) {
    const own = { class: `cdecade${back}-${c}` };
    for (const event of demo.filter((one) => !isMark(one))) {
      const name = event.kind === 'class_made' ? { name: `Room ${c + 1}, ${2026 - back}` } : {};
      const periods = event.periods && { periods: event.periods.map((period) =>
        ({ ...period, date: yearsBefore(period.date, back) })) };
      events.push({ ...event, ...own, ...name, ...periods,
        at: [event.at[0] - back * YEAR_MS + 1000 * c, event.at[1]] });
    }
    for (let i = 0; i < marksAClass; i += 1) {
      events.push({ ...marks[(i * 7) % marks.length], ...own,
        at: [start + 600_000 * (i + 1) + 1000 * c, 0],
        level: levelOf(i) });
    }
  }
  return events.sort((a, b) => a.at[0] - b.at[0] || a.at[1] - b.at[1]);
}

/** A plan file of ten years.
 *  @param {string} program build/native/tallyround @param {number} marks in all
 *  @param {number} [colleague] so many more, of another device, three years ago */
export function makeDecade(program, marks, colleague = 0) {
  const demo = demoEvents(program);
  const lines = [];
  for (let back = YEARS; back > 0; back -= 1) {
    for (const event of yearBack(back, demo, marks / YEARS / CLASSES)) {
      lines.push(JSON.stringify({ ...event, by: 'decade', n: lines.length + 1 }));
    }
  }
  for (const event of demo) lines.push(JSON.stringify(event));
  const mark = demo.find(({ kind }) => kind === 'marked');
  for (let i = 1; i <= colleague; i += 1) {
    lines.push(JSON.stringify({ ...mark, class: 'cdecade3-1', by: 'colleague', n: i,
      at: [mark.at[0] - 3 * YEAR_MS + 60_000 * i, 0] }));
  }
  return writePlan(`decade-${marks + colleague}.json`, lines);
}

/** In the page, from its start on: how long tasks took. */
function watchTasks() {
  globalThis.longTasks = [];
  new PerformanceObserver((list) => {
    for (const { duration } of list.getEntries()) globalThis.longTasks.push(duration);
  }).observe({ type: 'longtask', buffered: true });
}

/** Memory of its own that a process has, in megabytes (Linux: anonymous pages in place). */
function ownMemory(pid) {
  try {
    const line = /RssAnon:\s+(\d+) kB/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'));
    return Number(line?.[1] ?? 0) / 1000;
  } catch {
    return 0;  // it has ended
  }
}

/** Watches the tab while something is done in it. */
class Watch {
  #devtools;

  /** @param {any} page whose tasks are watched */
  constructor(page) {
    this.page = page;
  }

  /** Of the largest of the browser's pages, megabytes. */
  async #memory() {
    this.#devtools ??= await this.page.context().browser().newBrowserCDPSession();
    const { processInfo } = await this.#devtools.send('SystemInfo.getProcessInfo');
    return Math.max(...processInfo.filter(({ type }) => type === 'renderer')
      .map(({ id }) => ownMemory(id)));
  }

  /** @returns {Promise<{seconds: number, longest: number, over: number, most: number}>} `longest`
   *  task in ms, how many were `over` 50, the `most` memory in MB */
  async over(work) {
    if (!this.page.isClosed()) {
      await this.page.evaluate(() => { globalThis.longTasks?.splice(0); });
    }
    let most = 0;
    const look = async () => { most = Math.max(most, await this.#memory()); };
    const timer = setInterval(look, 100);
    const start = performance.now();
    await work();
    const seconds = (performance.now() - start) / 1000;
    await this.page.waitForTimeout(500);
    clearInterval(timer);
    await look();
    const tasks = await this.page.evaluate(() => globalThis.longTasks);
    return { seconds, longest: Math.max(0, ...tasks), over: tasks.length, most };
  }
}

/** @param {import('../browser/harness.mjs').Lab} lab @param {string} plan
 *  @param {string} later the same with what a colleague marked
 *  @param {(what: string, figures: any) => void} show what was done, figures of Watch.over */
export async function decadeTimes(lab, plan, later, show) {
  let app = await lab.open({ width: 1024, height: 768, before: watchTasks });
  // Its window stays: the browser's own pages of a new one would start beside the app.
  await app.page.context().newPage();
  await app.page.bringToFront();
  const watch = new Watch(app.page);
  const time = async (what, work) => { show(what, await watch.over(work)); };
  const openAgain = async () => {
    await app.page.close();
    await setTimeout(2000);  // what it held is free
    return async () => {
      app = await lab.tab(app, { before: watchTasks });
      watch.page = app.page;
      app.page.setDefaultTimeout(300_000);
    };
  };
  await time('opening with nothing stored, to compare', await openAgain());
  await time(`bringing in ${(statSync(plan).size / 1e6).toFixed(0)} MB`, async () => {
    await app.choose('button', 'Open a plan file', plan);
    await app.hear(/brought in/);
    await app.settled();
    await app.see('status', 'Saved on this device');
  });
  await time('opening at the next start', await openAgain());
  await app.tap('button', /^Room 12/);
  await app.tap('button', '7. Walk');
  await app.tap('button', 'Start the lesson');
  await app.tap('button', /^Start round/);
  const marks = (await app.names('button')).filter((n) => /: (secure|shaky|stuck)$/.test(n));
  await time('20 marks', async () => {
    for (let i = 0; i < 20; i += 1) await app.tap('button', marks[i % marks.length]);
    await app.see('status', 'Saved on this device');
  });
  await app.tap('button', 'Lesson menu');
  await app.tap('button', 'Settings and files');
  await time('saving the plan file', async () => {
    const [download] = await Promise.all([app.page.waitForEvent('download'),
      app.tap('button', 'Save plan file')]);
    await download.path();
  });
  await time('bringing it in again', async () => {
    await app.choose('button', 'Open plan file', plan);
    await app.hear(/was here already/);
  });
  await time('bringing it in with 500 marks more', async () => {
    await app.choose('button', 'Open plan file', later);
    await app.hear(/500 entries brought in/);
    await app.settled();
    await app.see('status', 'Saved on this device');
  });
  await app.page.close();
}
