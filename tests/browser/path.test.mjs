// @ts-check
/** The whole path, as a new teacher would go it: from nothing to a lesson and a plan file. */
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { after, before, test } from 'node:test';
import { fileURLToPath } from 'node:url';

import { needs } from './engines/choose.mjs';
import { openLab, SIZES } from './harness.mjs';

/** @type {import('./harness.mjs').Lab} */
let lab;
before(async () => { lab = await openLab(); });
after(() => lab.close());

const NAMES = 'Ana Ruiz\nBo Lindqvist\nChloé Martin\nDmitri Orlov\nEla Şahin\nFumi Sato\n'
  + 'Grace Ade\nHana Novák\nIvo Petrov\nJade Moreau\nKofi Mensah\nLena Vogel\nMei Lin\n'
  + 'Nils Berg\nOona Virta\nPau Serra\nQuinn Doyle\nRosa Lima\nSven Holm\nTara Singh\n'
  + 'Uma Rao\nViktor Balla\nWanja Roth\nXenia Kosta\n';
const CLI = join(dirname(fileURLToPath(import.meta.url)), '../../build/native/tallyround');

/** @param {import('./hands.mjs').Hands} app */
async function planClass(app) {
  let taps = 0;
  const tap = async (/** @type {string|RegExp} */ name) => {
    taps += 1;
    await app.tap('button', name);
  };
  await tap('Start with your class');
  await tap('Make the class');
  await app.type('Names, one a line', NAMES);
  await tap('Add these names');
  await tap('Choose skills');
  const skills = (await app.names('checkbox')).slice(0, 6);
  for (const skill of skills) {
    taps += 1;
    await app.tap('checkbox', skill);
  }
  await tap('Make centers for 6 skills');
  await tap('One center for each skill');
  await tap('Fit into the period');
  await tap('Set the period');
  await tap('Add another day');
  await tap('Make groups');
  await tap('Make groups');
  await tap('Rotation chart');
  await tap('Make the chart');
  return taps;
}

for (const size of ['phone', 'lying']) {
  test(`${size}: from nothing to a running lesson and an exported plan`, async () => {
    const [width, height] = SIZES[/** @type {'phone'|'lying'} */ (size)];
    const app = await lab.open({ width, height });
    const taps = await planClass(app);
    console.log(`# ${size}: ${taps} taps and one paste from an empty app to a printable chart`);
    assert.ok(taps <= 20, `${taps} taps`);
    await app.see('button', 'Print the chart');
    await app.see('button', /^Group 6, round 1: center 6/);
    await app.gone('button', /^Group 7/);
    await app.tap('button', 'To the lesson');
    await app.tap('button', 'Start the lesson');
    await app.tap('button', 'Start round 1');
    await app.tap('button', 'Ana Ruiz: secure');
    await app.tap('button', 'Undo: mark for Ana Ruiz');
    await app.tap('button', 'Ana Ruiz: shaky');
    await app.tap('checkbox', 'Bo Lindqvist: raise a flag');
    await app.see('checkbox', /^Bo Lindqvist: waits for help/);
    await app.tap('button', 'Bo Lindqvist: stuck');
    await app.see('checkbox', 'Bo Lindqvist: raise a flag');
    await app.tap('button', 'Pause');
    await app.read(/, paused$/);
    await app.tap('button', 'Go on');
    await app.tap('button', 'Lesson menu');
    await app.tap('button', 'End the lesson');
    await app.tap('button', 'End it now');
    await app.see('heading', 'Who has what');
    const plan = await app.download('button', 'Save plan file');
    assert.match(plan.name, /^tallyround-plan-\d{4}-\d\d-\d\d\.json$/);
    const text = Buffer.from(plan.bytes).toString('utf8');
    assert.equal(JSON.parse(text).format, 'tallyround-plan');
    assert.deepEqual(app.complaints, []);
    if (existsSync(CLI)) {
      const file = join(mkdtempSync(join(tmpdir(), 'tallyround-')), 'plan.json');
      writeFileSync(file, text);
      const seen = JSON.parse(execFileSync(CLI, ['check', file], { encoding: 'utf8' }));
      assert.equal(seen.students, 24);
      assert.equal(seen.marks, 2);
    }
    await app.page.close();
  });
}

test('forty fast taps are all counted with the processor four times slower', async () => {
  const app = await lab.open({ width: 1024, height: 768 });
  await app.startDemoRound();
  const names = (await app.names('button')).filter((n) => /: (secure|shaky|stuck)$/.test(n));
  const spots = [];
  for (const name of names.slice(0, 8)) spots.push(await app.spot('button', name));
  await app.throttle(4);
  for (let i = 0; i < 40; i += 1) {
    const { x, y } = spots[i % spots.length];
    await app.tapAt(x, y);
  }
  await app.settled();
  await app.throttle(1);
  await app.tap('button', 'Lesson menu');
  await app.see('dialog', 'Lesson menu');
  const listed = (await app.names('button')).filter((n) => n.startsWith('Take back'));
  assert.equal(listed.length, 40);
  await app.page.close();
});

test('killed in mid-lesson, it keeps every mark shown as saved', needs('profile'), async () => {
  const { newProfile } = await import('./harness.mjs');
  const own = await openLab({ profile: newProfile() });
  try {
    let app = await own.open();
    await app.startDemoRound();
    const names = (await app.names('button')).filter((n) => /: stuck$/.test(n)).slice(0, 7);
    for (const name of names) await app.tap('button', name);
    await app.read('Saved on this device');
    await own.killBrowser();
    app = await own.open();
    await app.read(/^Round 1 of/);
    await app.tap('button', 'Lesson menu');
    await app.see('dialog', 'Lesson menu');
    const listed = (await app.names('button')).filter((n) => n.startsWith('Take back'));
    assert.equal(listed.length, names.length);
  } finally {
    await own.close();
  }
});

test('files that are no plans change nothing and say why', async () => {
  const app = await lab.open();
  await app.tap('button', /demo class/);
  await app.tap('button', 'Settings and files');
  const folder = mkdtempSync(join(tmpdir(), 'tallyround-'));
  const cases = [
    ['half.json', '{"format":"tallyround-plan","version":1,"events":[', /half\.json/],
    ['other.json', '{"app":"something else"}', /other\.json.*not a Tallyround plan/],
    ['future.json', '{"format":"tallyround-plan","version":99,"events":[]}', /future\.json.*newer/],
  ];
  for (const [name, text, words] of cases) {
    const file = join(folder, String(name));
    writeFileSync(file, String(text));
    await app.choose('button', 'Open plan file', file);
    await app.page.waitForFunction(
      ([pattern]) => new RegExp(pattern).test(
        document.querySelector('[aria-live="polite"]')?.textContent ?? ''),
      [/** @type {RegExp} */ (words).source]);
  }
  await app.page.close();
});
