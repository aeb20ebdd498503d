// @ts-check
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { setTimeout } from 'node:timers/promises';

import { MirrorTurn } from '../../../web-shell/js/mirror-turn.mjs';

/** What a mirror was told, in order: the labels. */
function watched() {
  /** @type {string[]} */
  const told = [];
  const turn = new MirrorTurn({
    apply: ({ set = [] }) => { told.push(set.map(({ label }) => label[0]).join('') || '-'); },
  });
  return { told, turn };
}

/** @param {string} label @param {number} [length] */
const changes = (label, length = 10) =>
  JSON.stringify({ set: [{ id: 1, label: label.padEnd(length, '.') }] });

test('few changes are taken in with their frame, and so are none', () => {
  const { told, turn } = watched();
  turn.take(changes('a'));
  turn.take('');
  assert.deepEqual(told, ['a', '-']);
});

test('many have a task of their own, once', async () => {
  const { told, turn } = watched();
  turn.take(changes('A', 9000));
  assert.deepEqual(told, []);
  await setTimeout(5);
  assert.deepEqual(told, ['A']);
  await setTimeout(5);
  assert.deepEqual(told, ['A']);
});

test('what comes before that task was due does not overtake it', async () => {
  const { told, turn } = watched();
  turn.take(changes('A', 9000));
  turn.take(changes('b'));
  assert.deepEqual(told, ['A', 'b']);
  turn.take(changes('C', 9000));
  turn.take(changes('D', 9000));
  turn.take('');
  assert.deepEqual(told, ['A', 'b', 'C', 'D', '-']);
  await setTimeout(5);
  assert.deepEqual(told, ['A', 'b', 'C', 'D', '-']);
});
