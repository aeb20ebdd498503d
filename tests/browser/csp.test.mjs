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
    // Trusted Types refuse the usual ways before the policy for scripts is asked.
    const typed = [
      () => { document.createElement('script').textContent = 'globalThis.intruder = true'; },
      () => { document.createElement('script').src = 'https://elsewhere.invalid/script.js'; },
      () => { document.createElement('p').innerHTML = '<img src=x onerror="intruder = true">'; },
      () => { document.write('<script>intruder = true</script>'); },
      () => new DOMParser().parseFromString('<p>x</p>', 'text/html'),
      () => /** @type {any} */ (globalThis).trustedTypes.createPolicy('mine', {}),
      () => /** @type {any} */ (globalThis).trustedTypes.createPolicy('tallyround', {}),
    ].map((attempt) => {
      try { attempt(); return 'went through'; } catch (error) { return error.name; }
    });
    // SVG's own scripts, too.
    const svg = (/** @type {Record<string, string>} */ attributes, text = '') => {
      const script = document.createElementNS('http://www.w3.org/2000/svg', 'script');
      for (const [name, value] of Object.entries(attributes)) script.setAttribute(name, value);
      script.append(text);
      document.body.append(script);
    };
    try { svg({}, 'globalThis.intruder = true'); } catch { /* refused sooner still */ }
    try { svg({ href: 'https://elsewhere.invalid/script.js' }); } catch { /* the same */ }
    const refused = await fetch('https://elsewhere.invalid/').then(() => false, () => true);
    await new Promise((done) => { setTimeout(done, 100); });
    return { typed, refused, ran: 'intruder' in globalThis };
  });
  assert.deepEqual(result,
    { typed: Array(7).fill('TypeError'), refused: true, ran: false });
  // Page and server each state the policy, so each refusal is told twice.
  const refused = new Set((await app.violations()).map((violation) => violation.split(' ')[0]));
  assert.deepEqual([...refused].sort(),
    ['connect-src', 'require-trusted-types-for', 'trusted-types']);
});
