// @ts-check
/**
 * What the browser tests stand on: the built site behind a server of its own, one of Debian's
 * browsers (engines/), and hands that find things by role and name and touch them on the real path:
 * touch events sent to the browser, through the page's pointer events, to the app.
 *
 *   const lab = await openLab();
 *   const app = await lab.open({ width: 390, height: 844 });
 *   await app.tap('button', 'Start the lesson');
 *   await app.type('Name', 'Ada');
 *   await app.see('heading', 'Round 1');
 *   await lab.close();
 *
 * TALLYROUND_SITE names the site's folder (default build/wasm/site), TALLYROUND_ENGINE the browser:
 * chromium, which is usual, firefox or webkit.
 */
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

import { serveFolder } from '../../web-shell/static-server.mjs';
import { can, newBrowser } from './engines/choose.mjs';
import { Hands } from './hands.mjs';

const REPO = join(dirname(fileURLToPath(import.meta.url)), '../..');
export const SITE = process.env.TALLYROUND_SITE ?? join(REPO, 'build/wasm/site');

/** The three sizes that every screen is looked at in: phone, tablet upright, tablet lying. */
export const SIZES = { phone: [390, 844], upright: [768, 1024], lying: [1024, 768] };

/** A time zone in which it is about four in the morning: a lesson that a test starts is never late,
 *  which would be asked about. */
function earlyZone() {
  const ahead = (4 - new Date().getUTCHours() + 36) % 24 - 12;
  return `Etc/GMT${ahead > 0 ? '-' : '+'}${Math.abs(ahead)}`; // POSIX counts to the west
}

/**
 * @param {object} [options]
 * @param {string} [options.zone] the browser's time zone; another with a clock of one's own
 * @param {string} [options.site] folder to serve
 * @param {string} [options.profile] folder that keeps the browser's data from start to start; with
 *   it the whole browser has one window
 * @param {number} [options.port] of the server, to come back to the same address
 */
export async function openLab({ site = SITE, profile, port = 0, zone = earlyZone() } = {}) {
  process.env.TZ = zone; // every engine that is started from here has it from here
  const lab = new Lab(site, profile);
  await lab.serve(port);
  return lab;
}

/** A folder of one's own for a browser's data; removed by `lab.close`. */
export function newProfile() {
  return mkdtempSync(join(tmpdir(), 'tallyround-profile-'));
}

/** @typedef {import('node:http').Server} Server */

/**
 * Lets `answer` have each request before the server's own way; it says whether it answered.
 * @param {Server} server
 * @param {(url: string, response: import('node:http').ServerResponse) => boolean} answer
 */
function answerFirst(server, answer) {
  const [plain] = server.listeners('request');
  server.removeListener('request', /** @type {any} */ (plain));
  server.on('request', (request, response) => {
    if (!answer(String(request.url), response)) plain.call(server, request, response);
  });
}

/** @param {import('node:http').ServerResponse} response @param {string|Buffer} script */
function sendScript(response, script) {
  response.writeHead(200, { 'Content-Type': 'text/javascript' }).end(script);
  return true;
}

/**
 * Serves the app's modules one by one, too, where the site has packed them into another.
 * @param {Server} server @param {string} site
 */
function putModules(server, site) {
  answerFirst(server, (url, response) => {
    const name = /^\/js\/([\w-]+\.mjs)$/.exec(url)?.[1] ?? '';
    const source = join(REPO, 'web-shell/js', name);
    if (!name || existsSync(join(site, 'js', name)) || !existsSync(source)) return false;
    return sendScript(response, readFileSync(source));
  });
}

/**
 * Serves the page with a script of the test's before its own.
 * @param {Server} server @param {string} site @param {() => string} script
 */
function putBefore(server, site, script) {
  answerFirst(server, (url, response) => {
    if (url === '/before-the-page.js') return sendScript(response, script());
    const isPage = /^[^?]*\/(\?.*)?$/.test(url);
    // The service worker would answer the next load with the page as it was built.
    const isWorker = /\/sw\.js$/.test(url);
    if (!script() || !(isPage || isWorker)) return false;
    if (isWorker) {
      response.writeHead(404).end();
    } else {
      const page = readFileSync(join(site, 'index.html'), 'utf8');
      response.writeHead(200, { 'Content-Type': 'text/html; charset=utf-8' })
        .end(page.replace('<head>', '<head><script src="/before-the-page.js"></script>'));
    }
    return true;
  });
}

export class Lab {
  #site;
  #profile;
  /** @type {Server|null} */
  #server = null;
  /** @type {Awaited<ReturnType<typeof newBrowser>>|null} */
  #browser = null;
  /** @type {any} the window's, with a profile */
  #kept = null;
  /** What runs before the page's own scripts, where the browser's driver cannot see to that. */
  #before = '';
  port = 0;
  /** Addresses that any page asked for. @type {string[]} */
  requests = [];
  /** Paths that reached the server. @type {string[]} */
  served = [];

  /** @param {string} site @param {string} [profile] */
  constructor(site, profile) {
    this.#site = site;
    this.#profile = profile;
  }

  get address() {
    return `http://127.0.0.1:${this.port}/`;
  }

  /** Starts the server, or starts it again at its address. @param {number} [port] */
  async serve(port = this.port) {
    this.#server = await serveFolder(this.#site, { port });
    putModules(this.#server, this.#site);
    this.#server.on('request', ({ url }) => this.served.push(String(url)));
    if (!can('preload')) putBefore(this.#server, this.#site, () => this.#before);
    const where = this.#server.address();
    this.port = typeof where === 'object' && where ? where.port : 0;
  }

  /** Kills the server: nobody answers at its address any more. */
  async stopServer() {
    const server = this.#server;
    this.#server = null;
    if (!server) return;
    server.closeAllConnections();
    await new Promise((done) => { server.close(done); });
  }

  /**
   * Opens the app in a window of its own and waits for its first frame.
   * @param {object} [options]
   * @param {number} [options.width] @param {number} [options.height]
   * @param {number} [options.scale] device pixels a CSS pixel
   * @param {boolean} [options.touch]
   * @param {'light'|'dark'} [options.colors]
   * @param {'more'|'no-preference'} [options.contrast]
   * @param {string} [options.path] in the site, with search
   * @param {string|(() => void)} [options.before] script that runs before the page's own
   * @param {boolean} [options.ready] false: do not wait for the first frame
   */
  async open(options = {}) {
    const context = await this.#context(options);
    const app = await this.#adopt(await context.newPage(), options);
    await app.go(options.path ?? '', options.ready ?? true);
    return app;
  }

  /** A further tab beside another one's.
   *  @param {Hands} beside
   *  @param {{ready?: boolean, path?: string, before?: string|(() => void)}} [options] */
  async tab(beside, options = {}) {
    const app = await this.#adopt(await beside.page.context().newPage(), options);
    await app.go(options.path ?? '', options.ready ?? true);
    return app;
  }

  /** @param {any} options */
  async #context({ width = 1024, height = 768, scale = 1, touch = true, colors = 'light',
    contrast = 'no-preference' }) {
    if (!this.#browser) {
      this.#browser = await newBrowser(this.#profile, (url) => this.requests.push(url));
      await this.#browser.start();
    }
    if (this.#profile && this.#kept) return this.#kept;
    this.#kept = await this.#browser.newContext({ width, height, scale, touch, colors, contrast });
    return this.#kept;
  }

  /** @param {import('playwright-core').Page} page @param {any} options */
  async #adopt(page, options) {
    const { before } = options;
    this.#before = typeof before === 'function' ? `(${before})()` : before ?? '';
    const app = new Hands(page, this.address);
    await app.prepare(options.before);
    return app;
  }

  /** Ends the browser as a crash or an empty battery would: at once, with no goodbye. */
  async killBrowser() {
    if (!this.#profile) throw new Error('only a browser with a profile can be killed');
    await this.closeBrowser('SIGKILL');
  }

  /** Closes the browser in the ordinary way; the next `open` starts it again.
   *  @param {'SIGTERM'|'SIGKILL'} [signal] */
  async closeBrowser(signal) {
    const browser = this.#browser;
    this.#browser = null;
    this.#kept = null;
    await browser?.end(signal);
  }

  async close() {
    await this.closeBrowser();
    await this.stopServer();
    if (this.#profile) rmSync(this.#profile, { recursive: true, force: true });
  }

  /** Addresses asked for that are not this site's. */
  get foreign() {
    if (!can('requests')) throw new Error('this engine does not tell what was asked for');
    return this.requests.filter((url) => !url.startsWith(this.address) &&
      !url.startsWith('blob:') && !url.startsWith('data:'));
  }
}
