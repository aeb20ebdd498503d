// Which of a system's archive entries the set-up looks at, on systems set up in different ways.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { test } from 'node:test';
import { fileURLToPath } from 'node:url';

const LIBRARY = join(dirname(fileURLToPath(import.meta.url)), '../../../web-shell/apt-view.sh');

/** The stanzas found in a folder like /etc/apt with these files, in the order they are tried. */
function stanzasFor(files) {
  const folder = mkdtempSync(join(tmpdir(), 'tallyround-apt-'));
  try {
    for (const [name, text] of Object.entries(files)) {
      mkdirSync(dirname(join(folder, name)), { recursive: true });
      writeFileSync(join(folder, name), text);
    }
    mkdirSync(join(folder, 'ranked'));
    execFileSync('bash', ['-euo', 'pipefail', '-c',
      '. "$1"; own_sources "$2" "bookworm|stable" | rank_sources "$2/ranked"',
      'bash', LIBRARY, folder]);
    return readdirSync(join(folder, 'ranked')).sort()
      .map((name) => readFileSync(join(folder, 'ranked', name), 'utf8').trim());
  } finally {
    rmSync(folder, { recursive: true });
  }
}

const OWN = 'Types: deb\nURIs: http://mirror.example/debian\nSuites: bookworm bookworm-updates\n' +
  'Components: main\nSigned-By: /usr/share/keyrings/debian-archive-keyring.gpg';

test('a stanza of this release is taken, security and other releases are not', () => {
  const security = OWN.replace('bookworm bookworm-updates', 'bookworm-security');
  const text = `${security}\n\n${OWN}\n\n${OWN.replace('bookworm ', 'trixie ')}\n`;
  assert.deepEqual(stanzasFor({ 'sources.list.d/debian.sources': text }), [OWN]);
});

test('entries of other vendors are left out or come last', () => {
  const docker = 'Types: deb\nURIs: http://a.example/linux\nSuites: bookworm\nComponents: stable';
  const disabled = `Enabled: no\n${OWN}`;
  const vendor = 'Types: deb\nURIs: http://vendor.example/apt\nSuites: bookworm\nComponents: main';
  assert.deepEqual(stanzasFor({
    'sources.list.d/a.sources': `${docker}\n\n${vendor}\n`,
    'sources.list.d/b.sources': `${disabled}\n`,
    'sources.list.d/debian.sources': OWN,
  }), [OWN, vendor]);
});

test('one-line entries keep their key; comments and source entries are passed over', () => {
  const list = '# deb http://old.example/debian bookworm main\n' +
    'deb-src http://mirror.example/debian bookworm main\n' +
    'deb [ arch=amd64 signed-by=/k.gpg ] http://mirror.example/debian bookworm contrib main\n' +
    'deb http://mirror.example/debian bookworm-updates main\n' +
    'deb http://second.example/debian/\tbookworm main non-free\n' +
    'deb http://third.example/debian bookworm maintenance\n';
  const wanted = (address, key) => `Types: deb\nURIs: ${address}\nSuites: bookworm|stable\n` +
    `Components: main${key}`;
  assert.deepEqual(stanzasFor({ 'sources.list': list }), [
    wanted('http://mirror.example/debian', '\nSigned-By: /k.gpg'),
    wanted('http://second.example/debian/', ''),
  ]);
});
