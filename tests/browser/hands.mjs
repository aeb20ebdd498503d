// @ts-check
/** One window with the app, and hands to use it as a person would. */
import { mkdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname } from 'node:path';

import { can } from './engines/choose.mjs';

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const PATIENCE_MS = 15000;

/** Roles that ARIA does not name from their content. */
const UNNAMED = new Set(['status', 'timer', 'paragraph', 'listitem']);

/** A string as a pattern for the whole text. @param {string|RegExp} text */
const whole = (text) => text instanceof RegExp ? text
  : new RegExp(`^\\s*${text.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')}\\s*$`);

/** @typedef {Parameters<import('playwright-core').Page['getByRole']>[0]} Role */

export class Hands {
  /** Errors and warnings that the page logged. @type {string[]} */
  complaints = [];
  /** Only in Chromium. @type {import('playwright-core').CDPSession} */
  devtools = /** @type {any} */ (null);

  /** Touches ended on this page so far. */
  #lifted = 0;

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
      Object.assign(globalThis, { violations: [], lifts: 0 });
      for (const type of ['pointerup', 'pointercancel']) {
        addEventListener(type, () => { /** @type {any} */ (globalThis).lifts += 1; }, true);
      }
      document.addEventListener('securitypolicyviolation', ({ violatedDirective, blockedURI }) => {
        /** @type {any} */ (globalThis).violations.push(`${violatedDirective} ${blockedURI}`);
      });
    });
    if (before && can('preload')) await this.page.addInitScript(before);
    this.devtools = await this.page.context().newCDPSession(this.page);
  }

  /** @param {string} [path] @param {boolean} [ready] */
  async go(path = '', ready = true) {
    this.#lifted = 0;
    await this.page.goto(this.address + path);
    if (ready) await this.ready();
  }

  /** After the page started itself over: no touch of before is waited for. */
  async startedOver() {
    this.#lifted = 0;
    await this.ready();
  }

  /** Touches what makes the page start itself over. @param {Role} role @param {string} name */
  async tapToStartOver(role, name) {
    const reloaded = this.page.waitForEvent('load');
    await this.tap(role, name).catch(() => {});  // the page goes while it is waited for
    await reloaded;
    await this.startedOver();
  }

  async reload() {
    this.#lifted = 0;
    await this.page.reload();
    await this.ready();
  }

  /** The first frame has been drawn. */
  async ready() {
    await this.page.waitForFunction(() => /** @type {any} */ (globalThis).tallyround?.ready);
    await this.settled();
  }

  /**
   * Every touch has reached the page, then two frames' time without a frame drawn: what was under
   * way is on screen, and in the mirror after whatever else was due.
   */
  async settled() {
    // The browser says a touch is done before the page has heard of it.
    await this.page.waitForFunction(
      (lifted) => /** @type {any} */ (globalThis).lifts >= lifted, this.#lifted);
    await this.page.evaluate(async () => {
      const frame = () => new Promise((done) => { requestAnimationFrame(done); });
      const drawn = () => /** @type {any} */ (globalThis).tallyround?.frames;
      for (let tries = 0; tries < 120; tries++) {
        const before = drawn();
        await frame();
        await frame();
        if (drawn() === before) break;
      }
      await new Promise((done) => { setTimeout(done); });
    });
  }

  /** Frames drawn since the page was loaded. @returns {Promise<number>} */
  frames() {
    return this.page.evaluate(() => /** @type {any} */ (globalThis).tallyround.frames);
  }

  // Finding ------------------------------------------------------------------------------------

  /** What can be reached: not what lies behind a dialog.
   *  @param {Role} role @param {string|RegExp} [name] a string is the whole name */
  find(role, name) {
    const inside = this.page.locator('#stage, #plain');
    // Running text has no name; its words are what it is found by.
    const found = name !== undefined && UNNAMED.has(role)
      ? inside.getByRole(role).filter({ hasText: whole(name) })
      : inside.getByRole(role, { name, exact: true });
    return found.and(this.page.locator(':not([inert], [inert] *)'));
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

  /** Waits until the live region says this. @param {RegExp} words */
  async hear(words) {
    await this.page.waitForFunction((source) =>
      new RegExp(source).test(document.getElementById('live')?.textContent?.trim() ?? ''),
    words.source);
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

  /** Names of everything of one role inside another element. @param {Role} around
   *  @param {string|RegExp} name @param {Role} role @returns {Promise<string[]>} */
  async namesIn(around, name, role) {
    const inside = (await this.see(around, name)).getByRole(role);
    return inside.evaluateAll((all) =>
      all.map((e) => e.getAttribute('aria-label') ?? e.textContent ?? ''));
  }

  /** From an empty app to the demo class in its first round; some of its names are drawn by the
   *  device's own fonts. */
  async startDemoRound() {
    await this.tap('button', /demo class/);
    await this.tap('button', 'To the lesson');
    await this.tap('button', 'Start the lesson');
    await this.tap('button', /^Start round/);
  }

  // Touching -----------------------------------------------------------------------------------

  /**
   * Centre of what is visible of an element; scrolled into view by the app if it is not.
   * @param {Role} role @param {string|RegExp} [name]
   */
  async spot(role, name) {
    const element = await this.see(role, name);
    // A field may reach out of what it is scrolled in: behind the bar below, say.
    const visible = (/** @type {Element} */ e) => {
      const { y, width, height } = e.getBoundingClientRect();
      const around = e.matches('input, textarea') &&
        e.closest('main, [role=dialog]')?.getBoundingClientRect();
      return width > 1.5 && height > 1.5 && !e.hasAttribute('data-hidden') &&
        (!around || (y + height / 2 > around.top && y + height / 2 < around.bottom));
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

  /** Presses a button as a keyboard or a screen reader does, without waiting for what comes of it.
   *  @param {Role} role @param {string|RegExp} [name] */
  async activate(role, name) {
    await (await this.see(role, name)).dispatchEvent('click');
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
    // Sent together: a busy machine must not make a hold of it.
    await Promise.all([this.touch('touchStart', x, y), this.touch('touchEnd')]);
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
    if (type !== 'touchStart' && type !== 'touchMove') this.#lifted += 1;
    const { remote } = /** @type {any} */ (this.page);
    if (remote) await remote.touch(type, touchPoints);
    else await this.devtools.send('Input.dispatchTouchEvent', { type, touchPoints });
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

  /** A processor this many times slower, where the engine can do that. @param {number} rate */
  async throttle(rate) {
    if (can('devtools')) await this.devtools.send('Emulation.setCPUThrottlingRate', { rate });
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
