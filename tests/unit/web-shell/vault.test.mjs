// The vault against Node's own crypto (OpenSSL, another implementation than the browser's) and
// against published vectors.
import assert from 'node:assert/strict';
import { pbkdf2Sync } from 'node:crypto';
import { test } from 'node:test';

import {
  BrokenSeal, ROUNDS, Vault, WrongPasscode, dataKey, decrypt, encrypt, passcodeKey, seal, unseal,
} from '../../../web-shell/js/vault.mjs';
import { bytes, hex, openWithNode, sealWithNode, text } from './seals.mjs';

test('PBKDF2-HMAC-SHA-256 gives the vectors of RFC 7914, section 11', async () => {
  // The first 32 of the 64 bytes there: the blocks of PBKDF2 do not depend on each other.
  const vectors = [
    ['passwd', 'salt', 1, '55ac046e56e3089fec1691c22544b605f94185216dde0465e68b9d57c20dacbc'],
    ['Password', 'NaCl', 80000, '4ddcd8f60b98be21830cee5ef22701f9641a4418d04c0414aeff08876b34ab56'],
  ];
  for (const [passcode, salt, rounds, expected] of vectors) {
    const key = await passcodeKey(passcode, bytes(salt), rounds);
    // The key cannot be taken out, so what it seals is opened with the vector.
    const sealed = await seal(key, 'vector', bytes('inside'));
    assert.equal(text(openWithNode(hex(expected), 'vector', sealed)), 'inside');
  }
});

test('AES-256-GCM: cases 13, 14 and 16 of McGrew and Viega’s submission to NIST', async () => {
  const zeros = '00'.repeat(32);
  const long = 'feffe9928665731c6d6a8f9467308308'.repeat(2);
  const cases = [
    [zeros, '00'.repeat(12), '', '', '530f8afbc74536b9a963b4f1c4cb738b'],
    [zeros, '00'.repeat(12), '', '00'.repeat(16),
      'cea7403d4d606b6e074ec5d3baf39d18 d0d1c8a799996bf0265b98b5d48ab919'],
    [long, 'cafebabefacedbaddecaf888', 'feedfacedeadbeeffeedfacedeadbeefabaddad2',
      `d9313225f88406e5a55909c5aff5269a86a7a9531534f7da2e4c303d8a318a72
       1c3c0c95956809532fcf0e2449a6b525b16aedf5aa0de657ba637b39`,
      `522dc1f099567d07f47f37a32a84427d643a8cdcbfe5c0c97598a2bd2555d1aa
       8cb08e48590dbb3da7b08b1056828838c5f61e6393ba7a0abcc9f662
       76fc6ece0f4e1768cddf8853bb2d551b`],
  ];
  for (const [key, nonce, additional, plain, expected] of cases) {
    const raw = await dataKey(hex(key));
    const box = await encrypt(raw, hex(nonce), hex(additional), hex(plain));
    assert.deepEqual(box, hex(expected));
    assert.deepEqual(await decrypt(raw, hex(nonce), hex(additional), box), hex(plain));
  }
});

test('Node opens what the vault seals and the vault opens what Node seals', async () => {
  const vault = await Vault.make('four words of chalk');
  assert.ok(vault.lock.rounds >= 600000 && ROUNDS >= 600000);
  const kek = pbkdf2Sync('four words of chalk', vault.lock.salt, vault.lock.rounds, 32, 'sha256');
  const key = openWithNode(kek, 'key', vault.lock.key);
  assert.equal(key.length, 32);
  const sealed = await vault.sealText('record 7', 'Wren: secure');
  assert.equal(openWithNode(key, 'record 7', sealed).toString(), 'Wren: secure');
  const theirs = sealWithNode(key, 'record 8', bytes('Zoë: shaky'));
  assert.equal(await vault.unsealText('record 8', new Uint8Array(theirs)), 'Zoë: shaky');
});

test('two seals of the same never look alike: a fresh nonce each', async () => {
  const key = await dataKey(hex('11'.repeat(32)));
  const seen = new Set();
  for (let i = 0; i < 2000; i++) {
    const sealed = await seal(key, 'record 1', bytes('same'));
    seen.add(Buffer.from(sealed.subarray(1, 13)).toString('hex'));
  }
  assert.equal(seen.size, 2000);
});

test('every changed bit, a cut and another place are found', async () => {
  const key = await dataKey(hex('22'.repeat(32)));
  const sealed = await seal(key, 'record 5', bytes('Wren'));
  for (let bit = 0; bit < 8 * sealed.length; bit++) {
    const changed = sealed.slice();
    changed[bit >> 3] ^= 1 << (bit & 7);
    await assert.rejects(unseal(key, 'record 5', changed), BrokenSeal, `bit ${bit}`);
  }
  for (let length = 0; length < sealed.length; length++) {
    await assert.rejects(unseal(key, 'record 5', sealed.slice(0, length)), BrokenSeal);
  }
  await assert.rejects(unseal(key, 'record 6', sealed), /record 6 is damaged or was changed/);
  assert.equal(text(await unseal(key, 'record 5', sealed)), 'Wren');
});

test('a changed passcode keeps the key: what was sealed before opens', async () => {
  const vault = await Vault.make('old passcode');
  const sealed = await vault.sealText('record 1', 'Wren');
  const changed = await vault.changed('old passcode', 'new passcode');
  assert.equal(await changed.unsealText('record 1', sealed), 'Wren');
  const later = new Vault();
  later.hold(changed.lock);
  assert.equal(later.locked, true);
  await assert.rejects(later.open('old passcode'), WrongPasscode);
  assert.equal(later.locked, true);
  await later.open('new passcode');
  assert.equal(await later.unsealText('record 1', sealed), 'Wren');
  await assert.rejects(vault.changed('guess', 'mine now'), WrongPasscode);
});

test('letters typed composed or decomposed are the same passcode', async () => {
  const vault = await Vault.make('Zoë zeichnet');
  assert.equal(await vault.fits('Zoe\u0308 zeichnet'), true);
  assert.equal(await vault.fits('Zoe zeichnet'), false);
});
