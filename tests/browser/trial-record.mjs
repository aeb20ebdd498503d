// @ts-check
/**
 * What a trial lesson left behind, read outside the app: the exported plan's events by themselves,
 * and the command line program's view of them.
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const CLI = process.env.TALLYROUND_PROGRAM ??
  join(dirname(fileURLToPath(import.meta.url)), '../../build/native/tallyround');

/** What happened in a lesson, by kind of event: what to compare of each. */
const KINDS = {
  lesson_started: ['first_round', 'last_round'],
  phase_began: ['phase', 'round', 'ends_ms'],
  lesson_paused: ['left_ms'],
  lesson_resumed: ['ends_ms'],
  time_added: ['add_ms'],
  rounds_retimed: ['round_ms'],
  lesson_ended: [],
  absence_set: ['student', 'absent'],
  flag_set: ['student', 'raised'],
  center_closed: ['center', 'closed'],
};

/** Fields of one line of the program's CSV: it quotes only what needs it. @param {string} line */
function fields(line) {
  return [...line.matchAll(/("(?:[^"]|"")*"|[^,]*)(?:,|$)/g)]
    .slice(0, line.endsWith(',') ? undefined : -1)
    .map(([, field]) => field.startsWith('"') ? field.slice(1, -1).replaceAll('""', '"') : field);
}

/** @param {string} text @returns {Record<string, string>[]} */
function table(text) {
  const [head, ...rows] = text.replace(/^\ufeff/, '').split(/\r?\n/).filter(Boolean).map(fields);
  return rows.map((row) => Object.fromEntries(head.map((name, i) => [name, row[i]])));
}

/** The plan file as the command line program reads it. @param {Uint8Array} bytes */
export function readByProgram(bytes) {
  const folder = mkdtempSync(join(tmpdir(), 'tallyround-trial-'));
  try {
    const file = join(folder, 'plan.json');
    writeFileSync(file, bytes);
    const run = (/** @type {string[]} */ ...args) =>
      execFileSync(CLI, args, { encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'] });
    return { check: JSON.parse(run('check', file)), marks: table(run('export', file,
      '--marks-csv')) };
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/**
 * The lesson's events that still count, in order: time, kind and the fields above, students by
 * name and centers by number as they were made.
 * @param {Uint8Array} bytes
 */
export function lessonEvents(bytes) {
  const { events } = JSON.parse(Buffer.from(bytes).toString('utf8'));
  const name = (/** @type {any} */ { by, n }) => `${by} ${n}`;
  const gone = new Set();
  // A retraction that was itself taken back retracts nothing; later ones are read first.
  for (const event of [...events].reverse()) {
    if (event.kind !== 'retracted' || gone.has(name(event))) continue;
    for (const [by, n] of event.events) gone.add(`${by} ${n}`);
  }
  const students = new Map();
  const centers = new Map();
  const out = [];
  for (const event of events) {
    if (gone.has(name(event))) continue;
    if (event.kind === 'student_added') students.set(event.student, event.name);
    if (event.kind === 'center_set' && !centers.has(event.center)) {
      centers.set(event.center, centers.size + 1);
    }
    const wanted = KINDS[/** @type {keyof typeof KINDS} */ (event.kind)];
    if (!wanted) continue;
    const told = wanted.map((field) => field === 'student' ? students.get(event.student)
      : field === 'center' ? centers.get(event.center) : event[field]);
    out.push([event.at[0], event.kind, ...told]);
  }
  return out;
}
