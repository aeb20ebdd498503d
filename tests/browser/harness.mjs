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
import { mkdirSync, mkdtempSync, readFileSync, readlinkSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

import { chromium } from 'playwright-core';

import { serveFolder } from '../../web-shell/static-server.mjs';

const REPO = join(dirname(fileURLToPath(import.meta.url)), '../..');
export const SITE = process.env.TALLYROUND_SITE ?? join(REPO, 'build/wasm/site');
const CHROMIUM = process.env.TALLYROUND_CHROMIUM ?? '/usr/bin/chromium';
const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** Software drawing, no traffic of the browser's own, and no way out of this machine. */
const FLAGS = ['--no-sandbox', '--use-gl=angle', '--use-angle=swiftshader',
  '--enable-unsafe-swiftshader', '--disable-quic', '--no-first-run',
  '--disable-background-networking', '--disable-component-update', '--disable-sync',
  '--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1'];

/** The three sizes that every screen is looked at in: phone, tablet upright, tablet lying. */
export const SIZES = { phone: [390, 844], upright: [768, 1024], lying: [1024, 768] };

const PATIENCE_MS = 15000;

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

  /** A further tab beside another one's. @param {Hands} beside @param {{ready?: boolean}} [options] */
  async tab(beside, options = {}) {
    const app = await this.#adopt(await beside.page.context().newPage(), {});
    await app.go('', options.ready ?? true);
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
    process.kill(Number(pid), 'SIGKILL');
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

/** @typedef {Parameters<import('playwright-core').Page['getByRole']>[0]} Role */

/** One window with the app, and hands to use it. */
export class Hands {
  /** Errors and warnings that the page logged. @type {string[]} */
  complaints = [];
  /** @type {import('playwright-core').CDPSession} */
  devtools = /** @type {any} */ (null);

  /** @param {import('playwright-core').Page} page @param {string} address */
  constructor(page, address) {
    this.page = page;
    this.address = address;
  }

  /** @param {string|(() => void)} [before] */
  async prepare(before) {
    this.page.setDefaultTimeout(PATIENCE_MS);
    this.page.on('console', (message) => {
      if (['error', 'warning'].includes(message.type())) this.complaints.push(message.text());
    });
    this.page.on('pageerror', (error) => this.complaints.push(String(error)));
    await this.page.addInitScript(() => {
      Object.assign(globalThis, { violations: [] });
      document.addEventListener('securitypolicyviolation', ({ violatedDirective, blockedURI }) => {
        /** @type {any} */ (globalThis).violations.push(`${violatedDirective} ${blockedURI}`);
      });
    });
    if (before) await this.page.addInitScript(before);
    this.devtools = await this.page.context().newCDPSession(this.page);
  }

  /** @param {string} [path] @param {boolean} [ready] */
  async go(path = '', ready = true) {
    await this.page.goto(this.address + path);
    if (ready) await this.ready();
  }

  async reload() {
    await this.page.reload();
    await this.ready();
  }

  /** The first frame has been drawn. */
  async ready() {
    await this.page.waitForFunction(() => /** @type {any} */ (globalThis).tallyround?.ready);
    await this.settled();
  }

  /** Two frames' time without a frame drawn: what was under way is on screen. */
  async settled() {
    await this.page.evaluate(async () => {
      const frame = () => new Promise((done) => { requestAnimationFrame(done); });
      const drawn = () => /** @type {any} */ (globalThis).tallyround?.frames;
      for (let tries = 0; tries < 120; tries++) {
        const before = drawn();
        await frame();
        await frame();
        if (drawn() === before) return;
      }
    });
  }

  /** Frames drawn since the page was loaded. @returns {Promise<number>} */
  frames() {
    return this.page.evaluate(() => /** @type {any} */ (globalThis).tallyround.frames);
  }

  // Finding ------------------------------------------------------------------------------------

  /** @param {Role} role @param {string|RegExp} [name] a string is the whole name */
  find(role, name) {
    return this.page.locator('#stage, #plain').getByRole(role, { name, exact: true });
  }

  /** Waits until there is such an element and returns it. @param {Role} role
   *  @param {string|RegExp} [name] */
  async see(role, name) {
    const found = this.find(role, name);
    await found.first().waitFor({ state: 'attached' });
    return found.first();
  }

  /** Waits until there is none. @param {Role} role @param {string|RegExp} [name] */
  async gone(role, name) {
    await this.find(role, name).first().waitFor({ state: 'detached' });
  }

  /** Waits until some text of the mirror has these words. @param {string|RegExp} words */
  async read(words) {
    const found = this.page.locator('#mirror').getByText(words).first();
    await found.waitFor({ state: 'attached' });
    return found;
  }

  /** What the live region says. */
  async announced() {
    return (await this.page.locator('#live').textContent() ?? '').trim();
  }

  /** The whole mirror as Playwright's accessibility snapshot. */
  mirror() {
    return this.page.locator('#mirror').ariaSnapshot();
  }

  /** Names of everything of one role, in reading order. @param {Role} role */
  async names(role) {
    const all = await this.page.locator('#mirror').getByRole(role).all();
    return Promise.all(all.map((one) =>
      one.evaluate((e) => e.getAttribute('aria-label') ?? e.textContent ?? '')));
  }

  // Touching -----------------------------------------------------------------------------------

  /**
   * Centre of what is visible of an element; scrolled into view by the app if it is not.
   * @param {Role} role @param {string|RegExp} [name]
   */
  async spot(role, name) {
    const element = await this.see(role, name);
    const visible = (/** @type {Element} */ e) => {
      const { width, height } = e.getBoundingClientRect();
      return width > 1.5 && height > 1.5 && !e.hasAttribute('data-hidden');
    };
    if (!await element.evaluate(visible)) {
      await element.evaluate((e) => /** @type {HTMLElement} */ (e).focus({ preventScroll: true }));
      await this.settled();
      if (!await element.evaluate(visible)) throw new Error(`${role} ${name} cannot be seen`);
    }
    return element.evaluate((e) => {
      const { x, y, width, height } = e.getBoundingClientRect();
      return { x: x + width / 2, y: y + height / 2 };
    });
  }

  /** Touches an element. @param {Role} role @param {string|RegExp} [name] */
  async tap(role, name) {
    const { x, y } = await this.spot(role, name);
    await this.tapAt(x, y);
    await this.settled();
  }

  /** Touches and stays. @param {Role} role @param {string|RegExp} name @param {number} [ms] */
  async hold(role, name, ms = 700) {
    const { x, y } = await this.spot(role, name);
    await this.touch('touchStart', x, y);
    await this.page.waitForTimeout(ms);
    await this.touch('touchEnd');
    await this.settled();
  }

  /** One touch, without waiting for what comes of it. @param {number} x @param {number} y */
  async tapAt(x, y) {
    await this.touch('touchStart', x, y);
    await this.touch('touchEnd');
  }

  /** A finger's way over the screen. @param {[number, number][]} points @param {number} [stepMs] */
  async swipe(points, stepMs = 16) {
    const [[x, y], ...rest] = points;
    await this.touch('touchStart', x, y);
    for (const [to, down] of rest) {
      await this.page.waitForTimeout(stepMs);
      await this.touch('touchMove', to, down);
    }
    await this.touch('touchEnd');
    await this.settled();
  }

  /** @param {'touchStart'|'touchMove'|'touchEnd'|'touchCancel'} type
   *  @param {number} [x] @param {number} [y] */
  async touch(type, x, y) {
    const touchPoints = x === undefined || y === undefined ? [] : [{ x, y }];
    await this.devtools.send('Input.dispatchTouchEvent', { type, touchPoints });
  }

  /**
   * Puts text into the field of this name in place of what is there, as an input method would.
   * @param {string|RegExp} name @param {string} text
   */
  async type(name, text) {
    await this.tap('textbox', name);
    const field = await this.see('textbox', name);
    await field.evaluate((e) => /** @type {HTMLInputElement} */ (e).select());
    if (text) await this.page.keyboard.insertText(text);
    else await this.page.keyboard.press('Delete');
    await this.settled();
  }

  /** @param {string} key as in KeyboardEvent.key, with modifiers as in "Control+z" */
  async press(key) {
    await this.page.keyboard.press(key);
    await this.settled();
  }

  /** Taps and returns the file that comes of it. @param {Role} role @param {string|RegExp} name */
  async download(role, name) {
    const [download] = await Promise.all([this.page.waitForEvent('download'),
      this.tap(role, name)]);
    return { name: download.suggestedFilename(), bytes: readFileSync(await download.path()) };
  }

  /** Taps and chooses a file. @param {Role} role @param {string|RegExp} name
   *  @param {string|{name: string, mimeType: string, buffer: Buffer}} file */
  async choose(role, name, file) {
    const [chooser] = await Promise.all([this.page.waitForEvent('filechooser'),
      this.tap(role, name)]);
    await chooser.setFiles(file);
    await this.settled();
  }

  // Looking ------------------------------------------------------------------------------------

  /** A picture of what is on screen. @param {string} file */
  async shot(file) {
    await this.settled();
    mkdirSync(dirname(file), { recursive: true });
    await this.page.screenshot({ path: file });
  }

  /** A processor this many times slower. @param {number} rate */
  async throttle(rate) {
    await this.devtools.send('Emulation.setCPUThrottlingRate', { rate });
  }

  /** What the Content-Security-Policy refused. @returns {Promise<string[]>} */
  violations() {
    return this.page.evaluate(() => /** @type {any} */ (globalThis).violations);
  }

  /** What axe-core finds wrong: "rule: selector" each. @returns {Promise<string[]>} */
  async axe() {
    await this.page.evaluate(AXE);
    return this.page.evaluate(async () => {
      const { violations } = await /** @type {any} */ (globalThis).axe.run(document);
      return violations.flatMap((/** @type {any} */ { id, nodes }) =>
        nodes.map((/** @type {any} */ node) => `${id}: ${node.target.join(' ')} ${node.html}`));
    });
  }
}
