// fit, group, partners and chart with bad or impossible input: the exit code, whose names and which
// places are told, and that nothing takes much longer than its budget.
import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { dirname, join } from 'node:path';
import { test } from 'node:test';
import { fileURLToPath } from 'node:url';

const ROOT = join(dirname(fileURLToPath(import.meta.url)), '../..');
const PROGRAM = process.env.TALLYROUND_PROGRAM ?? join(ROOT, 'build/native/tallyround');
const PATIENCE_MS = 60_000; // a hang, not a figure: those are in tests/bench

function run(command, input) {
  const text = typeof input === 'string' ? input : JSON.stringify(input);
  const { status, stdout, stderr, error } = spawnSync(PROGRAM, [command],
    { input: text, encoding: 'utf8', timeout: PATIENCE_MS, maxBuffer: 1 << 28 });
  assert.equal(error, undefined, `${command}: ${error?.message}`);
  return { status, stdout, stderr };
}

const names = (n) => Array.from({ length: n }, (_, i) => `S${i}`);
const four = { students: ['Ada', 'Bo', 'Cy', 'Di'], size_max: 2 };
const six = { students: ['Ada', 'Bo', 'Cy', 'Di', 'Eli', 'Fay'], size_max: 3 };
const period = { date: '2026-12-01', start: '09:00', end: '10:00' };
const lesson = { periods: [period], rounds: 3, round_minutes: 12 };
const three = { groups: ['G1', 'G2', 'G3'], centers: [{ id: 'a' }, { id: 'b' }, { id: 'c' }],
  rounds: 3 };
const deep = '['.repeat(200_000);

// command, input, what standard error must name
const REFUSED = [
  ['group', { ...four, apart: [['Ada', 'Eve']] }, 'Eve', '/apart/0/1'],
  ['group', { ...four, together: [['Ada', 'Ada']] }, 'Ada', '/together/0/1'],
  ['group', { ...four, seat: { Eve: 0 } }, 'Eve', '/seat'],
  ['group', { ...four, seat: { Ada: 2 } }, '/seat/Ada'],
  ['group', { ...four, with_one_of: [['Ada', ['Bo', 'Eve']]] }, 'Eve', '/with_one_of/0/1/1'],
  ['group', { ...four, with_one_of: [['Ada', ['Ada']]] }, 'Ada', '/with_one_of/0/1'],
  ['group', { ...four, with_one_of: [['Ada', []]] }, '/with_one_of/0/1'],
  ['group', { ...four, helpers: [{ students: ['Ada', 'Bo'], rounds: [1], rounds_each: 2 }] },
    '/helpers/0/rounds'],
  ['group', { ...four, helpers: [{ students: ['Ada'], rounds: [2, 1] }] }, '/helpers/0/rounds/1'],
  ['group', { ...four, locked: [0] }, '/locked/0'],
  ['group', { ...four, groups: 0 }, '/groups'],
  ['group', { ...four, size_max: 0 }, '/size_max'],
  ['group', { ...four, size_max: 2.5 }, '/size_max'],
  ['group', { ...four, recency: 0 }, '/recency'],
  ['group', { ...four, level: { Ada: 'NaN' } }, '/level/Ada'],
  ['group', '{"students":["Ada"],"level":{"Ada":NaN}}', '1'],
  ['group', '{"students":["Ada"],"level":{"Ada":1e999}}', '1'],
  ['group', { ...four, policy: 'best' }, '/policy'],
  ['group', { students: ['Ada', 'Ada'] }, 'Ada', '/students/1'],
  ['group', { students: ['Ada', ''] }, '/students/1'],
  ['group', { students: [] }, '/students'],
  ['group', { students: names(10_000) }, '10000', '/students'],
  ['group', { students: 'Ada' }, '/students'],
  ['group', deep],
  ['group', `{"students":${deep}`],
  ['group', ''],
  ['group', '{"students":["Ada"]} and more'],
  ['group', `{"students":["${'x'.repeat(5_000_000)}"]}`],
  ['fit', { ...lesson, rounds: 0 }, '/rounds'],
  ['fit', { ...lesson, round_minutes: -3 }, '/round_minutes'],
  ['fit', { ...lesson, round_minutes: 0 }, '/round_minutes'],
  ['fit', { ...lesson, move_minutes: -1 }, '/move_minutes'],
  ['fit', { ...lesson, opening_minutes: '3' }, '/opening_minutes'],
  ['fit', { ...lesson, periods: [] }, '/periods'],
  ['fit', { ...lesson, periods: [{ ...period, end: '08:00' }] }, '/periods/0/end', '08:00'],
  ['fit', { ...lesson, periods: [{ ...period, date: '2026-02-30' }] }, '/periods/0/date'],
  ['fit', { ...lesson, periods: [{ ...period, start: '25:00' }] }, '/periods/0/start'],
  ['fit', { ...lesson, periods: [{ ...period, breaks: [{ start: '08:00', end: '09:10' }] }] },
    '/periods/0/breaks/0'],
  ['fit', { ...lesson, rounds_a_day: 0 }, '/rounds_a_day'],
  ['fit', deep],
  ['partners', { students: 10_000, blocks: 3 }, '/students'],
  ['partners', { students: 12, size: 1, blocks: 3 }, '/size'],
  ['partners', { students: 12, blocks: 0 }, '/blocks'],
  ['partners', { students: 12, blocks: 2, apart: [[0, 12]] }, '/apart/0/1'],
  ['partners', { students: 12, blocks: 2, together: [[3, 3]] }, '3', '/together/0/1'],
  ['partners', { students: 12, blocks: 1, fixed: [[[0, 1]], [[2, 3]]] }, '/fixed'],
  ['partners', { students: 12, blocks: 2, fixed: [[[0, 1], [1, 2]]] }, '/fixed/0/1/0'],
  ['partners', deep],
  ['chart', { ...three, rules: [{ rule: 'must_visit', center: 'z' }] }, 'z', '/rules/0/center'],
  ['chart', { ...three, rules: [{ rule: 'must_visit', center: 'a', groups: ['G9'] }] }, 'G9',
    '/rules/0/groups/0'],
  ['chart', { ...three, rules: [{ rule: 'often', center: 'a' }] }, 'often', '/rules/0/rule'],
  ['chart', { ...three, rules: [{ rule: 'not_in_round', center: 'a', round: 4 }] },
    '/rules/0/round'],
  ['chart', { ...three, rules: [{ rule: 'only_in_rounds', center: 'a', rounds: [0] }] },
    '/rules/0/rounds/0'],
  ['chart', { ...three, rules: [{ rule: 'before', first: 'a', then: 'a' }] }, '/rules/0/then'],
  ['chart', { ...three, rules: [{ rule: 'at_most', center: 'a', times: -1 }] }, '/rules/0/times'],
  ['chart', { ...three, rounds: 0 }, '/rounds'],
  ['chart', { ...three, rounds: 1e6 }, '/rounds'],
  ['chart', { ...three, centers: [{ id: 'a' }, { id: 'a' }] }, 'a', '/centers/1'],
  ['chart', { ...three, centers: [{ id: 'a', holds: 0 }] }, '/centers/0/holds'],
  ['chart', { ...three, stock: { tablet: -1 } }, '/stock/tablet'],
  ['chart', { ...three, stock: { tablet: 4 }, centers: [{ id: 'a', needs: { drum: 1 } }] }, 'drum',
    '/centers/0/needs/drum'],
  ['chart', { ...three, done: [['a', 'b', 'c', 'a']] }, '/done/0'],
  ['chart', { ...three, groups: names(10_000) }, '10000', '/groups'],
  ['chart', deep],
];

test('bad input: exit 4, the place named, nothing on standard output', () => {
  for (const [command, input, ...told] of REFUSED) {
    const shown = `${command} ${JSON.stringify(input).slice(0, 200)}`;
    const { status, stdout, stderr } = run(command, input);
    assert.equal(status, 4, `${shown}: ${stderr}`);
    assert.equal(stdout, '', shown);
    for (const words of told) assert.ok(stderr.includes(words), `${shown}: ${stderr}`);
  }
});

// command, input, names in the sentence, kinds of the rules in the JSON
const IMPOSSIBLE = [
  ['group', { ...six, together: [['Ada', 'Bo']], apart: [['Cy', 'Di'], ['Bo', 'Ada']] },
    ['Ada', 'Bo'], ['apart', 'together']],
  ['group', { ...four, seat: { Ada: 0, Bo: 0, Cy: 0 } }, ['Ada', 'Bo', 'Cy'],
    ['seat', 'seat', 'seat', 'size_max']],
  ['group', { ...six, with_one_of: [['Ada', ['Bo', 'Cy']]], apart: [['Ada', 'Bo'], ['Ada', 'Cy']] },
    ['Ada', 'Bo', 'Cy'], ['apart', 'apart', 'with_one_of']],
  ['group', { ...six, helpers: [{ name: 'the aide', students: ['Ada', 'Bo'], rounds: [1, 2],
    rounds_each: 2 }], apart: [['Ada', 'Bo']] }, ['Ada', 'Bo', 'the aide'], ['apart', 'helper']],
  ['group', { students: names(9), groups: 2 }, ['S0', 'S8'], ['groups', 'size_max']],
  ['chart', { ...three, rules: [{ rule: 'must_visit', center: 'a', groups: ['G2'] },
    { rule: 'at_most', center: 'a', times: 0 }] }, ['G2', 'a'], ['at_most', 'must_visit']],
  ['chart', { ...three, rules: [{ rule: 'only_in_rounds', center: 'b', rounds: [1, 2] },
    { rule: 'visit_in_round', center: 'b', group: 'G3', round: 3 }] }, ['G3', 'b'],
  ['only_in_rounds', 'visit_in_round']],
  ['partners', { students: 8, blocks: 2, together: [[0, 1]], apart: [[1, 0]] }, ['0', '1'],
    ['apart', 'together']],
];

test('impossible: exit 3, a sentence with the names and a smallest set of rules', () => {
  for (const [command, input, who, kinds] of IMPOSSIBLE) {
    const shown = `${command} ${JSON.stringify(input)}`;
    const { status, stdout, stderr } = run(command, input);
    assert.equal(status, 3, `${shown}: ${stderr}`);
    const { conflict } = JSON.parse(stdout);
    assert.deepEqual(conflict.rules.map((rule) => rule.rule).sort(), kinds, shown);
    for (const name of who) assert.ok(stderr.includes(name), `${shown}: ${stderr}`);
  }
  const short = run('fit', { ...lesson, rounds: 6 });
  assert.equal(short.status, 3);
  assert.equal(JSON.parse(short.stdout).rounds_that_fit, 5);
  assert.ok(short.stderr.includes('plan 5 rounds'), short.stderr);
});

test('the largest requests end soon after a small budget', () => {
  const ring = (n, step) => names(n).map((name, i, all) => [name, all[(i + step) % n]]);
  const large = { students: names(500), apart: [...ring(500, 1), ...ring(500, 7)],
    past: Array(20).fill([names(500)]), budget_ms: 100 };
  const clique = { students: names(500), apart: [names(500).slice(0, 130)], budget_ms: 100 };
  const hall = { groups: names(60), rounds: 40, order: 'balanced', budget_ms: 100,
    centers: names(60).map((id) => ({ id })),
    rules: names(60).map((center, i) => ({ rule: 'before', first: center, then: `S${(i + 1) % 60}`,
      groups: [`S${i}`] })) };
  assert.equal(run('group', large).status, 0);
  assert.equal(run('group', clique).status, 3);
  assert.ok([0, 3].includes(run('chart', hall).status));
  assert.equal(run('partners', { students: 120, blocks: 200, budget_ms: 100 }).status, 0);
});

test('why, helpers and gap of a grouping', () => {
  const { status, stdout } = run('group', { students: names(9), size_max: 3,
    past: [[['S0', 'S1', 'S2'], ['S3', 'S4', 'S5'], ['S6', 'S7', 'S8']]],
    together: [['S0', 'S1']], with_one_of: [['S3', ['S4', 'S6']]],
    helpers: [{ name: 'the aide', students: ['S3', 'S7'], rounds: [2, 3] }] });
  assert.equal(status, 0);
  const answer = JSON.parse(stdout);
  assert.equal(answer.proved_best, true);
  assert.equal(answer.gap, 0);
  assert.equal(answer.why.length, 3);
  const home = answer.groups.findIndex((group) => group.includes('S0'));
  const said = answer.why[home].join(' ');
  assert.ok(said.includes('S0 and S1 are together by a rule'), said);
  assert.ok(said.includes('S0 and S1 from the last grouping'), said);
  assert.ok(said.includes('No other grouping that keeps the rules does better'), said);
  const helped = answer.groups.flatMap((group, g) =>
    (group.includes('S3') || group.includes('S7') ? [g] : []));
  assert.deepEqual(answer.helpers[0].groups, helped);
  assert.deepEqual(answer.helpers[0].with.map(({ round }) => round), [2, 3]);
});
