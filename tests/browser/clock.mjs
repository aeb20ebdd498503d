// @ts-check
/**
 * A clock of the test's own for a page: it stands still until the test moves it, so that every
 * record carries exactly the time that the script says. It outlives reloads; a browser that was
 * killed is opened again with the clock's script of that moment.
 *
 *   const clock = new Clock(Date.parse('2027-03-09T08:30:00Z'));
 *   const app = await lab.open({ before: clock.script() });
 *   await clock.pass(app, 90_000);   // timers that fall due go off
 *   await clock.sleep(app, 60_000);  // the device slept: only the time of day has moved
 *
 * What stays the browser's own: frames, and the times of its events (further than ten seconds from
 * this clock, so the shell believes the clock instead).
 */

/**
 * The least real time until a timer goes off by itself: to a page whose clock stands still, what is
 * due in a millisecond is due again at once.
 */
const PATIENCE_MS = 250;
/** Where the page's steady clock starts, milliseconds: no browser event has such a time. */
const STEADY_START = 1e9;

/** Runs in the page before anything else. @param {{utc: number, steady: number}} start */
function install(start) {
  const page = /** @type {any} */ (globalThis);
  // A reload keeps the window's name, and with it the time.
  const kept = /^clock (\d+) (\d+)$/.exec(page.name ?? '');
  const clock = kept ? { utc: Number(kept[1]), steady: Number(kept[2]) } : { ...start };
  const keep = () => { page.name = `clock ${clock.utc} ${clock.steady}`; };
  keep();
  const RealDate = Date;
  const realSet = setTimeout.bind(globalThis);
  const realClear = clearTimeout.bind(globalThis);
  /** @type {Map<number, {due: number, run: () => void}>} */
  const timers = new Map();

  class ClockDate extends RealDate {
    /** @param {any[]} given */
    constructor(...given) {
      if (given.length === 0) super(clock.utc);
      else super(.../** @type {[any]} */ (given));
    }

    static now() { return clock.utc; }
  }
  page.Date = ClockDate;
  performance.now = () => clock.steady;
  page.setTimeout = (/** @type {Function} */ run, /** @type {number} */ ms = 0,
    /** @type {unknown[]} */ ...given) => {
    const go = () => { timers.delete(id); run(...given); };
    const id = Number(realSet(go, Math.max(ms, start.patience)));
    timers.set(id, { due: clock.steady + ms, run: go });
    return id;
  };
  page.clearTimeout = (/** @type {number} */ id) => { timers.delete(id); realClear(id); };

  page.testClock = {
    /** Time goes by: what falls due on the way goes off at its time. @param {number} ms */
    pass(ms) {
      const utc = clock.utc + ms;
      const steady = clock.steady + ms;
      for (;;) {
        const [id, next] = [...timers].sort(([, a], [, b]) => a.due - b.due)[0] ?? [];
        if (!next || next.due > steady) break;
        const by = Math.max(0, next.due - clock.steady);
        clock.steady += by;
        clock.utc += by;
        realClear(id);
        next.run();
      }
      Object.assign(clock, { utc, steady });
      keep();
    },
    /** The time of day moves and nothing else does. @param {number} ms */
    jump(ms) {
      clock.utc += ms;
      keep();
    },
  };
}

export class Clock {
  /** @param {number} utc milliseconds since 1970 at the start */
  constructor(utc) {
    this.utc = utc;
    this.steady = STEADY_START;
  }

  /** For `lab.open({ before })`: the page starts at this clock's time. */
  script() {
    const { utc, steady } = this;
    return `(${install})(${JSON.stringify({ utc, steady, patience: PATIENCE_MS })})`;
  }

  /**
   * Time goes by, and the screen follows.
   * @param {import('./hands.mjs').Hands} app @param {number} ms
   */
  async pass(app, ms) {
    await this.tick(app, ms);
    await app.settled();
  }

  /** Time goes by; what comes of it on screen is not waited for.
   *  @param {import('./hands.mjs').Hands} app @param {number} ms */
  async tick(app, ms) {
    this.utc += ms;
    this.steady += ms;
    await app.page.evaluate((by) => /** @type {any} */ (globalThis).testClock.pass(by), ms);
  }

  /**
   * The device slept, or somebody set its clock: timers and the steady clock stood still.
   * @param {import('./hands.mjs').Hands} app @param {number} ms may be negative
   */
  async sleep(app, ms) {
    this.utc += ms;
    await app.page.evaluate((by) => /** @type {any} */ (globalThis).testClock.jump(by), ms);
  }
}
