// File names: whatever is asked for, the file lies where the person puts it and shows what it is.
import assert from 'node:assert/strict';
import { test } from 'node:test';

import { plainName } from '../../../web-shell/js/files.mjs';

test('path tricks and hidden endings do not survive in a file name', () => {
  const cases = [
    ['tallyround-plan-2026-11-30.json', 'tallyround-plan-2026-11-30.json'],
    ['../../etc/passwd', '-..-etc-passwd'],
    ['..\\..\\windows\\system.ini', '-..-windows-system.ini'],
    ['C:\\plan.json', 'C--plan.json'],
    ['.htaccess', 'htaccess'],
    ['plan\u0000.json', 'plan.json'],
    ['plan\u202Enosj.exe', 'plannosj.exe'],
    ['Zoë 6b <b>.html', 'Zoë 6b -b-.html'],
    ['plan.json. ', 'plan.json'],
    ['...', 'tallyround'],
    ['', 'tallyround'],
  ];
  for (const [asked, given] of cases) assert.equal(plainName(asked), given);
  assert.ok(plainName(`${'x'.repeat(1000)}.json`).endsWith('.json'));
  assert.equal(plainName('x'.repeat(1000)).length, 120);
});
