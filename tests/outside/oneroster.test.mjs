// OneRoster zips made by a zip library that is not ours (Python's zipfile over zlib) come in as
// class lists; what is broken or meant to do harm is refused with file, row and column.
import assert from 'node:assert/strict';
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { after, test } from 'node:test';
import { fileURLToPath } from 'node:url';

const ROOT = join(dirname(fileURLToPath(import.meta.url)), '../..');
const PROGRAM = process.env.TALLYROUND_PROGRAM ?? join(ROOT, 'build/native/tallyround');
const folder = mkdtempSync(join(tmpdir(), 'tallyround-school-'));
after(() => rmSync(folder, { recursive: true }));

const MAKE = `
import json, sys, zipfile
files, method, level = json.load(sys.stdin)
with zipfile.ZipFile(sys.argv[1], "w", getattr(zipfile, method), compresslevel=level) as z:
    for name, text in files.items():
        z.writestr(name, text if isinstance(text, str) else b"\\0" * text)
`;

let made = 0;
/** @param {Record<string, string|number>} files a number: so many zero bytes */
function zip(files, method = 'ZIP_DEFLATED', level = 6) {
  made += 1;
  const file = join(folder, `school-${made}.zip`);
  execFileSync('python3', ['-c', MAKE, file], { input: JSON.stringify([files, method, level]) });
  return file;
}
/** @param {string[]} args */
function roster(...args) {
  const { status, stdout, stderr } = spawnSync(PROGRAM, ['roster', ...args], { encoding: 'utf8' });
  return { status, stderr, json: stdout ? JSON.parse(stdout) : null };
}

const USERS = 'sourcedId,status,dateLastModified,enabledUser,orgSourcedIds,role,username,userIds,'
  + 'givenName,familyName,middleName,identifier,email,sms,phone,agentSourcedIds,grades,password';
const user = (id, role, given, family, status = '') =>
  `${id},${status},,true,o1,${role},${id},,${given},${family},,,,,,,06,`;
const V11 = {
  'manifest.csv': 'propertyName,value\nmanifest.version,1.0\noneroster.version,1.1\n',
  'users.csv': `${[USERS, user('u1', 'student', 'Ada', 'Quill'),
    user('u2', 'student', 'Bo', 'Fern'), user('u3', 'teacher', 'Tess', 'Moor'),
    user('u4', 'student', 'Cy', '"Moss, Jr."'),
    user('u5', 'student', 'Gone', 'Away', 'tobedeleted')].join('\r\n')}\r\n`,
  'classes.csv': 'sourcedId,status,dateLastModified,title,grades,courseSourcedId,classCode,'
    + 'classType,location,schoolSourcedId,termSourcedIds,subjects,subjectCodes,periods\r\n'
    + 'c1,,,Maths 6B,06,k1,,scheduled,,o1,t1,,,\r\nc2,,,Maths 7A,07,k1,,scheduled,,o1,t1,,,\r\n'
    + 'c3,,,Empty,07,k1,,scheduled,,o1,t1,,,\r\n',
  'enrollments.csv': 'sourcedId,status,dateLastModified,classSourcedId,schoolSourcedId,'
    + 'userSourcedId,role,primary,beginDate,endDate\r\n'
    + 'e1,,,c1,o1,u1,student,,,\r\ne2,,,c1,o1,u2,student,,,\r\ne3,,,c1,o1,u3,teacher,,,\r\n'
    + 'e4,,,c2,o1,u4,student,,,\r\ne5,tobedeleted,,c2,o1,u1,student,,,\r\n'
    + 'e6,,,c2,o1,nobody,student,,,\r\n',
};
const names = ({ json }) => json.students.map(({ name }) => name);

test('1.1: several classes are told, one is chosen; packed in every way', () => {
  for (const [method, level] of [['ZIP_STORED', 0], ['ZIP_DEFLATED', 1], ['ZIP_DEFLATED', 9]]) {
    const file = zip(V11, method, level);
    const all = roster(file);
    assert.equal(all.status, 3);
    assert.deepEqual(all.json.classes, [{ id: 'c1', title: 'Maths 6B', students: 2 },
      { id: 'c2', title: 'Maths 7A', students: 1 }]);
    assert.match(all.stderr, /--class/);
    const one = roster(file, '--class', 'c1');
    assert.equal(one.status, 0, one.stderr);
    assert.deepEqual(names(one), ['Ada Quill', 'Bo Fern']);
    assert.deepEqual(one.json.students.map(({ source_id: id }) => id), ['u1', 'u2']);
    assert.equal(one.json.format, 'oneroster-users');
    assert.ok(one.json.warnings.some(({ message }) => message.includes('enrollments.csv, row 7')));
  }
  assert.equal(roster(zip(V11), '--class', 'c9').status, 3);
});

test('1.2: roles stand in roles.csv', () => {
  const users = V11['users.csv'].split('\r\n').map((line) => {
    const cells = line.split(',');
    cells.splice(5, 1);
    return cells.join(',');
  }).join('\r\n');
  const roles = 'sourcedId,status,dateLastModified,userSourcedId,roleType,role,beginDate,endDate,'
    + 'orgSourcedId,userProfileSourcedId\r\nr1,,,u1,primary,student,,,o1,\r\n'
    + 'r2,,,u2,primary,aide,,,o1,\r\nr3,,,u4,primary,aide,,,o1,\r\n'
    + 'r4,,,u4,secondary,student,,,o1,\r\n';
  const file = zip({ ...V11, 'users.csv': users, 'roles.csv': roles });
  assert.equal(roster(file).json.version, '1.2');
  assert.deepEqual(names(roster(file, '--class', 'c1')), ['Ada Quill']);
  assert.equal(roster(file, '--class', 'c2').json.students.length, 1);
});

test('a fault is told with file, row and column', () => {
  const faults = [
    [{ 'classes.csv': undefined }, /classes\.csv/],
    [{ 'users.csv': V11['users.csv'].replace('givenName', 'given') },
      /users\.csv, row 1.*givenName/],
    [{ 'users.csv': V11['users.csv'].replace('\r\nu2,', '\r\nu1,') },
      /users\.csv, row 3, sourcedId.*row 2/],
    [{ 'users.csv': V11['users.csv'].replace('"Moss, Jr."', '"Moss') }, /users\.csv, row 5/],
    [{ 'enrollments.csv': V11['enrollments.csv'].split('\r\n')[0] }, /enrollments\.csv/],
  ];
  for (const [change, message] of faults) {
    const { status, stderr, json } = roster(zip(JSON.parse(JSON.stringify({ ...V11, ...change }))));
    assert.equal(status, 4, stderr);
    assert.equal(json, null);
    assert.match(stderr, message);
  }
});

test('a small list of four hundred is the most; a whole school in one zip is read', () => {
  const many = Array.from({ length: 3000 },
    (_, i) => user(`u${i}`, 'student', `Given${i}`, 'Name'));
  const rows = many.map((_, i) => `e${i},,,c${(i % 100) + 1},o1,u${i},student,,,`);
  const classes = Array.from({ length: 100 }, (_, i) => `c${i + 1},,,Class ${i + 1},06,,,,,,,,,`);
  const head = (name) => V11[name].split('\r\n')[0];
  const file = zip({ 'users.csv': [head('users.csv'), ...many].join('\n'),
    'classes.csv': [head('classes.csv'), ...classes].join('\n'),
    'enrollments.csv': [head('enrollments.csv'), ...rows].join('\n') });
  assert.equal(roster(file).json.classes.length, 100);
  assert.equal(roster(file, '--class', 'c7').json.students.length, 30);
});

test('bombs, cut-off files and paths in names do no harm', () => {
  const cases = [[zip({ ...V11, 'bomb.csv': 100e6 }), /bomb\.csv.*32 MB/],
    [zip({ ...V11, 'users.csv': 20e6 }), /users\.csv.*200 to 1/],
    [zip({ ...V11, ...Object.fromEntries(Array.from({ length: 1200 }, (_, i) => [`f${i}`, ''])) }),
      /1000|1,000/]];
  const whole = readFileSync(zip(V11));
  for (const share of [0.1, 0.5, 0.9, 0.999]) {
    const cut = join(folder, `cut-${share}.zip`);
    writeFileSync(cut, whole.subarray(0, Math.floor(whole.length * share)));
    cases.push([cut, /damaged or not whole/]);
  }
  for (const [file, message] of cases) {
    const { status, stderr, json } = roster(file);
    assert.equal(status, 4, stderr);
    assert.equal(json, null);
    assert.match(stderr, message);
  }
  const paths = Object.fromEntries(Object.entries(V11)
    .map(([name, text]) => [`../../${name}`, text]));
  assert.deepEqual(names(roster(zip(paths), '--class', 'c1')), ['Ada Quill', 'Bo Fern']);
});
