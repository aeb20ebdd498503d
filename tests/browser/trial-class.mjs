// @ts-check
/** The class of the trial, planned through the app's screens from nothing to a chart. */

/** Twenty-seven names of our own. */
export const NAMES = ['Ada Brandt', 'Bela Okoye', 'Caio Lind', 'Dina Farouk', 'Emre Solak',
  'Finja Røed', 'Gil Tavares', 'Hedda Marsh', 'Ines Quiroga', 'Jun Takeda', 'Kira Boaz',
  'Lior Peled', 'Mila Duarte', 'Noor Haddad', 'Otto Weiss', 'Pia Lunde', 'Rami Aziz', 'Sol Vega',
  'Tove Nyman', 'Ugo Conti', 'Vera Kolář', 'Wim de Boer', 'Xara Nunes', 'Yara Silva',
  'Zeno Albrecht', 'Åse Tangen', 'Łucja Sowa'];

/** What the script must know of the class: read from the screens once, before the lesson.
 * @typedef {object} Plan
 * @property {string[][]} groups names of each group
 * @property {string[]} centers titles, in order
 * @property {string[]} skills the title of each center's skill
 * @property {(string|null)[][]} chart title of each group's center in each round, null: free
 */

/** Puts the names in, chooses seven skills and plans ninety minutes of seven rounds.
 *  @param {import('./hands.mjs').Hands} app @returns {Promise<Plan>} */
export async function planTheClass(app) {
  const tap = (/** @type {string|RegExp} */ name) => app.tap('button', name);
  await tap('Start with your class');
  await tap('Make the class');
  await app.type('Names, one a line', NAMES.join('\n'));
  await tap('Add these names');
  await tap('Choose skills');
  for (const skill of (await app.names('checkbox')).slice(0, 7)) await app.tap('checkbox', skill);
  await tap('Make centers for 7 skills');
  await tap('One center for each skill');
  const rows = (await app.names('button')).map((name) => /^\d\. (.*?), (?!done)(.*)$/.exec(name))
    .filter((row) => row !== null);
  await tap('Fit into the period');
  await tap('Set the period');
  await setPeriod(app, '08:30', '10:00');
  await tap('Rounds of 10 min');
  await tap('Make groups');
  await tap('Make groups');
  const groups = [];
  for (let g = 1; g <= 7; g += 1) {
    groups.push(await app.namesIn('group', `Group ${g}`, 'checkbox'));
  }
  await tap('Rotation chart');
  await tap('Make the chart');
  return { groups, centers: rows.map(([, title]) => title), skills: rows.map(([, , s]) => s),
    chart: await readChart(app) };
}

/** Sets the only day's times. @param {import('./hands.mjs').Hands} app
 *  @param {string} from @param {string} to */
export async function setPeriod(app, from, to) {
  await app.tap('button', /^Tue 9 Mar, .* min$/);
  await app.type('Starts', from);
  await app.type('Ends', to);
  await app.tap('button', 'Keep');
}

/** The chart as the chart screen says it. @param {import('./hands.mjs').Hands} app */
export async function readChart(app) {
  await app.see('heading', 'Rotation chart');
  /** @type {(string|null)[][]} */
  const chart = [];
  for (const name of await app.names('button')) {
    const cell =
      /^Group (\d), round (\d): (?:free|(?:closed center|center \d), ([^,]*))/.exec(name);
    if (!cell) continue;
    chart[Number(cell[1]) - 1] ??= [];
    chart[Number(cell[1]) - 1][Number(cell[2]) - 1] = cell[3] ?? null;
  }
  return chart;
}
