/** Runs programs with their output kept in build/test-logs. */
import { spawn } from 'node:child_process';
import { createWriteStream, mkdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

import { settle } from './counts.mjs';

export const ROOT = join(dirname(fileURLToPath(import.meta.url)), '../..');
const LOGS = join(ROOT, 'build/test-logs');
const LINES_SHOWN = 120;

/** Resolves to {endedWell, output, log}; a program that takes longer than `minutes` is ended. */
export async function execute(name, program, args, { minutes = 20, env = {}, cwd = ROOT } = {}) {
  const log = join(LOGS, `${name.replaceAll('/', '-')}.log`);
  mkdirSync(LOGS, { recursive: true });
  const file = createWriteStream(log);
  const child = spawn(program, args, {
    cwd,
    env: { ...process.env, ...env },
    stdio: ['ignore', 'pipe', 'pipe'],
    detached: true, // a group of its own, so that all of it can be ended
  });
  const endAll = () => {
    try {
      process.kill(-child.pid, 'SIGKILL');
    } catch {
      // already gone
    }
  };
  const timer = setTimeout(() => {
    file.write(`\nended after ${minutes} minutes\n`);
    endAll();
  }, minutes * 60_000);
  child.stdout.pipe(file, { end: false });
  child.stderr.pipe(file, { end: false });
  const endedWell = await new Promise((resolve) => {
    child.on('error', (error) => {
      file.write(`${error.message}\n`);
      resolve(false);
    });
    child.on('close', (code) => resolve(code === 0));
  });
  clearTimeout(timer);
  endAll(); // whatever it left running
  await new Promise((resolve) => file.end(resolve));
  return { endedWell, output: readFileSync(log, 'utf8'), log };
}

function showEnd(name, { output, log }) {
  const lines = output.trimEnd().split('\n');
  console.log(`---- ${name}: the end of ${log}`);
  console.log(lines.slice(-LINES_SHOWN).join('\n'));
  console.log('----');
}

/** A step that must work before tests can run: true if it did, else the end of its log is shown. */
export async function step(name, program, args, options) {
  const began = Date.now();
  const result = await execute(name, program, args, options);
  console.log(`  ${name}: ${result.endedWell ? 'done' : 'FAILED'} in ${seconds(began)}`);
  if (!result.endedWell) showEnd(name, result);
  return result.endedWell;
}

/** Runs one test program and returns its count; `read` finds the count in its output. */
export async function runTests(name, program, args, read, options) {
  const began = Date.now();
  const result = await execute(name, program, args, options);
  const count = settle(read(result), result.endedWell);
  console.log(`  ${name}: ${count.passed} passed, ${count.failed} failed in ${seconds(began)}`);
  if (count.failed > 0) showEnd(name, result);
  return count;
}

export function seconds(began) {
  return `${((Date.now() - began) / 1000).toFixed(1)} s`;
}
