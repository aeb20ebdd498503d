// @ts-check
/**
 * node tests/storage/run.mjs [LESSONS] [FIRST_SEED]: simulated lessons (lesson.mjs), one a seed.
 * The seed of a lesson that fails is printed: `run.mjs 1 SEED` runs it again.
 */

import { Lesson } from './lesson.mjs';

/** @param {number} lessons @param {number} first */
export async function simulate(lessons, first) {
  /** @type {Record<string, number>} */
  const tally = {};
  const failures = [];
  for (let seed = first; seed < first + lessons; seed++) {
    const lesson = new Lesson(seed);
    try {
      await lesson.run();
    } catch (error) {
      failures.push(`seed ${seed}: ${error instanceof Error ? error.stack : error}`);
      if (failures.length >= 5) break;
    }
    for (const [name, n] of Object.entries({ ...lesson.tally, ...lesson.device.counts })) {
      tally[name] = (tally[name] ?? 0) + n;
    }
  }
  return { tally, failures };
}

if (process.argv[1] === import.meta.filename) {
  const lessons = Number(process.argv[2] ?? 100000);
  const first = Number(process.argv[3] ?? 1);
  const { tally, failures } = await simulate(lessons, first);
  console.log(`${lessons} lessons, seeds ${first} to ${first + lessons - 1}: ` +
    `${failures.length} failed`);
  console.log(Object.entries(tally).map(([name, n]) => `${n} ${name}`).join(', '));
  for (const failure of failures) console.log(failure);
  process.exitCode = failures.length > 0 ? 1 : 0;
}
