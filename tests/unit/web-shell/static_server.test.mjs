// The file server: what it gives, with which headers, and what it must not give.
import assert from 'node:assert/strict';
import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { request } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, test } from 'node:test';

import { policyOf, serveFolder } from '../../../web-shell/static-server.mjs';

const POLICY = "default-src 'self'; img-src data:";
let folder;
let server;

before(async () => {
  folder = mkdtempSync(join(tmpdir(), 'tallyround-site-'));
  const site = join(folder, 'site');
  mkdirSync(join(site, 'inner'), { recursive: true });
  writeFileSync(join(site, 'index.html'),
    `<meta http-equiv="Content-Security-Policy" content="${POLICY}">start`);
  writeFileSync(join(site, 'app.wasm'), 'wasm');
  writeFileSync(join(site, 'app.mjs'), 'code');
  writeFileSync(join(folder, 'secret.txt'), 'secret');
  symlinkSync(join(folder, 'secret.txt'), join(site, 'link.txt'));
  server = await serveFolder(site, { port: 0 });
});

after(() => {
  server.close();
  rmSync(folder, { recursive: true });
});

/** Asks for a path as it is; fetch would tidy up ".." before sending. */
function ask(path, method = 'GET') {
  return new Promise((resolve, reject) => {
    request({ host: '127.0.0.1', port: server.address().port, path, method }, (response) => {
      let text = '';
      response.on('data', (part) => { text += part; });
      response.on('end', () => {
        resolve({ status: response.statusCode, headers: response.headers, text });
      });
    }).on('error', reject).end();
  });
}

test('files come with their type, the page’s policy and no lasting cache', async () => {
  const wasm = await ask('/app.wasm?v=1');
  assert.equal(wasm.status, 200);
  assert.equal(wasm.text, 'wasm');
  assert.equal(wasm.headers['content-type'], 'application/wasm');
  assert.equal(wasm.headers['content-security-policy'], POLICY);
  assert.equal(wasm.headers['cache-control'], 'no-cache');
  assert.match((await ask('/app.mjs')).headers['content-type'], /^text\/javascript/);
  assert.match((await ask('/')).text, /start$/);
});

test('nothing outside the folder is given', async () => {
  const paths = ['/../secret.txt', '/..%2fsecret.txt', '/inner/../../secret.txt', '/link.txt',
    '/%00', '/%', '/inner', '/inner/', '/nothing'];
  for (const path of paths) {
    const answer = await ask(path);
    assert.equal(answer.status, 404, path);
    assert.doesNotMatch(answer.text, /secret/);
  }
});

test('only reading is possible', async () => {
  assert.equal((await ask('/', 'POST')).status, 405);
  const head = await ask('/app.wasm', 'HEAD');
  assert.deepEqual([head.status, head.text, head.headers['content-length']], [200, '', '4']);
});

test('a page without a policy has none', () => {
  assert.equal(policyOf('<p>no policy</p>'), '');
});
