// Makes random planning problems and solves them to proven optimality with a general MIP solver
// (npm package "highs", HiGHS 1.x). Prints the problems and their optimal values as JSON:
//   npm install highs && node mip_optima.mjs > ../data/plan/mip_optima.json
// The planner is then held against these values by mip_optima.cpp.
import { createRequire } from "node:module";
import { cwd } from "node:process";

const require = createRequire(cwd() + "/");
const highs = await require("highs")();

let state = 20261125;
function below(bound) {
  // Park and Miller's generator (1988).
  state = (state * 48271) % 2147483647;
  return state % bound;
}
function shuffled(n) {
  const order = [...Array(n).keys()];
  for (let i = n - 1; i > 0; --i) {
    const j = below(i + 1);
    [order[i], order[j]] = [order[j], order[i]];
  }
  return order;
}

function solve(objective, rows, binaries) {
  const text = `Minimize\n obj: ${objective.join(" + ") || "0 x_0_0"}\nSubject To\n` +
    rows.map((row, i) => ` r${i}: ${row}`).join("\n") +
    `\nBinary\n ${binaries.join(" ")}\nEnd\n`;
  const result = highs.solve(text, { time_limit: 40 });
  return result.Status === "Optimal" ? Math.round(result.ObjectiveValue) :
    result.Status === "Infeasible" ? null : undefined;
}

function groupProblem(students, size) {
  const groups = students / size;
  const past = [];
  for (let n = 3 + below(4); n > 0; --n) {
    const order = shuffled(students);
    past.push([...Array(groups).keys()].map((g) => order.slice(g * size, (g + 1) * size)));
  }
  const pair = () => {
    const a = below(students);
    return [a, (a + 1 + below(students - 1)) % students];
  };
  const apart = [...Array(below(5))].map(pair);
  const together = [...Array(below(3))].map(pair);
  const rows = [];
  const binaries = [];
  const x = (s, g) => `x_${s}_${g}`;
  for (let s = 0; s < students; ++s) {
    const all = [...Array(groups).keys()].map((g) => x(s, g));
    binaries.push(...all);
    rows.push(all.join(" + ") + " = 1");
  }
  for (let g = 0; g < groups; ++g)
    rows.push([...Array(students).keys()].map((s) => x(s, g)).join(" + ") + ` = ${size}`);
  for (const [a, b] of apart)
    for (let g = 0; g < groups; ++g) rows.push(`${x(a, g)} + ${x(b, g)} <= 1`);
  for (const [a, b] of together)
    for (let g = 0; g < groups; ++g) rows.push(`${x(a, g)} - ${x(b, g)} = 0`);
  rows.push(`${x(0, 0)} = 1`);
  const objective = [];
  for (let a = 0; a < students; ++a) {
    for (let b = a + 1; b < students; ++b) {
      const met = past.filter((p) => p.some((g) => g.includes(a) && g.includes(b))).length;
      if (met === 0) continue;
      const y = `y_${a}_${b}`;
      binaries.push(y);
      objective.push(`${met} ${y}`);
      for (let g = 0; g < groups; ++g) rows.push(`${x(a, g)} + ${x(b, g)} - ${y} <= 1`);
    }
  }
  return { students, size, past, apart, together, repeats: solve(objective, rows, binaries) };
}

function chartProblem() {
  const groups = 3 + below(4);
  const rounds = 3 + below(4);
  const centers = 3 + below(4);
  const holds = [...Array(centers)].map(() => (below(4) === 0 ? 2 : 1));
  const rules = [];
  for (let n = below(8); n > 0; --n) {
    const kind = ["must_visit", "before", "not_in_round", "visit_in_round", "at_most"][below(5)];
    const center = below(centers);
    rules.push({ kind, center, then: (center + 1 + below(centers - 1)) % centers,
      round: below(rounds), times: 1,
      group: kind === "visit_in_round" || below(2) ? below(groups) : -1 });
  }
  const z = (g, r, c) => `z_${g}_${r}_${c}`;
  const rows = [];
  const binaries = [];
  const each = (n) => [...Array(n).keys()];
  const objective = [];
  for (const g of each(groups)) {
    for (const r of each(rounds)) {
      const all = each(centers).map((c) => z(g, r, c));
      const idle = `i_${g}_${r}`;
      binaries.push(...all, idle);
      objective.push(idle);
      rows.push([...all, idle].join(" + ") + " = 1");
    }
  }
  for (const r of each(rounds))
    for (const c of each(centers))
      rows.push(each(groups).map((g) => z(g, r, c)).join(" + ") + ` <= ${holds[c]}`);
  for (const rule of rules) {
    for (const g of rule.group < 0 ? each(groups) : [rule.group]) {
      const visits = each(rounds).map((r) => z(g, r, rule.center)).join(" + ");
      if (rule.kind === "must_visit") rows.push(`${visits} >= 1`);
      if (rule.kind === "at_most") rows.push(`${visits} <= ${rule.times}`);
      if (rule.kind === "not_in_round") rows.push(`${z(g, rule.round, rule.center)} = 0`);
      if (rule.kind === "visit_in_round") rows.push(`${z(g, rule.round, rule.center)} = 1`);
      if (rule.kind === "before")
        for (const r of each(rounds))
          rows.push([z(g, r, rule.then), ...each(r).map((e) => z(g, e, rule.center))]
            .join(" - ") + " <= 0");
    }
  }
  return { groups, rounds, holds, rules, idle: solve(objective, rows, binaries) };
}

const shapes = [[9, 3], [12, 3], [12, 4], [12, 4], [15, 5], [12, 3]];
const group = [];
for (let i = 0; group.length < 24 && i < 60; ++i) {
  const made = groupProblem(...shapes[i % shapes.length]);
  if (made.repeats !== undefined) group.push(made);
}
const chart = [];
for (let i = 0; chart.length < 40 && i < 100; ++i) {
  const made = chartProblem();
  if (made.idle !== undefined) chart.push(made);
}
console.log(JSON.stringify({ solver: "HiGHS, npm highs 1.x", group, chart }));
