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

async function shootAll(lab, look, size) {
  const [width, height] = SIZES[size];
  const scale = size === 'phone' ? 3 : 2;
  const app = await lab.open({ width, height, scale, touch: true, ...LOOKS[look] });
  let number = 0;
  await tour(app, async (name) => {
    number += 1;
    if (ONLY && !name.startsWith(ONLY)) return;
    await app.shot(join(OUT, `${look}-${size}-${String(number).padStart(2, '0')}-${name}.png`));
  });
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
