// @ts-check
/** Codes where files are sealed with a passcode: asked first, and as many as open ones. */
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';

import { carryCodes, standInCamera } from './camera.mjs';
import { openLab } from './harness.mjs';
import { CODE, setPasscode } from './passcode.mjs';

/** @type {import('./harness.mjs').Lab} */
let lab;
before(async () => { lab = await openLab(); });
after(() => lab.close());

test('under a passcode: asked before anything is shown; sealed codes open with it alone',
  async () => {
    const to = await lab.open({ width: 390, height: 844, before: standInCamera });
    await to.tap('button', 'Settings and files');
    const from = await lab.open();
    await from.tap('button', /demo class/);
    await setPasscode(from);
    await from.reload();
    await from.type('Passcode', CODE);
    await from.tap('button', 'Open');
    await from.tap('button', 'Settings and files');
    await from.tap('button', 'Show as codes');
    const dialog = from.page.getByRole('dialog', { name: 'Sealed or open?' });
    await dialog.waitFor();
    assert.equal(await from.page.locator('dialog canvas').count(), 0);
    assert.deepEqual(await from.axe(), []);
    await dialog.getByRole('button', { name: 'Sealed codes' }).click();
    const told = await from.page.getByText(/\d+ codes, \d+ seconds at best/).innerText();
    // 32 open ones: packed before it is sealed, for nothing packs afterwards.
    assert.ok(Number(/(\d+) codes/.exec(told)?.[1]) < 50, told);
    await carryCodes(from, to);
    await to.see('heading', 'This file is sealed');
    await to.type('Passcode of the file', CODE);
    await to.tap('button', 'Open the file');
    await to.see('button', /^Back to /);
    await from.page.locator('dialog button').click();
    await from.tap('button', 'Show as codes');
    await dialog.getByRole('button', { name: 'Open codes' }).click();
    await from.page.getByText(/Whoever films it has the plan/).waitFor();
    await from.page.close();
    await to.page.close();
  });
