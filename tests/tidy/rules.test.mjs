// The rules themselves, on small texts: each must find what it is for and let the rest pass.
import assert from 'node:assert/strict';
import { test } from 'node:test';

import { arrowFault, checkArrows, modulesFrom } from './arrows.mjs';
import { applyExceptions, readExceptions } from './exceptions.mjs';
import { checkShape, functionsIn, MAX_FILE_LINES, MAX_FUNCTION_LINES } from './shape.mjs';
import { stripCode } from './strip.mjs';
import { checkWords } from './words.mjs';

const rulesOf = (faults) => faults.map((fault) => fault.rule);

test('comments and literals are blanked, positions stay', () => {
  const cases = [
    ['cpp', 'a = "{"; // {\nb', 'a = " ";     \nb'],
    ['cpp', "x = 1'000; c = '{';", "x = 1'000; c = ' ';"],
    ['cpp', 'R"(a " { )" + b', 'R"        " + b'],
    ['cpp', '/* {\n */ f()', '    \n    f()'],
    ['cpp', '#include "a/b.h"', '#include "a/b.h"'],
    ['js', 'a = /[/{]"/; b = c / d / e;', 'a = /     /; b = c / d / e;'],
    ['js', 'a = `{\n${b}`; // "', 'a = ` \n    `;     '],
  ];
  for (const [language, text, wanted] of cases) assert.equal(stripCode(text, language), wanted);
});

test('functions are found with their lengths, other blocks are not', () => {
  const cpp = `namespace a {
struct Point {
    int x = 0;
    Point(int a, int b) : x_{a}, y_(b) {
        if (a > b) {
            use(a);
        }
    }
    int value() const noexcept { return 1; }
};
const int table[] = {
    1,
};
auto f(int n)
    -> std::vector<int> {
    for (;;) {
    }
    return {};
}
}
`;
  assert.deepEqual(functionsIn(cpp, 'cpp'), [
    { line: 4, lines: 5 },
    { line: 9, lines: 1 },
    { line: 15, lines: 5 },
  ]);
  const js = `class A {
  #x = { a: 1 };
  async run(a) {
    while (a) {
      a--;
    }
  }
}
const f = (x) => {
  return x;
};
test('name {', async () => {
});
`;
  assert.deepEqual(functionsIn(js, 'js'), [
    { line: 3, lines: 5 },
    { line: 9, lines: 3 },
    { line: 12, lines: 2 },
  ]);
});

test('a function may have as many lines as the limit and no more', () => {
  const body = (lines) => `void f() {\n${'    g();\n'.repeat(lines - 2)}}\n`;
  assert.deepEqual(checkShape(body(MAX_FUNCTION_LINES), 'cpp'), []);
  assert.deepEqual(rulesOf(checkShape(body(MAX_FUNCTION_LINES + 1), 'cpp')), ['function-length']);
});

test('files and lines may be as long as the limit and no longer', () => {
  assert.deepEqual(checkShape('a;\n'.repeat(MAX_FILE_LINES), 'cpp'), []);
  assert.deepEqual(rulesOf(checkShape('a;\n'.repeat(MAX_FILE_LINES + 1), 'cpp')), ['file-length']);
  assert.deepEqual(checkShape(`${'é'.repeat(100)}\n`, 'code'), []);
  assert.deepEqual(rulesOf(checkShape('é'.repeat(101), 'code')), ['line-length']);
  assert.deepEqual(checkShape('a'.repeat(500), 'text'), []);
});

test('tabs and blanks at the end of a line are found', () => {
  assert.deepEqual(rulesOf(checkShape('a \n\tb\n', 'text')), ['trailing-space', 'tab']);
});

const graph = `
core_module(base)
core_module(json DEPS base)
core_module(model DEPS base)
core_module(record DEPS model json)
core_module(session DEPS record)
`;

test('the module graph is read and closed over its arrows', () => {
  const modules = modulesFrom(graph);
  assert.deepEqual([...modules.get('record')].sort(), ['base', 'json', 'model', 'record']);
  assert.deepEqual([...modules.get('base')], ['base']);
});

test('arrows run one way', () => {
  const modules = modulesFrom(graph);
  const good = [
    ['core/record/fold.cpp', 'base/id.h'], ['core/record/fold.cpp', 'vector'],
    ['core/record/write.cpp', 'nlohmann/json.hpp'], ['core/cli/main.cpp', 'session/session.h'],
    ['core/model/plan.cpp', 'boost/math/special_functions/beta.hpp'], ['ui/app.cpp', 'imgui.h'],
    ['ui/app.cpp', 'session/session.h'], ['web-shell/src/host.cpp', 'SDL2/SDL.h'],
  ];
  for (const [path, target] of good) assert.equal(arrowFault(path, target, modules), '', path);
  const bad = [
    ['core/base/id.cpp', 'model/plan.h'], ['core/model/plan.cpp', 'record/fold.h'],
    ['core/model/plan.cpp', 'nlohmann/json.hpp'], ['core/record/fold.cpp', 'cli/cli.h'],
    ['core/record/fold.cpp', 'ui/app.h'], ['core/cli/main.cpp', 'imgui.h'],
    ['ui/app.cpp', 'SDL.h'], ['ui/app.cpp', 'emscripten.h'], ['ui/app.cpp', 'web-shell/src/host.h'],
  ];
  for (const [path, target] of bad) assert.notEqual(arrowFault(path, target, modules), '', path);
});

test('the core has no clock, no stream and no chance of its own', () => {
  const modules = modulesFrom(graph);
  const faults = (path, text) => rulesOf(checkArrows(path, text, modules));
  const impure = ['#include <iostream>', '#include <fstream>', 'auto t = steady_clock::now();',
    'std::uniform_int_distribution<int> d;', 'std::shuffle(a, b, c);', 'std::random_device r;'];
  for (const text of impure) {
    assert.deepEqual(faults('core/base/a.cpp', text), ['pure-core'], text);
    assert.deepEqual(faults('core/cli/a.cpp', text), [], text);
  }
  assert.deepEqual(faults('core/base/a.cpp', '// no steady_clock here\nstd::mt19937_64 g;'), []);
});

test('banned words are found', () => {
  const bad = ['// TO' + 'DO: more', 'ftp.debi' + 'an.org', 'a registry.npm' + 'js.org/a',
    'www.npm' + 'js.com',
    '"resol' + 'ved": "x"', 'cd /wo' + 'rk/main', 'see sha' + 'red/notes'];
  for (const text of bad) assert.deepEqual(rulesOf(checkWords(text)), ['word'], text);
  assert.deepEqual(checkWords('to do, network/main, unshared things, "resolve": 1'), []);
});

test('exceptions cover faults and must be needed and explained', () => {
  const faults = [{ rule: 'tab', path: 'a.cpp', line: 1, text: 'tab' }];
  assert.deepEqual(applyExceptions(faults, readExceptions('# c\ntab a.cpp a table\n')), []);
  assert.equal(applyExceptions(faults, readExceptions('tab b.cpp a table')).length, 2);
  assert.equal(applyExceptions(faults, readExceptions('tab a.cpp')).length, 1);
});
