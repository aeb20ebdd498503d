// Pictures of every screen at the three sizes, for looking at: node pictures.mjs [look …]
// They go to tests/browser/pictures/, which git ignores. ONLY=lesson in the environment: only those
// whose name in tests/tour/demo.txt begins so.
import { mkdirSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

import { openLab, SIZES } from './harness.mjs';
import { tour } from './tour.mjs';

const OUT = join(dirname(fileURLToPath(import.meta.url)), 'pictures');
const ONLY = process.env.ONLY ?? '';
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
  await shot('privacy-two-devices');
  await app.tap('button', 'Done');
  await app.tap('button', 'Privacy and safety');
  await messageGone(app);
  await shot('privacy');
  await app.tap('button', /^Delete the class/);
  await shot('privacy-delete');
  await app.tap('button', 'Close');
  await app.tap('button', 'Set a passcode');
  await shot('privacy-passcode');
  await app.type('New passcode', 'four words of chalk');
  await app.type('The same once more', 'four words of chalk');
  await app.tap('checkbox', 'I know that forgetting it is final');
  await app.tap('button', 'Set it');
  await app.see('button', 'Lock now');
  await app.page.waitForTimeout(9500);
  await shot('privacy-sealed');
  await app.tap('button', 'Lock now');
  await app.see('heading', 'Locked');
  await shot('privacy-locked');
}

async function shootAll(lab, look, size) {
  const [width, height] = SIZES[size];
  const options = { width, height, scale: size === 'phone' ? 3 : 2, touch: true, ...LOOKS[look] };
  let number = 0;
  const shot = (on) => async (name) => {
    number += 1;
    if (ONLY && !name.startsWith(ONLY)) return;
    await on.shot(join(OUT, `${look}-${size}-${String(number).padStart(2, '0')}-${name}.png`));
  };
  const app = await lab.open(options);
  await tour(app, shot(app));
  await app.page.close();
  if (ONLY && !'privacy'.startsWith(ONLY)) return;
  const other = await lab.open(options);
  await other.tap('button', /demo class/);
  await shootPrivacy(lab, other, shot(other));
  await other.page.close();
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
