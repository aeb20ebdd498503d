// The planner against general solvers, on the same problems in the same run: HiGHS (a MIP solver,
// npm package "highs", compiled to WebAssembly: measured against our WebAssembly) and Gecode (a
// constraint solver, by Debian's MiniZinc: measured against our native program).
//
//   node planner.mjs [SECONDS]     time limit for each solver and problem, 30 unless said
//
// A solver's time is what it takes to reach a value as good as ours, not to prove it.
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const require = createRequire(import.meta.url);
const ROOT = join(dirname(fileURLToPath(import.meta.url)), '../..');
const NATIVE = process.env.TALLYROUND_NATIVE_BUILD ?? join(ROOT, 'build/native');
const WASM = process.env.TALLYROUND_WASM_BUILD ?? join(ROOT, 'build/wasm');
const LIMIT = Number(process.argv[2] ?? 30);

const native = (what) => JSON.parse(execFileSync(join(NATIVE, 'bench_planner'), [what]));
const wasm = (what) => JSON.parse(execFileSync(process.execPath,
  [join(WASM, 'node/bench_planner.js'), what]));
const each = (n) => [...Array(n).keys()];

/** Pairs that met, with how often. */
function meetings(problem) {
  const met = new Map();
  for (const grouping of problem.past) {
    for (const group of grouping) {
      for (const a of group) {
        for (const b of group) {
          if (a < b) met.set(`${a} ${b}`, (met.get(`${a} ${b}`) ?? 0) + 1);
        }
      }
    }
  }
  return [...met].map(([pair, times]) => [...pair.split(' ').map(Number), times]);
}

function sizes(problem) {
  const groups = Math.ceil(problem.students / problem.size);
  return each(groups).map((g) => Math.floor((problem.students + g) / groups));
}

/** Milliseconds until HiGHS has at most `target` repeats; the limit if it never has. */
async function highs(problem, target) {
  const solver = await require('highs')();
  const x = (s, g) => `x${s}_${g}`;
  const all = each(sizes(problem).length);
  const rows = [];
  const binaries = [];
  for (const s of each(problem.students)) {
    binaries.push(...all.map((g) => x(s, g)));
    rows.push(`${all.map((g) => x(s, g)).join(' + ')} = 1`);
  }
  sizes(problem).forEach((size, g) => {
    rows.push(`${each(problem.students).map((s) => x(s, g)).join(' + ')} = ${size}`);
  });
  for (const g of all) {
    for (const [a, b] of problem.apart) rows.push(`${x(a, g)} + ${x(b, g)} <= 1`);
    for (const [a, b] of problem.together) rows.push(`${x(a, g)} - ${x(b, g)} = 0`);
  }
  const objective = [];
  for (const [a, b, times] of meetings(problem)) {
    objective.push(`${times} y${a}_${b}`);
    binaries.push(`y${a}_${b}`);
    for (const g of all) rows.push(`y${a}_${b} - ${x(a, g)} - ${x(b, g)} >= -1`);
  }
  const text = `Minimize\n obj: ${objective.join(' + ')}\nSubject To\n`
    + `${rows.map((row, i) => ` r${i}: ${row}`).join('\n')}\n`
    + `Binary\n ${binaries.join(' ')}\nEnd\n`;
  const start = performance.now();
  const result = solver.solve(text, { time_limit: LIMIT, objective_target: target + 0.5 });
  const ms = performance.now() - start;
  const reached = Object.keys(result.Columns ?? {}).length > 0
    && result.ObjectiveValue <= target + 0.5;
  return { ms: reached ? ms : LIMIT * 1000, reached };
}

/** The same for Gecode, asked for a grouping with at most `target` repeats. */
function gecode(problem, target) {
  const all = sizes(problem);
  const met = meetings(problem);
  const list = (items) => `[${items.join(',')}]`;
  const model = `include "globals.mzn";
array[1..${problem.students}] of var 1..${all.length}: g;
constraint global_cardinality(g, ${list(each(all.length).map((i) => i + 1))}, ${list(all)});
${problem.apart.map(([a, b]) => `constraint g[${a + 1}] != g[${b + 1}];`).join('\n')}
${problem.together.map(([a, b]) => `constraint g[${a + 1}] = g[${b + 1}];`).join('\n')}
constraint g[1] = 1;
constraint sum([${met.map(([a, b, n]) => `${n} * bool2int(g[${a + 1}] = g[${b + 1}])`)
    .join(',')}]) <= ${target};
solve :: int_search(g, dom_w_deg, indomain_min) satisfy;
`;
  const file = join(mkdtempSync(join(tmpdir(), 'bench-')), 'groups.mzn');
  writeFileSync(file, model);
  const start = performance.now();
  const { stdout } = spawnSync('minizinc', ['--solver', 'gecode', '--time-limit',
    String(LIMIT * 1000), file], { encoding: 'utf8' });
  const reached = /----------/.test(stdout);
  return { ms: reached ? performance.now() - start : LIMIT * 1000, reached };
}

const ratio = (theirs, ours) => `${theirs.reached ? '' : '> '}${Math.round(theirs.ms / ours)} x`;

async function against() {
  const problems = native('problems');
  const ours = native('solve');
  const oursWasm = wasm('solve');
  console.log('students blocks repeats      native    Gecode        wasm     HiGHS');
  const times = { gecode: [], highs: [] };
  for (const [i, problem] of problems.entries()) {
    const target = ours[i].repeats;
    const g = gecode(problem, target);
    const h = await highs(problem, target);
    times.gecode.push(g.ms / ours[i].ms);
    times.highs.push(h.ms / oursWasm[i].ms);
    console.log(`${String(problem.students).padStart(8)} `
      + `${String(problem.past.length).padStart(6)} `
      + `${String(target).padStart(7)}${ours[i].proved ? '*' : ' '} `
      + `${ours[i].ms.toFixed(1).padStart(7)} ms ${ratio(g, ours[i].ms).padStart(9)} `
      + `${oursWasm[i].ms.toFixed(1).padStart(8)} ms ${ratio(h, oursWasm[i].ms).padStart(9)}`);
  }
  for (const [who, all] of Object.entries(times)) {
    all.sort((a, b) => a - b);
    const median = all[all.length >> 1];
    console.log(`${who}: least ${Math.round(all[0])} x, median ${Math.round(median)} x, `
      + `${all.filter((x) => x >= 100).length} of ${all.length} at least 100 x`);
  }
  console.log('* proved best; > the solver never got there');
}

function targets() {
  const t = wasm('targets');
  const row = (what, { p50, most }, target) => console.log(
    `${what.padEnd(44)} ${p50.toFixed(1).padStart(7)} / ${most.toFixed(1)} ms   ${target}`);
  console.log('\nin wasm, p50 / most of 20');
  row('groups of 32 students with 12 wishes', t.groups, 'at most 50 ms');
  row('chart of 8 x 8 with 12 rules, any order', t.chart_any, 'at most 20 ms');
  row('chart of 8 x 8 with 12 rules, cyclic', t.chart_cyclic, 'at most 20 ms');
  row('chart of 8 x 8 with 12 rules, balanced', t.chart_balanced, 'at most 20 ms');
  console.log(`partners 28 x 9 ${t.partners.toFixed(0)} ms   at most 1000 ms`);
}

function growth() {
  console.log('\nstudents   first grouping   end of the search (wasm)');
  for (const { students, first, ms } of wasm('growth')) {
    console.log(`${String(students).padStart(8)} ${first.toFixed(1).padStart(13)} ms `
      + `${ms.toFixed(1).padStart(13)} ms`);
  }
}

targets();
growth();
console.log();
await against();
