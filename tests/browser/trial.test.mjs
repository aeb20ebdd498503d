// @ts-check
/**
 * A ninety-minute lesson by a script, on a clock of the script's own: 27 students at 7 centers,
 * with everything that happens in a school. The record must end exactly as the script has it, to
 * the millisecond, also over a sleep, a reload and a browser that was killed.
 */
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';

import { Clock } from './clock.mjs';
import { can } from './engines/choose.mjs';
import { newProfile, openLab } from './harness.mjs';
import { NAMES, planTheClass, readChart, setPeriod } from './trial-class.mjs';
import { lessonEvents, readByProgram } from './trial-record.mjs';

const SECOND = 1000;
const MINUTE = 60 * SECOND;
const LEVELS = ['secure', 'shaky', 'stuck'];
const START = Date.parse('2027-03-09T08:20:00Z');
const ABSENT = ['Jun Takeda', 'Vera Kolář'];

/** @type {import('./harness.mjs').Lab} */
let lab;
before(async () => {
  lab = await openLab({ zone: 'Europe/London', ...can('profile') && { profile: newProfile() } });
});
after(() => lab.close());

/** The script: acts through the app's hands and keeps its own account of what it did. */
class Script {
  clock = new Clock(START);
  /** @type {import('./hands.mjs').Hands} */
  app = /** @type {any} */ (null);
  /** @type {import('./trial-class.mjs').Plan} */
  plan = /** @type {any} */ (null);
  round = 0;
  roundLength = 10 * MINUTE;
  absent = new Set(ABSENT);
  /** When the last act was. */
  last = START;
  /** @type {Record<string, string>[]} marks as the export has them */
  marks = [];
  /** @type {unknown[][]} events as `lessonEvents` has them */
  events = [];

  async open() {
    this.app = await lab.open({ width: 1024, height: 768, before: this.clock.script() });
  }

  /** @param {string} kind @param {unknown[]} told */
  note(kind, ...told) {
    this.next(kind);
    this.events.push([this.clock.utc, kind, ...told]);
  }

  /** @param {number} ms */
  pass(ms) { return this.clock.pass(this.app, ms); }

  /** @param {string|RegExp} name */
  tap(name) { return this.app.tap('button', name); }

  /** Where a student is in this round; null: nowhere. @param {string} name */
  centerOf(name) {
    const group = this.plan.groups.findIndex((names) => names.includes(name));
    return this.plan.chart[group][this.round - 1];
  }

  /** Whom the teacher can look at, center by center. */
  present() {
    return this.plan.centers.flatMap((center) => NAMES.filter((name) =>
      this.centerOf(name) === center && !this.absent.has(name)));
  }

  /** Nothing of the record has the same time: the script's acts are apart, as a person's are.
   *  @param {string} what */
  next(what) {
    assert.ok(this.clock.utc > this.last, `${what} comes too soon`);
    this.last = this.clock.utc;
  }

  /** Keeps account of marks put at once.
   *  @param {string[]} names @param {string} level @param {string} [help] */
  marked(names, level, help = 'none') {
    this.next(names.join());
    for (const student of names) {
      const center = String(this.centerOf(student));
      this.marks.push({
        student, round: String(this.round), center, level, help,
        time_utc: new Date(this.clock.utc).toISOString().replace(/\.\d+Z$/, 'Z'),
        skill_title: this.plan.skills[this.plan.centers.indexOf(center)],
      });
    }
  }

  /** A mark by a finger. @param {string} name @param {string} level */
  async touch(name, level) {
    await this.tap(`${name}: ${level}`);
    this.marked([name], level);
  }

  /** A mark by the mirror's button. @param {string} name @param {string} level */
  async press(name, level) {
    await this.app.activate('button', `${name}: ${level}`);
    this.marked([name], level);
  }

  /** Once round the room, a look every `every` milliseconds.
   *  @param {number} every @param {(name: string, level: string) => Promise<void>} put */
  async walk(every, put) {
    for (const [i, name] of this.present().entries()) {
      await this.clock.tick(this.app, every);
      await put.call(this, name, LEVELS[(i * 5 + this.round + Math.floor(i / 7)) % 3]);
    }
  }

  /** @param {string} button @param {string} phase @param {number} round @param {number} lasts */
  async phase(button, phase, round, lasts) {
    await this.tap(button);
    this.note('phase_began', phase, round, this.clock.utc + lasts);
  }

  /** @param {number} round */
  async startRound(round) {
    this.round = round;
    await this.phase(`Start round ${round}`, 'working', round, this.roundLength);
    await this.app.see('status', `Round ${round} of 7`);
  }

  moveOn() { return this.phase('Move on', 'moving', this.round + 1, 2 * MINUTE); }

  /** Lets the clock run until this moment of the lesson's day. @param {string} clock "08:34:10" */
  until(clock) {
    const at = Date.parse(`2027-03-09T${clock}Z`);
    assert.ok(at >= this.clock.utc, `${clock} is over`);
    return this.pass(at - this.clock.utc);
  }

  /** @param {string} text as on the clock's face */
  left(text) { return this.app.see('timer', text); }

  /** @param {string} name @param {boolean} away */
  async setAbsent(name, away) {
    await this.pass(SECOND);
    await this.app.tap('checkbox', name);
    this.note('absence_set', name, away);
    if (away) this.absent.add(name);
    else this.absent.delete(name);
  }

  /** Everything is durable. The script's seconds go by faster than real ones, also for storage: a
   *  write that took too many of them is tried again when some more have gone by. */
  async saved() {
    const isSaved = () => this.app.find('status', 'Saved on this device').count();
    for (let tries = 0; tries < 50; tries++) {
      await this.app.settled();
      if (await isSaved()) return;
      await this.pass(SECOND);
    }
    await this.app.see('status', 'Saved on this device');
  }
}

const script = new Script();
let broken = false;

/** A part of the lesson; nothing after a part that failed makes sense.
 *  @param {string} name @param {() => Promise<void>} run */
function part(name, run) {
  test(name, async (t) => {
    if (broken) return t.skip('an earlier part failed');
    broken = true;
    await run();
    broken = false;
  });
}

part('the class is planned: seven groups, seven centers, seven rounds', async () => {
  await script.open();
  script.plan = await planTheClass(script.app);
  assert.deepEqual(script.plan.groups.flat().sort(), [...NAMES].sort());
  assert.equal(new Set(script.plan.centers).size, 7);
  // Every group sees every center once, and no center has two groups in a round.
  for (const row of script.plan.chart) assert.equal(new Set(row).size, 7);
  for (let r = 0; r < 7; r += 1) {
    assert.equal(new Set(script.plan.chart.map((row) => row[r])).size, 7);
  }
});

part('before the bell: two are absent', async () => {
  await script.tap('To the lesson');
  await script.until('08:30:00');
  await script.tap('Who is absent?');
  for (const name of ABSENT) await script.setAbsent(name, true);
  await script.tap('Done');
  await script.until('08:31:00');
  await script.tap('Start the lesson');
  script.note('lesson_started', 1, 7);
  await script.left('3:00 left');
});

part('round 1: by touch, a mark taken back at once, the warning and the bell', async () => {
  await script.until('08:34:10');
  await script.startRound(1);
  await script.walk(5 * SECOND, script.touch);
  const [first] = script.present();
  await script.pass(SECOND);
  await script.touch(first, 'stuck');
  await script.tap(`Undo: mark for ${first}`);
  script.marks.pop();
  await script.walk(6 * SECOND, script.press);
  await script.until('08:42:10');
  await script.left('2:00 left');
  assert.equal(await script.app.announced(), 'Two minutes left.');
  await script.until('08:44:10');
  assert.equal(await script.app.announced(), 'Time is up.');
  await script.until('08:44:20');
  await script.left('Time is up, +0:10');
  await script.moveOn();
});

part('round 2: flags that wait, one cleared by a look; a whole center at once', async () => {
  await script.until('08:46:10');
  await script.startRound(2);
  const [one, other] = [script.present()[5], script.present()[9]];
  for (const name of [one, other]) {
    await script.pass(SECOND);
    await script.app.tap('checkbox', `${name}: raise a flag`);
    script.note('flag_set', name, true);
  }
  await script.pass(4 * MINUTE);
  await script.app.see('checkbox', `${one}: waits for help, 4 minutes`);
  await script.touch(one, 'shaky');
  await script.app.see('checkbox', `${one}: raise a flag`);
  await script.pass(SECOND);
  await script.app.tap('checkbox', `${other}: waits for help, 4 minutes`);
  script.note('flag_set', other, false);
  const center = script.plan.centers[1];
  await script.pass(SECOND);
  await script.tap(`Everyone at ${center}`);
  await script.tap('Everyone: secure');
  // Who has a mark in this round keeps it.
  const there = script.plan.groups.flat().filter((name) => script.centerOf(name) === center);
  script.marked(there.filter((name) => !script.absent.has(name) && name !== one), 'secure');
  await script.walk(5 * SECOND, script.press);
  await script.walk(4 * SECOND, script.press);
  await script.until('08:56:20');
  await script.moveOn();
});

part('round 3: the device sleeps for four minutes; marks with help', async () => {
  await script.until('08:58:10');
  await script.startRound(3);
  await script.pass(3 * MINUTE);
  await script.left('7:00 left');
  await script.clock.sleep(script.app, 4 * MINUTE);
  await script.left('3:00 left');
  const [first, second] = script.present();
  for (const [name, button, level, help] of [[first, 'With a hint', 'shaky', 'hint'],
    [second, 'Together with you', 'stuck', 'together']]) {
    await script.pass(SECOND);
    await script.tap(`${name}, more`);
    await script.tap(`${button}: ${level}`);
    script.marked([name], level, help);
  }
  await script.walk(3 * SECOND, script.press);
  await script.walk(3 * SECOND, script.press);
  await script.until('09:08:20');
  await script.moveOn();
});

part('round 4: one comes, one goes; then a center drops out', async () => {
  await script.until('09:10:10');
  await script.startRound(4);
  await script.tap('Lesson menu');
  await script.tap('Who is absent?');
  await script.setAbsent(ABSENT[0], false);
  await script.setAbsent('Sol Vega', true);
  await script.tap('Done');
  await script.walk(5 * SECOND, script.touch);
  await script.walk(6 * SECOND, script.press);
  await script.until('09:20:20');
  await script.moveOn();
  await script.tap('Lesson menu');
  await script.tap('Change the chart');
  const before = script.plan.chart;
  await script.tap(/^3\. Centers/);
  await script.tap(new RegExp(`^5\\. ${script.plan.centers[4]}`));
  await script.tap('Take this center out');
  await script.pass(SECOND);
  await script.tap('Make this change');
  script.note('center_closed', 5, true);
  await script.tap(/^6\. Chart/);
  script.plan.chart = await readChart(script.app);
  const lost = script.plan.centers[4];
  for (const [g, row] of script.plan.chart.entries()) {
    assert.deepEqual(row.slice(0, 4), before[g].slice(0, 4), 'what was, stays');
    assert.ok(!row.slice(4).includes(lost), 'nobody goes there any more');
  }
  await script.tap('To the lesson');
});

part('round 5: a reload in the middle; an alarm; the minutes lost are shared', async () => {
  await script.until('09:22:10');
  await script.startRound(5);
  await script.walk(5 * SECOND, script.press);
  await script.saved();
  await script.until('09:26:10');
  await script.app.reload();
  await script.left('6:00 left');
  await script.pass(SECOND);
  await script.tap('Pause');
  script.note('lesson_paused', 359 * SECOND);
  await script.pass(3 * MINUTE);
  await script.app.see('status', 'Round 5 of 7, paused');
  await script.left('5:59 left');
  await script.tap('Go on');
  script.note('lesson_resumed', script.clock.utc + 359 * SECOND);
  await script.walk(6 * SECOND, script.press);
  await script.until('09:35:20');
  await script.moveOn();
  // As things go: 2 to move, 10, 2, 10 and 4 to close are 28 minutes, so 10:03:20 for 10:00. The
  // bell leaves 24:40, less 8 for moves and closing: 16:40 for two rounds.
  await script.app.see('dialog', 'Time and the bell');
  await script.app.read(/^3 minutes late/);
  await script.pass(SECOND);
  await script.tap('Shorten the rounds');
  await script.app.gone('dialog', 'Time and the bell');
  script.roundLength = 500 * SECOND;
  script.note('rounds_retimed', script.roundLength);
});

part('round 6: the browser is killed and comes back; the bell will be late', async () => {
  await script.until('09:37:20');
  await script.startRound(6);
  await script.left('8:20 left');
  await script.walk(4 * SECOND, script.press);
  await script.saved();
  if (can('profile')) {
    await lab.killBrowser();
    script.clock.utc += 40 * SECOND;
    await script.open();
  } else {
    await script.app.reload();
  }
  await script.app.see('status', 'Round 6 of 7');
  const left = Date.parse('2027-03-09T09:45:40Z') - script.clock.utc;
  const shown = `${Math.floor(left / MINUTE)}:${String(left / SECOND % 60).padStart(2, '0')}`;
  await script.left(`${shown} left`);
  await script.tap('Lesson menu');
  await script.tap('Change the chart');
  await script.tap(/^4\. Time/);
  await setPeriod(script.app, '08:30', '10:05');
  await script.tap(/^7\. Walk/);
  await script.walk(6 * SECOND, script.touch);
  await script.until('09:45:40');
  await script.moveOn();
  await script.app.gone('dialog', 'Time and the bell');
});

part('round 7: a minute more, a mark taken back from the list, the end', async () => {
  await script.until('09:47:40');
  await script.startRound(7);
  await script.pass(SECOND);
  await script.tap('One minute more');
  script.note('time_added', MINUTE);
  await script.left('9:19 left');
  await script.walk(5 * SECOND, script.press);
  await script.walk(6 * SECOND, script.press);
  const taken = script.marks.splice(-3, 1)[0];
  await script.tap('Lesson menu');
  const list = (await script.app.names('button')).filter((name) => /^Take back/.test(name));
  assert.ok(list[2].startsWith(`Take back ${taken.student}: ${taken.level}`), list[2]);
  await script.tap(list[2]);
  await script.tap('Close');
  await script.until('09:57:30');
  await script.phase('Close', 'closing', 7, 4 * MINUTE);
  await script.until('10:01:30');
  await script.tap('End lesson');
  script.note('lesson_ended');
  await script.saved();
});

part('the plan file holds exactly the lesson of the script', async () => {
  await script.app.see('heading', 'Who has what');
  const { bytes } = await script.app.download('button', 'Save plan file');
  const { check, marks } = readByProgram(bytes);
  const seen = marks.map(({ student, round, center, level, help, time_utc, skill_title }) =>
    ({ student, round, center, level, help, time_utc, skill_title }));
  assert.deepEqual(seen, script.marks);
  assert.deepEqual(lessonEvents(bytes), script.events);
  assert.ok(script.marks.length > 300, `${script.marks.length} marks`);
  assert.equal(check.ok, true);
  assert.equal(check.students, 27);
  assert.equal(check.marks, script.marks.length);
  assert.deepEqual(script.app.complaints, []);
  console.log(`# ${script.marks.length} marks, ${script.events.length} other events`);
});
