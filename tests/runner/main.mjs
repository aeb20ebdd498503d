/**
 * The parts of the test run: builds what each needs, runs it and adds up what it counted. Started
 * by tests/run, which sets everything up first.
 */
import { execFileSync } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, statSync } from 'node:fs';
import { basename, join, relative } from 'node:path';

import { add, countDoctest, countNode } from './counts.mjs';
import { measureBranches, Profiles } from './coverage.mjs';
import { ROOT, runTests, seconds, step } from './execute.mjs';

const NONE = { passed: 0, failed: 0, skipped: 0 };
const ONE_FAILED = { passed: 0, failed: 1, skipped: 0 };
/** A program that is one test. */
const asOne = ({ endedWell }) => endedWell ? { passed: 1, failed: 0, skipped: 0 } : ONE_FAILED;
const ENVIRONMENT = {
  TALLYROUND_PROGRAM: join(ROOT, 'build/native/tallyround'),
  TALLYROUND_SITE: join(ROOT, 'build/wasm/site'),
  TALLYROUND_NATIVE_BUILD: join(ROOT, 'build/native'),
  TALLYROUND_WASM_BUILD: join(ROOT, 'build/wasm'),
};

/** Files below `folder` whose name ends so, as paths from the root, sorted. */
function filesIn(folder, ending) {
  const found = [];
  for (const entry of readdirSync(join(ROOT, folder), { withFileTypes: true })) {
    const path = `${folder}/${entry.name}`;
    if (entry.isDirectory()) {
      if (entry.name !== 'node_modules') found.push(...filesIn(path, ending));
    } else if (entry.name.endsWith(ending)) {
      found.push(path);
    }
  }
  return found.sort();
}

/** The test scripts that belong to a part, which is the folder they lie in or "scripts". */
function scriptsOf(part) {
  const ofFolder = (path) => ['tidy', 'browser'].find((one) => path.startsWith(`tests/${one}/`));
  return filesIn('tests', '.test.mjs').filter((path) => (ofFolder(path) ?? 'scripts') === part);
}

function nodeTests(name, files, minutes, env = {}) {
  const args = ['--test', '--test-reporter=spec', '--test-concurrency=1', ...files];
  const read = ({ output }) => countNode(output);
  return runTests(name, process.execPath, args, read, { env: { ...ENVIRONMENT, ...env }, minutes });
}

const OTHER_ENGINES = ['firefox', 'webkit'];

const built = new Map();

/** Configures and builds a preset once a run. */
async function build(preset) {
  if (!built.has(preset)) {
    const done = await step(`configure-${preset}`, 'cmake', ['--preset', preset]) &&
      await step(`build-${preset}`, 'cmake', ['--build', '--preset', preset, '--', '-k', '0'],
        { minutes: 60 });
    built.set(preset, done);
  }
  return built.get(preset);
}

/** Installs the packages of every folder of tests whose lock file is newer than they are. */
async function installPackages() {
  for (const lock of filesIn('tests', 'package-lock.json')) {
    const folder = join(ROOT, lock, '..');
    const mark = join(folder, 'node_modules/.package-lock.json');
    const age = (path) => statSync(path).mtimeMs;
    const isFresh = existsSync(mark) && age(mark) >= age(join(ROOT, lock));
    const name = `npm-${relative(ROOT, folder)}`;
    if (!isFresh && !await step(name, 'npm', ['ci', '--no-audit', '--no-fund'], { cwd: folder })) {
      return false;
    }
  }
  return true;
}

/** Every program that CMake knows as a test (or that is wanted), one after the other. */
async function doctests(preset, wanted = /^/, environment = () => ({}), more = []) {
  if (!await build(preset)) return ONE_FAILED;
  const listing = execFileSync('ctest', ['--preset', preset, '--show-only=json-v1'],
    { cwd: ROOT, encoding: 'utf8' });
  let total = NONE;
  for (const { name, command } of JSON.parse(listing).tests) {
    if (!wanted.test(name)) continue;
    const [program, ...args] = command ?? [];
    const label = preset === 'native' ? name : `${preset}-${name}`;
    const read = ({ output }) => countDoctest(output);
    total = add(total,
      await runTests(label, program, [...args, ...more], read, { env: environment(program) }));
  }
  return total;
}

/** Checks of the command line program against other software: each script is one test. */
async function reference() {
  if (!await build('native')) return ONE_FAILED;
  let total = NONE;
  for (const path of filesIn('tests/reference', '_check.py')) {
    const args = [path, ENVIRONMENT.TALLYROUND_PROGRAM];
    const name = path.slice('tests/'.length);
    total = add(total, await runTests(name, '/usr/bin/python3', args, asOne));
  }
  return total;
}

async function scripts() {
  if (!await build('native') || !await build('wasm') || !await installPackages()) return ONE_FAILED;
  let total = NONE;
  for (const path of scriptsOf('scripts')) {
    total = add(total, await nodeTests(path.slice('tests/'.length), [path], 15));
  }
  return total;
}

/** The browser tests in one engine. */
async function inBrowser(engine) {
  let total = NONE;
  for (const path of scriptsOf('browser')) {
    const name = basename(path, '.test.mjs');
    const label = engine === 'chromium' ? path.slice('tests/'.length) : `${engine}-${name}`;
    total = add(total, await nodeTests(label, [path], 15, { TALLYROUND_ENGINE: engine }));
  }
  return total;
}

/** All of it in Chromium. */
async function browser() {
  if (!await build('native') || !await build('wasm') || !await installPackages()) return ONE_FAILED;
  return inBrowser('chromium');
}

/** All of it in all engines. */
async function engines() {
  if (!await build('native') || !await build('wasm') || !await installPackages()) return ONE_FAILED;
  let total = NONE;
  for (const engine of ['chromium', ...OTHER_ENGINES]) {
    total = add(total, await inBrowser(engine));
  }
  return total;
}

/** Every libFuzzer target from its corpus, for some seconds each. */
async function fuzz() {
  if (!await build('clang')) return ONE_FAILED;
  const time = Number(process.env.TALLYROUND_FUZZ_SECONDS ?? 6);
  const folder = join(ROOT, 'build/clang/tests/fuzz');
  let total = NONE;
  for (const name of readdirSync(folder).filter((one) => /^fuzz_\w+$/.test(one)).sort()) {
    const found = join(ROOT, 'build/clang/found', name);
    mkdirSync(found, { recursive: true });
    const args = [`-max_total_time=${time}`, '-seed=1', '-timeout=20', '-rss_limit_mb=6000',
      '-print_final_stats=1', `-artifact_prefix=${found}-`, found,
      join(ROOT, 'tests/fuzz/corpus', name.slice('fuzz_'.length))];
    total = add(total, await runTests(name, join(folder, name), args, asOne,
      { minutes: time / 60 + 2, env: { LLVM_PROFILE_FILE: '/dev/null' } }));
  }
  return total;
}

/** All simulated lessons and all random merges, of which the other parts run a share. */
async function lessons() {
  if (!await build('native')) return ONE_FAILED;
  const script = join(ROOT, 'tests/storage/run.mjs');
  const shell = await runTests('lessons-shell', process.execPath, [script, '100000'], asOne,
    { minutes: 120 });
  const record = await runTests('lessons-record', join(ROOT, 'build/native/tests/property_record'),
    ['-tc=any order*'], ({ output }) => countDoctest(output),
    { minutes: 120, env: { TALLYROUND_INTERLEAVINGS: '100000' } });
  return add(shell, record);
}

/** The browser killed 200 times. */
async function kills() {
  if (!await build('wasm') || !await installPackages()) return ONE_FAILED;
  const env = { ...ENVIRONMENT, TALLYROUND_KILLS: '200' };
  return runTests('kills', process.execPath,
    ['--test', '--test-reporter=spec', 'tests/browser/kills.test.mjs'],
    ({ output }) => countNode(output), { minutes: 120, env });
}

/** Branch coverage of what reads and keeps the record: see tests/runner/coverage.mjs. */
async function coverage() {
  const profiles = new Profiles(join(ROOT, 'build/clang'));
  const total = await doctests('clang', /^(unit|property|reference)_(record|exchange)$/,
    // Its hundred megabytes take two minutes in this build, and no branch that others do not.
    (program) => profiles.environment(program), ['-tce=a hundred megabytes*']);
  if (total.passed === 0) return total; // not built
  const { text, reached } = measureBranches(ROOT, ['core/record', 'core/exchange'], profiles);
  console.log(text);
  return add(total, asOne({ endedWell: reached }));
}

const PARTS = {
  tidy: () => nodeTests('tidy', scriptsOf('tidy'), 5),
  native: () => doctests('native'),
  reference,
  scripts,
  browser,
  engines,
  sanitizers: () => doctests('sanitizers'),
  fuzz,
  lessons,
  kills,
  coverage,
};
const DEFAULT_PARTS = ['tidy', 'native', 'reference', 'coverage', 'fuzz', 'scripts', 'browser'];

async function main() {
  const wanted = process.argv.length > 2 ? process.argv.slice(2) : DEFAULT_PARTS;
  const unknown = wanted.filter((name) => !(name in PARTS));
  if (unknown.length > 0) {
    console.error(`tests/run: no part ${unknown.join(', ')}; there are ${Object.keys(PARTS)}`);
    return 2;
  }
  const began = Date.now();
  let total = NONE;
  const summary = [];
  for (const name of wanted) {
    console.log(`${name}:`);
    const partBegan = Date.now();
    let count = await PARTS[name]();
    if (count.passed + count.failed === 0) {
      console.log(`  part ${name} ran no test, which counts as a failure`);
      count = ONE_FAILED;
    }
    total = add(total, count);
    summary.push([name, count, seconds(partBegan)]);
  }
  console.log(`\nAll parts in ${seconds(began)}:`);
  for (const [name, { passed, failed, skipped }, time] of summary) {
    console.log(`  ${name.padEnd(10)} ${passed} of ${passed + failed} passed` +
      `${skipped ? `, ${skipped} skipped` : ''}, ${time}`);
  }
  console.log(`${total.passed} passed, ${total.failed} failed` +
    `${total.skipped ? `, ${total.skipped} skipped` : ''}`);
  return total.failed === 0 ? 0 : 1;
}

process.exitCode = await main();
