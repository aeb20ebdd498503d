// @ts-check
/**
 * What the browser tests stand on: the built site behind a server of its own, Debian's Chromium,
 * and hands that find things by role and name and touch them on the real path: touch events sent
 * to the browser, through the page's pointer events, to the app.
 *
 *   const lab = await openLab();
 *   const app = await lab.open({ width: 390, height: 844 });
 *   await app.tap('button', 'Start the lesson');
 *   await app.type('Name', 'Ada');
 *   await app.see('heading', 'Round 1');
 *   await lab.close();
 *
 * TALLYROUND_SITE names the site's folder (default build/wasm/site), TALLYROUND_CHROMIUM the
 * browser (default /usr/bin/chromium).
 */
import { mkdtempSync, readFileSync, readlinkSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

import { chromium } from 'playwright-core';

import { serveFolder } from '../../web-shell/static-server.mjs';
import { Hands } from './hands.mjs';

const REPO = join(dirname(fileURLToPath(import.meta.url)), '../..');
export const SITE = process.env.TALLYROUND_SITE ?? join(REPO, 'build/wasm/site');
const CHROMIUM = process.env.TALLYROUND_CHROMIUM ?? '/usr/bin/chromium';

/** Software drawing, no traffic of the browser's own, and no way out of this machine. */
const FLAGS = ['--no-sandbox', '--use-gl=angle', '--use-angle=swiftshader',
  '--enable-unsafe-swiftshader', '--disable-quic', '--no-first-run',
  '--disable-background-networking', '--disable-component-update', '--disable-sync',
  '--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1'];

/** The three sizes that every screen is looked at in: phone, tablet upright, tablet lying. */
export const SIZES = { phone: [390, 844], upright: [768, 1024], lying: [1024, 768] };

/**
 * @param {object} [options]
 * @param {string} [options.site] folder to serve
 * @param {string} [options.profile] folder that keeps the browser's data from start to start; with
 *   it the whole browser has one window
 * @param {number} [options.port] of the server, to come back to the same address
 */
export async function openLab({ site = SITE, profile, port = 0 } = {}) {
  const lab = new Lab(site, profile);
  await lab.serve(port);
  return lab;
}

/** A folder of one's own for a browser's data; removed by `lab.close`. */
export function newProfile() {
  return mkdtempSync(join(tmpdir(), 'tallyround-profile-'));
}

/** A process and all that it started, at this moment. @param {number} pid @returns {number[]} */
function familyOf(pid) {
  const children = (/** @type {number} */ of) => {
    try {
      return readFileSync(`/proc/${of}/task/${of}/children`, 'utf8').split(' ').filter(Boolean);
    } catch {
      return [];
    }
  };
  return [pid, ...children(pid).flatMap((child) => familyOf(Number(child)))];
}

/** @typedef {import('node:http').Server} Server */

export class Lab {
  #site;
  #profile;
  /** @type {Server|null} */
  #server = null;
  /** @type {import('playwright-core').Browser|null} */
  #browser = null;
  /** @type {import('playwright-core').BrowserContext[]} */
  #contexts = [];
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
    this.#server.on('request', ({ url }) => this.served.push(String(url)));
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
   *  @param {{ready?: boolean, path?: string}} [options] */
  async tab(beside, options = {}) {
    const app = await this.#adopt(await beside.page.context().newPage(), {});
    await app.go(options.path ?? '', options.ready ?? true);
    return app;
  }

  /** @param {any} options */
  async #context({ width = 1024, height = 768, scale = 1, touch = true, colors = 'light',
    contrast = 'no-preference' }) {
    const window = {
      viewport: { width, height }, deviceScaleFactor: scale, hasTouch: touch, isMobile: touch,
      colorScheme: colors, contrast, acceptDownloads: true, locale: 'en-GB',
      timezoneId: 'Europe/London',
    };
    const launch = { executablePath: CHROMIUM, headless: true, args: FLAGS };
    let context;
    if (this.#profile) {
      context = this.#contexts[0] ??
        await chromium.launchPersistentContext(this.#profile, { ...launch, ...window });
    } else {
      this.#browser ??= await chromium.launch(launch);
      context = await this.#browser.newContext(window);
    }
    if (!this.#contexts.includes(context)) {
      this.#contexts.push(context);
      context.on('request', (request) => this.requests.push(request.url()));
    }
    return context;
  }

  /** @param {import('playwright-core').Page} page @param {any} options */
  async #adopt(page, options) {
    const app = new Hands(page, this.address);
    await app.prepare(options.before);
    return app;
  }

  /** Ends the browser as a crash or an empty battery would: at once, with no goodbye. */
  async killBrowser() {
    if (!this.#profile) throw new Error('only a browser with a profile can be killed');
    const [, pid] = /-(\d+)$/.exec(readlinkSync(join(this.#profile, 'SingletonLock'))) ?? [];
    const context = this.#contexts.pop();
    const gone = new Promise((done) => { context?.once('close', () => done(null)); });
    for (const one of familyOf(Number(pid))) process.kill(one, 'SIGKILL');
    await gone;
  }

  /** Closes the browser in the ordinary way; the next `open` starts it again. */
  async closeBrowser() {
    for (const context of this.#contexts.splice(0)) await context.close();
    await this.#browser?.close();
    this.#browser = null;
  }

  async close() {
    await this.closeBrowser();
    await this.stopServer();
    if (this.#profile) rmSync(this.#profile, { recursive: true, force: true });
  }

  /** Addresses asked for that are not this site's. */
  get foreign() {
    return this.requests.filter((url) => !url.startsWith(this.address) &&
      !url.startsWith('blob:') && !url.startsWith('data:'));
  }
}
