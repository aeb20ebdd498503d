// Sealed files, opened with Node's own crypto and by the app's.
import assert from 'node:assert/strict';
import { pbkdf2Sync } from 'node:crypto';
import { test } from 'node:test';

import {
  PartsSealer, isInParts, openFile, openParts, sealFile,
} from '../../../web-shell/js/sealed-file.mjs';
import { Vault, WrongPasscode } from '../../../web-shell/js/vault.mjs';
import { bytes, openWithNode, text } from './seals.mjs';

test('a sealed file opens by Node with the passcode alone, and by the vault', async () => {
  const vault = await Vault.make('four words of chalk');
  const file = await sealFile(vault, bytes('{"format":"tallyround-plan"}'));
  const envelope = JSON.parse(file);
  assert.equal(envelope.format, 'tallyround-sealed');
  const base64 = (name) => Buffer.from(name, 'base64');
  const kek = pbkdf2Sync('four words of chalk', base64(envelope.kdf.salt), envelope.kdf.rounds, 32,
    'sha256');
  const key = openWithNode(kek, 'file key', base64(envelope.key));
  assert.equal(openWithNode(key, 'file', base64(envelope.box)).toString(),
    '{"format":"tallyround-plan"}');
  assert.equal(text(await openFile(bytes(file), 'four words of chalk')),
    '{"format":"tallyround-plan"}');
  await assert.rejects(openFile(bytes(file), 'four words of chalk '), WrongPasscode);
});

test('envelopes that are damaged, from the future or made to keep the device busy', async () => {
  const vault = await Vault.make('four words of chalk');
  const file = JSON.parse(await sealFile(vault, bytes('plan')));
  const open = (changed) => openFile(bytes(typeof changed === 'string' ? changed
    : JSON.stringify({ ...file, ...changed })), 'four words of chalk');
  await assert.rejects(open('{"format":"tallyround-sealed"'), /cut short or damaged/);
  await assert.rejects(open({ version: 2 }), /newer version/);
  await assert.rejects(open({ cipher: 'ROT13' }), /newer version/);
  await assert.rejects(open({ kdf: { ...file.kdf, rounds: 1e12 } }), /number of rounds/);
  await assert.rejects(open({ kdf: { ...file.kdf, rounds: -1 } }), /number of rounds/);
  await assert.rejects(open({ box: `${file.box.slice(0, -8)}AAAA` }), /damaged|changed/);
  await assert.rejects(open({ box: '*' }), /damaged/);
  await assert.rejects(open({ key: file.box }), WrongPasscode);
});

/** A file of 150,000 bytes in boxes, and how to open it; `changed` gets its lines. */
async function inParts() {
  const vault = await Vault.make('four words of chalk');
  const sealer = new PartsSealer(vault);
  const lent = new Uint8Array(100000).fill(65);
  sealer.add(lent);
  lent.fill(66, 0, 50000);  // another's by now
  sealer.add(lent.subarray(0, 50000));
  const file = await (await sealer.after(bytes('start;'))).text();
  const open = async (changed = (lines) => lines, passcode = 'four words of chalk') => {
    const blob = new Blob([changed(file.split('\n')).join('\n')]);
    const pieces = [];
    const opened = await openParts(blob, passcode);
    for await (const piece of opened.pieces()) pieces.push(text(piece));
    return { whole: pieces.join(''), pieces: pieces.length, size: opened.size };
  };
  return { file, open, first: file.split('\n').indexOf(' "boxes": [') + 1 };
}

test('a file in boxes opens with its start first, by the passcode alone', async () => {
  const { file, open } = await inParts();
  assert.ok(isInParts(file) && !isInParts('{"format":"tallyround-sealed","version":1'));
  const opened = await open();
  assert.equal(opened.whole, `start;${'A'.repeat(100000)}${'B'.repeat(50000)}`);
  assert.equal(opened.pieces, 4);
  assert.ok(Math.abs(opened.size - 150006) < 400, `${opened.size}`);
  await assert.rejects(open(undefined, 'four words of chalk '), WrongPasscode);
});

test('a file in boxes is JSON that Node opens with the passcode alone', async () => {
  const { kdf, key, parts, boxes } = JSON.parse((await inParts()).file);
  const base64 = (name) => Buffer.from(name, 'base64');
  const kek = pbkdf2Sync('four words of chalk', base64(kdf.salt), kdf.rounds, 32, 'sha256');
  const data = openWithNode(kek, 'file key', base64(key));
  assert.deepEqual([parts, boxes.length], [3, 4]);
  const [start, ...rest] = boxes.map(base64);
  assert.equal(openWithNode(data, 'file start before 3 parts', start).toString(), 'start;');
  assert.equal(rest.map((box, i) => openWithNode(data, `file part ${i + 1}`, box)).join(''),
    `${'A'.repeat(100000)}${'B'.repeat(50000)}`);
});

test('boxes that were left out, moved, added, cut or changed are found', async () => {
  const { open, first } = await inParts();
  const line = (at) => first + at;
  const without = (at) => (lines) => lines.filter((_, i) => i !== line(at));
  const put = (at, change) => (lines) => lines.with(line(at), change(lines[line(at)]));
  for (const at of [0, 1, 2, 3]) {
    await assert.rejects(open(without(at)), /damaged/, `without ${at}`);
    await assert.rejects(open(put(at, (box) => box.replace(/[A-Z]/, (c) => c.toLowerCase()))),
      /damaged/, `changed ${at}`);
  }
  const fewer = (lines) => lines.map((one) => one.replace('"parts": 3', '"parts": 2'));
  await assert.rejects(open((lines) => without(3)(fewer(lines))), /damaged/);
  await assert.rejects(open((lines) => lines.toSpliced(line(2), 0, lines[line(2)])), /damaged/);
  await assert.rejects(open((lines) => lines.with(line(1), lines[line(2)])
    .with(line(2), lines[line(1)])), /damaged/);
  await assert.rejects(open((lines) => lines.slice(0, line(2))), /cut short/);
  await assert.rejects(open((lines) => lines.slice(0, 3)), /cut short/);
  await assert.rejects(open((lines) => lines.map((one) => one.replace('"version": 2',
    '"version": 3'))), /newer version/);
});
