// @ts-check
/**
 * WebKitGTK's small browser by WebDriver (W3C, "classic"), on a screen of its own. The driver has
 * no touch screen, so fingers are a mouse; it runs no scripts before the page's own, so the test's
 * server puts them into the page; and it keeps nothing from one start to the next.
 */
import { spawn } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';

import { displayed } from './display.mjs';
import { RemotePage } from './remote-page.mjs';

const DRIVER = process.env.TALLYROUND_WEBKIT_DRIVER ?? '/usr/bin/WebKitWebDriver';
const BROWSER = process.env.TALLYROUND_WEBKIT ??
  '/usr/lib/x86_64-linux-gnu/webkit2gtk-4.1/MiniBrowser';

/** In the page: keeps the files that it hands out, and gives what the test chooses. */
function watchFiles() {
  const page = /** @type {any} */ (globalThis);
  if (page.filesSeen) return;
  page.filesSeen = [];
  const blobs = new Map();
  const name = URL.createObjectURL;
  URL.createObjectURL = (blob) => {
    const url = name.call(URL, blob);
    blobs.set(url, blob);
    return url;
  };
  const click = HTMLElement.prototype.click;
  HTMLAnchorElement.prototype.click = function save() {
    if (!this.download) return click.call(this);
    page.filesSeen.push(blobs.get(this.href).arrayBuffer().then((/** @type {ArrayBuffer} */ b) =>
      ({ name: this.download, bytes: [...new Uint8Array(b)] })));
    return undefined;
  };
  HTMLInputElement.prototype.click = function choose() {
    if (this.type !== 'file') click.call(this);
    else page.chooser = this;
  };
}

/** In the page: what it complains about. */
function watchComplaints() {
  const page = /** @type {any} */ (globalThis);
  if (page.complaintsSeen) return;
  page.complaintsSeen = [];
  for (const kind of /** @type {const} */ (['error', 'warn'])) {
    const plain = console[kind];
    console[kind] = (...words) => { page.complaintsSeen.push(words.join(' ')); plain(...words); };
  }
  addEventListener('error', ({ message }) => page.complaintsSeen.push(message));
}

/** One tab. @implements {import('./remote-page.mjs').Remote} */
class Tab {
  /** @type {string[]} scripts for every page of this tab, from when it is there */
  #scripts = [`(${watchFiles})()`, `(${watchComplaints})()`];

  /** Hears what the page logs. @type {RemotePage|null} */
  page = null;

  /** @param {WebKit} browser @param {string} handle */
  constructor(browser, handle) {
    this.browser = browser;
    this.handle = handle;
  }

  /** @param {string} method @param {string} path @param {object} [body] */
  #send(method, path, body) { return this.browser.send(this.handle, method, path, body); }

  /** @param {string} source @param {string} args */
  async call(source, args) {
    const answer = await this.#send('POST', '/execute/async', { args: [], script: `
      const done = arguments[arguments.length - 1];
      (async () => JSON.stringify(await (${source})(...${args})))()
        .then((value) => ({ value }), (error) => ({ error: String(error) }))
        .then((answer) => done({ ...answer,
          said: (globalThis.complaintsSeen ?? []).splice(0) }));` });
    for (const text of answer.said) this.page?.logged('error', text);
    if (answer.error !== undefined) throw new Error(answer.error);
    return answer.value;
  }
  /** @param {string} source */
  async preload(source) {
    this.#scripts.push(source);
  }
  async #settle() {
    for (const script of this.#scripts) await this.call(`() => {\n${script}\n}`, '[]');
  }
  /** @param {string} url */
  async goto(url) {
    await this.#send('POST', '/url', { url });
    await this.#settle();
  }
  async reload() {
    await this.#send('POST', '/refresh', {});
    await this.#settle();
  }
  async screenshot() {
    return Buffer.from(await this.#send('GET', '/screenshot'), 'base64');
  }
  /** @param {string[]} keys */
  async press(keys) {
    const actions = [...keys.map((value) => ({ type: 'keyDown', value })),
      ...[...keys].reverse().map((value) => ({ type: 'keyUp', value }))];
    await this.#send('POST', '/actions', { actions: [{ type: 'key', id: 'keyboard', actions }] });
  }
  /** @param {string} type @param {{x: number, y: number}[]} points */
  async touch(type, points) {
    const [{ x, y } = { x: 0, y: 0 }] = points;
    const move = { type: 'pointerMove', x: Math.round(x), y: Math.round(y), duration: 0 };
    const actions = type === 'touchStart' ? [move, { type: 'pointerDown', button: 0 }]
      : type === 'touchMove' ? [move] : [{ type: 'pointerUp', button: 0 }];
    await this.#send('POST', '/actions', { actions: [{ type: 'pointer', id: 'finger',
      parameters: { pointerType: 'mouse' }, actions }] });
  }
  async front() { await this.#send('POST', '/window', { handle: this.handle }); }
  async close() { await this.#send('DELETE', '/window'); }

  /** @param {string} kind */
  await(kind) {
    return { ready: Promise.resolve(),
      event: kind === 'download' ? this.#download() : this.#chooser() };
  }

  /** @param {string} found a function that gives what is waited for, as JSON knows it */
  async #until(found) {
    for (let tries = 0; tries < 300; tries += 1) {
      const answer = await this.call(found, '[]');
      if (answer !== undefined && answer !== 'null') return JSON.parse(answer);
      await sleep(50);
    }
    throw new Error('it did not come');
  }

  async #download() {
    const { name, bytes } = await this.#until('async () => await filesSeen.shift() ?? null');
    const path = join(mkdtempSync(join(tmpdir(), 'tallyround-file-')), name);
    writeFileSync(path, Buffer.from(bytes));
    return { suggestedFilename: () => name, path: async () => path };
  }

  async #chooser() {
    await this.#until('() => globalThis.chooser ? true : null');
    return { setFiles: async (/** @type {any} */ file) => {
      const given = typeof file === 'string'
        ? { name: file.split('/').at(-1), bytes: [...readFileSync(file)] }
        : { name: file.name, bytes: [...file.buffer] };
      await this.call(`({ name, bytes }) => {
        const files = new DataTransfer();
        files.items.add(new File([new Uint8Array(bytes)], name));
        chooser.files = files.files;
        chooser.dispatchEvent(new Event('change'));
        chooser = null;
      }`, JSON.stringify([given]));
    } };
  }
}

/** @returns {Promise<number>} a port that is free */
function freePort() {
  return new Promise((done) => {
    const server = createServer().listen(0, '127.0.0.1', () => {
      const { port } = /** @type {import('node:net').AddressInfo} */ (server.address());
      server.close(() => done(port));
    });
  });
}

/** A browser of its own for each context: that is how storage is kept apart. */
class WebKit {
  /** @type {RemotePage[]} */
  #pages = [];
  #at = '';
  #turn = Promise.resolve();
  #home = mkdtempSync(join(tmpdir(), 'tallyround-webkit-'));
  #driver = /** @type {import('node:child_process').ChildProcess} */ (/** @type {any} */ (null));
  #session = '';

  /** @param {any} window */
  constructor(window) { this.window = window; }

  async start() {
    const env = await displayed();
    const port = await freePort();
    this.#driver = spawn(DRIVER, [`--port=${port}`, '--host=127.0.0.1'], { stdio: 'ignore',
      env: { ...env, HOME: this.#home, XDG_RUNTIME_DIR: this.#home,
        WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS: '1', DBUS_SESSION_BUS_ADDRESS: 'disabled:' } });
    this.#session = `http://127.0.0.1:${port}/session`;
    const { sessionId } = await this.#begin();
    this.#session += `/${sessionId}`;
    // The driver measures a script's time by the page's own timers, which a test's clock moves.
    await this.#ask('POST', '/timeouts', { script: null, pageLoad: 60000 });
  }

  async #begin() {
    const options = { binary: BROWSER, args: ['--automation'] };
    const wish = { capabilities: { alwaysMatch: { 'webkitgtk:browserOptions': options } } };
    for (let tries = 0; ; tries += 1) {
      try {
        return await this.#ask('POST', '', wish);
      } catch (error) {
        if (tries > 50) throw error;
        await sleep(200);  // the driver is not up yet
      }
    }
  }

  /** @param {string} method @param {string} path @param {object} [body] */
  async #ask(method, path, body) {
    const answer = await fetch(this.#session + path, { method,
      body: body && JSON.stringify(body), headers: { 'Content-Type': 'application/json' } });
    const { value } = await answer.json();
    if (!answer.ok) throw new Error(`${path}: ${value?.error}: ${value?.message}`);
    return value;
  }

  /** Says it to one tab; one at a time. @param {string} handle @param {string} method
   *  @param {string} path @param {object} [body] @returns {Promise<any>} */
  send(handle, method, path, body) {
    const said = this.#turn.then(async () => {
      if (this.#at !== handle) await this.#ask('POST', '/window', { handle });
      this.#at = path === '/window' && method === 'DELETE' ? '' : handle;
      return this.#ask(method, path, body);
    });
    this.#turn = said.then(() => {}, () => {});
    return said;
  }

  async newPage() {
    const first = this.#pages.length === 0;
    const handle = first ? await this.#ask('GET', '/window')
      : (await this.#ask('POST', '/window/new', { type: 'window' })).handle;
    const tab = new Tab(this, handle);
    const page = new RemotePage(tab, this);
    tab.page = page;
    this.#pages.push(page);
    if (first) await this.#fit(page);
    return page;
  }

  /** The window so large that the page has the size wished for. @param {RemotePage} page */
  async #fit(page) {
    const { width, height } = this.window;
    await this.#ask('POST', '/window/rect', { x: 0, y: 0, width, height });
    await sleep(200);
    const [w, h] = await page.evaluate(() => [innerWidth, innerHeight]);
    await this.#ask('POST', '/window/rect',
      { x: 0, y: 0, width: 2 * width - w, height: 2 * height - h });
    await page.waitForFunction((/** @type {number} */ wished) => innerHeight === wished, height);
  }

  async newCDPSession() { return null; }

  async close() {
    await this.#ask('DELETE', '').catch(() => {});
    const gone = new Promise((done) => { this.#driver.once('exit', done); });
    this.#driver.kill();
    await gone;
    rmSync(this.#home, { recursive: true, force: true, maxRetries: 5 });
  }
}

export class WebKits {
  /** @type {WebKit[]} */
  #all = [];

  async start() {}

  /** @param {any} window */
  async newContext(window) {
    const one = new WebKit(window);
    await one.start();
    this.#all.push(one);
    return one;
  }

  async end() {
    for (const one of this.#all.splice(0)) await one.close();
  }
}
