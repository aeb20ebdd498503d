// Pictures of every screen at the three sizes, for looking at: node pictures.mjs [look …]
// They go to tests/browser/pictures/, which git ignores.
import { mkdirSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

import { openLab, SIZES } from './harness.mjs';

const OUT = join(dirname(fileURLToPath(import.meta.url)), 'pictures');
const LOOKS = { light: {}, dark: { colors: 'dark' }, contrast: { contrast: 'more' } };
const STEPS = ['Students', 'Skills', 'Centers', 'Time', 'Groups', 'Chart', 'Walk', 'Review'];

/** Pages reached from the review: the button there and the heading of the page. */
export const REVIEW_PAGES = [
  { file: 'student', button: 'Chloé Dubois: all skills', heading: 'Chloé Dubois' },
  { file: 'skill', button: / likely have it$/, heading: 'Students' },
  { file: 'next', button: 'Next block', heading: 'The next block' },
  { file: 'centers', button: 'Did centers help?', heading: 'Did each center help?' },
  { file: 'ready', button: 'Ready by a date', heading: 'Ready by a date' },
  { file: 'sure', button: 'How sure is this?', heading: 'How sure is this?' },
  { file: 'files', button: 'Files of marks', heading: 'Files of marks' },
];

/** The message about the demo class lies over the lower edge for five seconds. */
export const messageGone = app => app.page.waitForTimeout(5500);

/** Goes to a step by the rail of a tablet or the list of a phone. */
export async function goTo(app, wide, number) {
  const name = new RegExp(`^${number}\\. ${STEPS[number - 1]}`);
  if (wide) {
    await app.tap('button', name);
    return;
  }
  await app.tap('button', /all steps$/);
  await app.tap('button', name);
}

/** What lies behind the groups: a picked student, rules, why, a term, a late student. */
async function shootGroups(app, shot) {
  const first = (await app.names('checkbox'))[0];
  await app.tap('checkbox', first);
  await shot('5b-groups-picked');
  await app.tap('checkbox', first);
  await app.tap('button', /^Rules for groups/);
  await app.tap('checkbox', 'Helper');
  await shot('5c-groups-rules');
  await app.tap('button', 'Done');
  await app.tap('button', /^Why Group 1/);
  await shot('5d-groups-why');
  await app.tap('button', 'Done');
  await app.tap('button', 'Partners over a term');
  await app.tap('button', 'Plan the term');
  await app.see('button', 'Use these groups for this block');
  await shot('5e-groups-term');
  await app.tap('button', 'Close');
  await app.tap('button', 'More Number of groups');
  await shot('5f-groups-what-if');
}

/** The chart's sheets and the days of the time screen. */
async function shootChart(app, wide, shot) {
  await goTo(app, wide, 6);
  await app.tap('button', 'Rules for the chart');
  await shot('6b-rules');
  await app.tap('button', /^1 /);
  await app.tap('checkbox', 'Must be visited');
  await shot('6c-center-rules');
  await app.tap('checkbox', 'Not in round 1');
  await shot('6d-conflict');
  await app.tap('button', 'Leave it as it was');
  await app.tap('button', 'Rules for the chart');
  await app.tap('button', /^Take away: /);
  await app.tap('button', 'Done');
  if (!wide) await app.tap('radio', 'By round');
  await app.tap('button', /^Group 2, round (1|2): /);
  await shot('6e-picked');
  await app.tap('button', /^Group 4, round (1|2): /);
  await shot('6f-swap');
  await app.tap('button', 'Leave it');
  await goTo(app, wide, 4);
  await app.tap('button', /, \d+ min$/);
  await app.tap('button', /^Add a break/);
  await shot('4b-day');
  await app.tap('button', 'Keep');
  for (let i = 0; i < 8; i += 1) await app.tap('button', 'More One round');
  await shot('4c-cut');
  for (let i = 0; i < 9; i += 1) await app.tap('button', 'Undo: times');
}

/** Gives the first student another name. */
async function renameFirst(app, name) {
  await app.tap('button', 'All classes');
  await app.tap('button', /^Room 12/);
  await app.tap('button', /^(1\. Students|Step \d of 8, all steps|All steps)/);
  if (await app.find('button', /^1\. Students/).count()) {
    await app.tap('button', /^1\. Students/);
  }
  await app.tap('button', /^Ana/);
  await app.type('Name', name);
  await app.tap('button', 'Keep this name');
}

/** What keeps the class from other eyes, what is final, and what two devices changed. */
export async function shootPrivacy(lab, app, shot) {
  const plan = async (on) => {
    await on.tap('button', 'Settings and files');
    const { name, bytes } = await on.download('button', 'Save plan file');
    return { name, mimeType: 'application/json', buffer: bytes };
  };
  const other = await lab.open();
  await other.choose('button', 'Open a plan file', await plan(app));
  await renameFirst(other, 'Ana Two');
  await renameFirst(app, 'Ana One');
  const file = await plan(other);
  await app.tap('button', 'Settings and files');
  await app.choose('button', 'Open plan file', file);
  await shot('15-two-devices');
  await app.tap('button', 'Done');
  await app.tap('button', 'Privacy and safety');
  await messageGone(app);
  await shot('15b-privacy');
  await app.tap('button', /^Delete the class/);
  await shot('15c-delete');
  await app.tap('button', 'Close');
  await app.tap('button', 'Set a passcode');
  await shot('15d-passcode');
  await app.type('New passcode', 'four words of chalk');
  await app.type('The same once more', 'four words of chalk');
  await app.tap('checkbox', 'I know that forgetting it is final');
  await app.tap('button', 'Set it');
  await app.see('button', 'Lock now');
  await app.page.waitForTimeout(9500);
  await shot('15e-sealed');
  await app.tap('button', 'Lock now');
  await app.see('heading', 'Locked');
  await shot('15f-locked');
}

async function shootAll(lab, look, size) {
  const [width, height] = SIZES[size];
  const scale = size === 'phone' ? 3 : 2;
  const app = await lab.open({ width, height, scale, touch: true, ...LOOKS[look] });
  const shot = name => app.shot(join(OUT, `${look}-${size}-${name}.png`));
  await shot('0-home');
  await app.tap('button', /demo class/);
  for (let n = 1; n <= 8; n += 1) {
    await goTo(app, size === 'lying', n);
    await shot(`${n}-${STEPS[n - 1].toLowerCase()}`);
    if (n === 5) await shootGroups(app, shot);
  }
  await messageGone(app);
  for (const { file, button } of REVIEW_PAGES) {
    await app.tap('button', button);
    await shot(`8-review-${file}`);
    await app.tap('button', 'Back');
  }
  await shootChart(app, size === 'lying', shot);
  await goTo(app, size === 'lying', 7);
  await app.tap('button', 'Start the lesson');
  await app.tap('button', /^Start round/);
  await shot('9-lesson');
  await app.tap('button', /: shaky$/);
  await app.tap('button', /, more$/);
  await shot('10-mark');
  await app.tap('button', 'Close');
  await app.tap('button', 'Lesson menu');
  await shot('12-menu');
  await app.tap('button', 'Board for the class');
  await shot('13-board');
  await app.tap('button', 'Back');
  await app.tap('button', 'Lesson menu');
  await app.tap('button', 'Change the chart');
  await app.tap('button', 'A round is lost');
  await shot('14-repair');
  await app.tap('button', 'Leave it');
  await goTo(app, size === 'lying', 7);
  await app.tap('button', 'Lesson menu');
  await app.tap('button', 'Settings and files');
  await shot('11-settings');
  await app.tap('button', 'All classes');
  await shootPrivacy(lab, app, shot);
  await app.page.close();
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  mkdirSync(OUT, { recursive: true });
  const looks = process.argv.slice(2).length > 0 ? process.argv.slice(2) : Object.keys(LOOKS);
  const lab = await openLab();
  for (const look of looks) {
    for (const size of Object.keys(SIZES)) await shootAll(lab, look, size);
  }
  await lab.close();
}
