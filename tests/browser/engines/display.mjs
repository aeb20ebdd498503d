// @ts-check
/** A screen that nobody sees, for browsers that draw only on one: Debian's Xvfb. */
import { spawn } from 'node:child_process';

/** @type {Promise<{name: string, stop: () => void}>|null} */
let running = null;

async function begin() {
  const server = spawn('Xvfb', ['-displayfd', '3', '-screen', '0', '2000x1400x24', '-nolisten',
    'tcp'], { stdio: ['ignore', 'ignore', 'ignore', 'pipe'] });
  const number = await new Promise((done, fail) => {
    server.once('error', fail);
    server.once('exit', () => fail(new Error('Xvfb ended')));
    server.stdio[3]?.once('data', (text) => done(String(text).trim()));
  });
  process.once('exit', () => server.kill());
  server.unref();
  /** @type {any} */ (server.stdio[3]).unref();
  return { name: `:${number}`, stop: () => server.kill() };
}

/** What a browser's environment needs to draw there, in software. */
export async function displayed() {
  running ??= begin();
  const { name } = await running;
  return { ...process.env, DISPLAY: name, GDK_BACKEND: 'x11', LIBGL_ALWAYS_SOFTWARE: '1',
    LANG: 'en_GB.UTF-8', TZ: 'Europe/London' };
}
