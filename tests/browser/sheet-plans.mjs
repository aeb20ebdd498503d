// @ts-check
/** Plans for tests of sheets, made from the demo's file by adding events. */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const KINDS = ['teacher', 'cards', 'match', 'error', 'game', 'build', 'words', 'device', 'cards',
  'match'];
const SKILLS = ['percent-of', 'frac-add-unlike', 'ratio-equivalent', 'one-step-add',
  'order-of-operations', 'area-triangle', 'frac-add-unlike', 'decimal-multiply', 'mean', 'k1'];

/**
 * A class of 40 in 10 groups at 10 centers, 10 rounds on two days, every text as long as the app
 * takes it. `words` stands in every name, title and instruction.
 * @param {string} program @param {string} [words]
 */
export function biggestPlan(program, words = '') {
  const file = join(mkdtempSync(join(tmpdir(), 'tallyround-')), 'demo.json');
  execFileSync(program, ['demo', '-o', file]);
  const demo = JSON.parse(readFileSync(file, 'utf8'));
  let n = 0;
  const at = demo.events.at(-1).at[0] + 1000;
  const event = (/** @type {string} */ kind, /** @type {object} */ members) => {
    n += 1;
    return { at: [at + n, 0], by: 'biggest1', n, kind, class: 'big', ...members };
  };
  const name = (/** @type {number} */ i) =>
    `${words}Maximiliana-Theodora Number${i} of Wolfeschlegelsteinhausen `.padEnd(119, 'm');
  const range = (/** @type {number} */ count) => [...Array(count).keys()];
  const block = { block: 'b1' };
  const events = [
    event('class_made', { name: `${words}${'Room 12, period 3 '.repeat(6)}`, grade: 6 }),
    ...range(40).map((i) => event('student_added', { student: `s${i + 1}`, name: name(i + 1) })),
    event('own_skill_set', { skill: 'k1', grade: 6,
      title: `${words}My own skill ${'of many words '.repeat(7)}` }),
    event('own_cards_set', { skill: 'k1', cards: range(6).map((i) => ({
      prompt: `${words}Own problem ${i + 1} ${'with a long story about it '.repeat(30)}`,
      answer: `${words}${i}` })) }),
    event('block_made', { ...block,
      title: `${words}${'Getting ready for the unit test '.repeat(4)}` }),
    ...range(10).map((i) => event('center_set', { ...block, center: `p${i + 1}`,
      center_kind: KINDS[i], skill: SKILLS[i],
      title: i % 3 === 0 ? ''
        : `${words}Unusually long center title number ${i + 1} `.padEnd(115, 'w'),
      instructions: `${words}${'A long instruction that goes on and on. '.repeat(12)}\n`.repeat(8),
      materials: `${words}4 whiteboards\n30 sheets of paper\n${'glue and much else '.repeat(6)}\n`
        .repeat(4) })),
    event('time_set', { ...block,
      periods: [{ date: '2026-12-01', start: '09:10', end: '11:05' },
        { date: '2026-12-02', start: '09:10', end: '11:05' }],
      timing: { rounds: 10, round_minutes: 15, move_minutes: 2, opening_minutes: 3,
        closing_minutes: 4 } }),
    event('groups_set', { ...block,
      groups: range(10).map((g) => range(4).map((s) => `s${g * 4 + s + 1}`)) }),
    event('chart_set', { ...block,
      chart: range(10).map((g) => range(10).map((r) => `p${(g + r) % 10 + 1}`)) }),
    event('absence_set', { ...block, student: 's3', absent: true }),
  ];
  const lines = events.map((one) => JSON.stringify(one));
  const bare = `${file}.lines`;
  writeFileSync(bare, lines.join('\n'));
  // XXH3-128 of the events' texts, by Debian's xxhash.
  const [checksum] = execFileSync('xxhsum', ['-H2', bare], { encoding: 'utf8' }).split(' ');
  return `{"format":"${demo.format}","version":${demo.version},"app":"test",`
    + `"checksum":"${checksum}","events":[\n${lines.join(',\n')}\n]}\n`;
}
