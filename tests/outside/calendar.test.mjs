// The calendar of the demo class, read by an independent RFC 5545 parser (npm ical.js).
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { test } from 'node:test';
import { fileURLToPath } from 'node:url';

import ICAL from 'ical.js';

const ROOT = join(dirname(fileURLToPath(import.meta.url)), '../..');
const PROGRAM = process.env.TALLYROUND_PROGRAM ?? join(ROOT, 'build/native/tallyround');

function demoCalendar() {
  const folder = mkdtempSync(join(tmpdir(), 'calendar-'));
  try {
    const file = join(folder, 'demo.json');
    execFileSync(PROGRAM, ['demo', '-o', file, '--date', '2026-12-01']);
    return execFileSync(PROGRAM, ['export', file, '--calendar']);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

const bytes = demoCalendar();

test('lines end in CRLF and have at most 75 octets (RFC 5545, 3.1)', () => {
  const text = bytes.toString('latin1');
  assert.ok(text.endsWith('\r\n'));
  for (const line of text.slice(0, -2).split('\r\n')) {
    assert.ok(!/[\r\n]/.test(line), line);
    assert.ok(line.length <= 75, line);
  }
});

test('another parser finds a round of the demo class in every event', () => {
  const calendar = new ICAL.Component(ICAL.parse(bytes.toString('utf8')));
  assert.equal(calendar.name, 'vcalendar');
  assert.equal(calendar.getFirstPropertyValue('version'), '2.0');
  assert.ok(calendar.getFirstPropertyValue('prodid'));
  const events = calendar.getAllSubcomponents('vevent');
  assert.ok(events.length > 0);
  const uids = new Set();
  let last = 0;
  for (const component of events) {
    for (const once of ['uid', 'dtstamp', 'dtstart']) {
      assert.equal(component.getAllProperties(once).length, 1, once);
    }
    const event = new ICAL.Event(component);
    uids.add(event.uid);
    assert.ok(event.summary.length > 0);
    const start = event.startDate.toJSDate();
    const minutes = (event.endDate.toJSDate() - start) / 60_000;
    assert.ok(minutes > 0 && minutes < 180, `${event.summary}: ${minutes} minutes`);
    assert.ok(start >= last, 'rounds come in order');
    last = start;
  }
  assert.equal(uids.size, events.length, 'every event has a UID of its own');
});
