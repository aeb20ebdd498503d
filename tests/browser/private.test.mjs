// @ts-check
/**
 * A private window: storage that refuses, and storage that is in memory with room for little (here
 * Chromium's own quota, made small). The lesson goes on, the app says what is not kept, and a file
 * takes all of it to another device.
 */
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';

import { needs } from './engines/choose.mjs';
import { openLab } from './harness.mjs';

/** @type {import('./harness.mjs').Lab} */
let lab;
before(async () => { lab = await openLab(); });
after(() => lab.close());

/** Taps "stuck" for so many students. @param {import('./hands.mjs').Hands} app */
async function mark(app, count) {
  const names = (await app.names('button')).filter((name) => /: stuck$/.test(name));
  for (const name of names.slice(0, count)) await app.tap('button', name);
}

/** The lesson's looks in a plan file. @param {Buffer} bytes */
function looks(bytes) {
  const { events } = JSON.parse(bytes.toString());
  const begun = events.findLastIndex((/** @type {any} */ { kind }) => kind === 'lesson_started');
  assert.ok(begun > 0, 'the file has the lesson');
  return events.slice(begun).filter((/** @type {any} */ { kind, level }) =>
    kind === 'marked' && level === 'stuck').length;
}

/** Saves the file that the strip offers, and goes on with it in a window of its own.
 *  @param {import('./hands.mjs').Hands} app @param {number} count looks that were tapped */
async function takeElsewhere(app, count) {
  await app.read(/^Round 1 of/);
  const file = await app.download('button', 'Save a file');
  assert.equal(looks(file.bytes), count);
  const other = await lab.open();
  await other.choose('button', 'Open a plan file',
    { name: file.name, mimeType: 'application/json', buffer: file.bytes });
  await other.tap('button', /^Room 12 .*The lesson is running$/);
  await other.read(/^Round 1 of/);
  assert.deepEqual(other.complaints, []);
}

const refuse = () => {
  // As private windows have done: there is an IndexedDB, and it opens nothing.
  IDBFactory.prototype.open = function () {
    const request = /** @type {any} */ (new EventTarget());
    setTimeout(() => {
      Object.assign(request, { error: new DOMException('private', 'InvalidStateError') });
      request.onerror?.(new Event('error'));
    });
    return request;
  };
};

test('storage refuses: the lesson goes on, and a file takes it elsewhere', async () => {
  const app = await lab.open({ before: refuse });
  await app.read(/^Nothing is kept on this device/);
  await app.startDemoRound();
  await mark(app, 3);
  await takeElsewhere(app, 3);
  assert.deepEqual(await app.axe(), []);
});

/** Bytes: the app starts, and the demo class does not fit. */
const ROOM = 90_000;

test('room for little: what no longer fits is said, the lesson goes on, and a file has it',
  needs('devtools'), async () => {
    const app = await lab.open({ path: 'empty', ready: false });
    const { origin } = new URL(app.address);
    await app.devtools.send('Storage.overrideQuotaForOrigin', { origin, quotaSize: ROOM });
    await app.go();
    await app.read('Saved on this device');
    await app.startDemoRound();
    await app.read(/This device has no room left/);
    await mark(app, 3);
    await takeElsewhere(app, 3);
    assert.deepEqual(await app.axe(), []);
    // Room again: everything that was in memory alone is stored.
    await app.devtools.send('Storage.overrideQuotaForOrigin', { origin });
    await app.page.locator('#mirror').getByText('Saved on this device').first()
      .waitFor({ state: 'attached', timeout: 30_000 });
    await app.reload();
    await app.read(/^Round 1 of/);
    await app.tap('button', 'Lesson menu');
    const listed = (await app.names('button')).filter((name) => name.startsWith('Take back'));
    assert.equal(listed.length, 3);
  });
