// @ts-check
/** Nothing leaves, nothing foreign runs. */
import assert from 'node:assert/strict';
import { after, before, test } from 'node:test';

import { CSP } from '../../web-shell/csp.mjs';
import { needs } from './engines/choose.mjs';
import { openLab } from './harness.mjs';

/** @type {import('./harness.mjs').Lab} */
let lab;
before(async () => { lab = await openLab(); });
after(() => lab.close());

test('the page states the policy, and the server sends the same', async () => {
  const answer = await fetch(lab.address);
  assert.equal(answer.headers.get('content-security-policy'), CSP);
  assert.ok((await answer.text()).includes(`content="${CSP}"`));
});

test('a whole start asks only this site and breaks no rule', needs('requests'), async () => {
  const app = await lab.open();
  await app.page.evaluate(() => navigator.serviceWorker.ready);
  await app.reload();
  assert.deepEqual(lab.foreign, []);
  assert.deepEqual(await app.violations(), []);
  assert.deepEqual(app.complaints, []);
});

test('inline script, foreign script and foreign requests are refused', async () => {
  const app = await lab.open();
  const result = await app.page.evaluate(async () => {
    const inline = document.createElement('script');
    inline.textContent = 'globalThis.intruder = true';
    document.head.append(inline);
    const foreign = document.createElement('script');
    foreign.src = 'https://elsewhere.invalid/script.js';
    document.head.append(foreign);
    const refused = await fetch('https://elsewhere.invalid/').then(() => false, () => true);
    await new Promise((done) => { setTimeout(done, 100); });
    return { refused, ran: 'intruder' in globalThis };
  });
  assert.deepEqual(result, { refused: true, ran: false });
  // Page and server each state the policy, so each refusal is told twice.
  const refused = new Set((await app.violations()).map((violation) => violation.split(' ')[0]));
  assert.deepEqual([...refused], ['script-src-elem', 'connect-src']);
});
