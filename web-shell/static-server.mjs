// A static file server for one folder: what `web-shell/serve` and the browser tests use. Any other
// web server does as well; the app needs no code on the server's side.
//
//   node static-server.mjs FOLDER [--port 8080] [--lan]
//
// --lan also listens for other machines of the network (default: this machine only).
import { createReadStream } from 'node:fs';
import { readFile, realpath, stat } from 'node:fs/promises';
import { createServer } from 'node:http';
import { networkInterfaces } from 'node:os';
import { extname, join, sep } from 'node:path';
import { fileURLToPath } from 'node:url';

const mediaTypes = {
  '.css': 'text/css; charset=utf-8',
  '.html': 'text/html; charset=utf-8',
  '.ico': 'image/x-icon',
  '.js': 'text/javascript; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.mjs': 'text/javascript; charset=utf-8',
  '.png': 'image/png',
  '.svg': 'image/svg+xml',
  '.ttf': 'font/ttf',
  '.txt': 'text/plain; charset=utf-8',
  '.wasm': 'application/wasm',
  '.webmanifest': 'application/manifest+json',
  '.woff2': 'font/woff2',
};

/// The Content-Security-Policy that a page states in its own <meta>, or "" if it states none. Sent
/// as a header too, it also covers what a <meta> cannot, such as framing.
export function policyOf(html) {
  const meta = /<meta\s[^>]*http-equiv=["']?Content-Security-Policy["']?[^>]*>/i.exec(html);
  const content = meta && /content="([^"]*)"/i.exec(meta[0]);
  if (!content) return '';
  return content[1].replaceAll('&#39;', "'").replaceAll('&quot;', '"').replaceAll('&amp;', '&');
}

/// The file under `root` (a real path) that the path of a URL names, or null: for a broken
/// encoding, for what does not exist and for whatever lies outside, through ".." or a link.
export async function fileFor(root, urlPath) {
  let path;
  try {
    path = decodeURIComponent(urlPath);
  } catch {
    return null;
  }
  if (path.includes('\0')) return null;
  try {
    const file = await realpath(join(root, path.endsWith('/') ? path + 'index.html' : path));
    return file.startsWith(root + sep) && (await stat(file)).isFile() ? file : null;
  } catch {
    return null;
  }
}

/// Serves `folder`; resolves to the listening http.Server. Port 0 takes a free one.
export async function serveFolder(folder, { port = 8080, host = '127.0.0.1' } = {}) {
  const root = await realpath(folder);
  const policy = policyOf(await readFile(join(root, 'index.html'), 'utf8').catch(() => ''));
  const server = createServer(async (request, response) => {
    response.setHeader('Cache-Control', 'no-cache');
    response.setHeader('X-Content-Type-Options', 'nosniff');
    if (policy) response.setHeader('Content-Security-Policy', policy);
    if (request.method !== 'GET' && request.method !== 'HEAD') {
      response.writeHead(405, { Allow: 'GET, HEAD' }).end();
      return;
    }
    const path = request.url.split(/[?#]/, 1)[0];
    const file = await fileFor(root, path);
    if (!file) {
      response.writeHead(404, { 'Content-Type': mediaTypes['.txt'] }).end('Not found\n');
      return;
    }
    response.writeHead(200, {
      'Content-Type': mediaTypes[extname(file)] ?? 'application/octet-stream',
      'Content-Length': (await stat(file)).size,
    });
    if (request.method === 'HEAD') response.end();
    else createReadStream(file).on('error', () => response.destroy()).pipe(response);
  });
  await new Promise((resolve, reject) => {
    server.once('error', reject);
    server.listen(port, host, resolve);
  });
  return server;
}

function ownAddresses() {
  return Object.values(networkInterfaces())
    .flat()
    .filter((one) => one.family === 'IPv4' && !one.internal)
    .map((one) => one.address);
}

function optionsFrom(words) {
  const options = { folder: '', port: 8080, lan: false };
  for (let i = 0; i < words.length; i++) {
    if (words[i] === '--lan') options.lan = true;
    else if (words[i] === '--port') options.port = Number(words[++i]);
    else if (!words[i].startsWith('-') && !options.folder) options.folder = words[i];
    else return null;
  }
  const { folder, port } = options;
  return folder && Number.isInteger(port) && port >= 0 && port < 65536 ? options : null;
}

async function main() {
  const options = optionsFrom(process.argv.slice(2));
  if (!options) {
    console.error('usage: node static-server.mjs FOLDER [--port 0-65535] [--lan]');
    process.exit(2);
  }
  const host = options.lan ? '0.0.0.0' : '127.0.0.1';
  let server;
  try {
    server = await serveFolder(options.folder, { port: options.port, host });
  } catch (error) {
    const reasons = {
      EADDRINUSE: `port ${options.port} is taken; choose another with --port`,
      EACCES: `port ${options.port} needs more rights; choose one above 1023 with --port`,
      ENOENT: `there is no folder ${options.folder}`,
    };
    console.error(`serve: ${reasons[error.code] ?? error.message}`);
    process.exit(1);
  }
  const { port } = server.address();
  console.log(`Tallyround is at http://127.0.0.1:${port}/  (stop with Ctrl+C)`);
  if (options.lan) {
    for (const address of ownAddresses()) {
      console.log(`  in this network: http://${address}:${port}/`);
    }
  }
  console.log(
    `To host it, put the files of ${options.folder} on any web server with HTTPS; on a tablet ` +
      "open that address once and choose “Add to Home Screen” in the browser's menu.",
  );
  for (const signal of ['SIGINT', 'SIGTERM']) process.on(signal, () => process.exit(0));
}

if (process.argv[1] === fileURLToPath(import.meta.url)) await main();
