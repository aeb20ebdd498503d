// @ts-check
/** Debian's Firefox by WebDriver BiDi (W3C), on a screen of its own. */
import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';

import WebSocket from 'ws';

import { displayed } from './display.mjs';
import { RemotePage } from './remote-page.mjs';

const BROWSER = process.env.TALLYROUND_FIREFOX ?? '/usr/bin/firefox-esr';

/** No questions at the start, no traffic of its own, no way out of this machine; a touch screen. */
const PREFERENCES = {
  'browser.shell.checkDefaultBrowser': false,
  'browser.startup.homepage_override.mstone': 'ignore',
  'browser.aboutwelcome.enabled': false,
  'browser.sessionstore.resume_from_crash': false,
  'toolkit.startup.max_resumed_crashes': -1,
  'datareporting.policy.dataSubmissionEnabled': false,
  'app.update.enabled': false,
  'network.proxy.type': 1,
  'network.proxy.http': '127.0.0.1',
  'network.proxy.http_port': 9,
  'network.proxy.ssl': '127.0.0.1',
  'network.proxy.ssl_port': 9,
  'network.proxy.no_proxies_on': '127.0.0.1',
  'ui.allPointerCapabilities': 3,
  'dom.w3c_touch_events.enabled': 1,
};

/** The connection: commands out, answers and events in. */
class BiDi {
  /** @type {Map<number, {done: (result: any) => void, fail: (error: Error) => void}>} */
  #waiting = new Map();
  #last = 0;
  #socket;
  /** @type {((method: string, params: any) => void)[]} */
  listeners = [];

  /** @param {WebSocket} socket */
  constructor(socket) {
    this.#socket = socket;
    socket.on('message', (text) => this.#hear(JSON.parse(String(text))));
    socket.on('close', () => {
      for (const { fail } of this.#waiting.values()) fail(new Error('Firefox has gone'));
    });
  }

  /** @param {any} message */
  #hear(message) {
    if (message.id === undefined) {
      for (const hear of this.listeners) hear(message.method, message.params);
      return;
    }
    const { done, fail } = this.#waiting.get(message.id) ?? {};
    this.#waiting.delete(message.id);
    if (message.type === 'error') fail?.(new Error(`${message.error}: ${message.message}`));
    else done?.(message.result);
  }

  /** @param {string} method @param {object} [params] @returns {Promise<any>} */
  send(method, params = {}) {
    return new Promise((done, fail) => {
      const id = ++this.#last;
      this.#waiting.set(id, { done, fail });
      this.#socket.send(JSON.stringify({ id, method, params }));
    });
  }
}

/** One tab. @typedef {import('./remote-page.mjs').Remote} Remote @implements {Remote} */
class Tab {
  /** @param {BiDi} bidi @param {string} id */
  constructor(bidi, id) {
    this.bidi = bidi;
    this.id = id;
  }

  /** @param {string} source @param {string} args */
  async call(source, args) {
    const answer = await this.bidi.send('script.callFunction', {
      functionDeclaration: `async () => JSON.stringify(await (${source})(...${args}))`,
      awaitPromise: true, userActivation: false, target: { context: this.id },
    });
    if (answer.type === 'exception') throw new Error(answer.exceptionDetails.text);
    return answer.result.value;
  }
  /** @param {string} source */
  async preload(source) {
    await this.bidi.send('script.addPreloadScript',
      { functionDeclaration: `() => {\n${source}\n}`, contexts: [this.id] });
  }
  /** @param {string} url */
  async goto(url) {
    await this.bidi.send('browsingContext.navigate', { context: this.id, url, wait: 'complete' });
  }
  async reload() {
    await this.bidi.send('browsingContext.reload', { context: this.id, wait: 'complete' });
  }
  async screenshot() {
    const { data } = await this.bidi.send('browsingContext.captureScreenshot',
      { context: this.id });
    return Buffer.from(data, 'base64');
  }
  /** @param {string[]} keys */
  async press(keys) {
    const actions = [...keys.map((value) => ({ type: 'keyDown', value })),
      ...[...keys].reverse().map((value) => ({ type: 'keyUp', value }))];
    await this.#act({ type: 'key', id: 'keyboard', actions });
  }
  /** @param {string} type @param {{x: number, y: number}[]} points */
  async touch(type, points) {
    const [{ x, y } = { x: 0, y: 0 }] = points;
    const move = { type: 'pointerMove', x: Math.round(x), y: Math.round(y), duration: 0 };
    const actions = type === 'touchStart' ? [move, { type: 'pointerDown', button: 0 }]
      : type === 'touchMove' ? [move] : [{ type: 'pointerUp', button: 0 }];
    await this.#act({ type: 'pointer', id: 'finger', parameters: { pointerType: 'touch' },
      actions });
  }
  /** @param {object} source */
  async #act(source) {
    await this.bidi.send('input.performActions', { context: this.id, actions: [source] });
  }
  async front() { await this.bidi.send('browsingContext.activate', { context: this.id }); }
  async close() { await this.bidi.send('browsingContext.close', { context: this.id }); }

  /** @param {string} kind */
  await(kind) {
    const method = kind === 'download' ? 'browsingContext.downloadEnd' : 'input.fileDialogOpened';
    const event = new Promise((done) => {
      const hear = (/** @type {string} */ heard, /** @type {any} */ params) => {
        if (heard !== method || params.context !== this.id) return;
        this.bidi.listeners.splice(this.bidi.listeners.indexOf(hear), 1);
        done(kind === 'download' ? download(params.filepath) : this.#chooser(params.element));
      };
      this.bidi.listeners.push(hear);
    });
    return { ready: Promise.resolve(), event };
  }

  /** @param {any} element */
  #chooser(element) {
    return { setFiles: async (/** @type {any} */ file) => {
      let path = file;
      if (typeof file !== 'string') {
        path = join(mkdtempSync(join(tmpdir(), 'tallyround-file-')), file.name);
        writeFileSync(path, file.buffer);
      }
      await this.bidi.send('input.setFiles', { context: this.id, element, files: [path] });
    } };
  }
}

/** @param {string} path */
const download = (path) => ({
  suggestedFilename: () => basename(path).replace(/\(\d+\)(?=\.)/, ''),
  path: async () => path,
});

/** Windows that share storage, as a person's do. */
class Context {
  /** @type {RemotePage[]} */
  pages = [];

  /** @param {Firefox} browser @param {string} user @param {any} window */
  constructor(browser, user, window) {
    this.browser = browser;
    this.user = user;
    this.window = window;
  }

  async newPage() {
    const { bidi } = this.browser;
    const { context } = await bidi.send('browsingContext.create',
      { type: 'window', userContext: this.user });
    const { width, height } = this.window;
    await bidi.send('browsingContext.setViewport',
      { context, viewport: { width, height }, devicePixelRatio: this.window.scale });
    const page = new RemotePage(new Tab(bidi, context), this);
    this.browser.pages.set(context, page);
    return page;
  }

  async newCDPSession() { return null; }

  async close() {
    if (this.user !== 'default') {
      await this.browser.bidi.send('browser.removeUserContext', { userContext: this.user });
    }
  }
}

export class Firefox {
  /** @type {Map<string, RemotePage>} */
  pages = new Map();
  bidi = /** @type {BiDi} */ (/** @type {unknown} */ (null));
  #process = /** @type {import('node:child_process').ChildProcess} */ (/** @type {any} */ (null));
  #profile;
  #ownProfile;
  #downloads = mkdtempSync(join(tmpdir(), 'tallyround-downloads-'));

  /** @param {string} [profile] @param {(url: string) => void} [asked] */
  constructor(profile, asked = () => {}) {
    this.#ownProfile = !profile;
    this.#profile = profile ?? mkdtempSync(join(tmpdir(), 'tallyround-firefox-'));
    this.asked = asked;
  }

  async start() {
    writeFileSync(join(this.#profile, 'user.js'), Object.entries(PREFERENCES)
      .map((pair) => `user_pref(${pair.map((part) => JSON.stringify(part)).join(', ')});\n`)
      .join(''));
    const env = await displayed();
    this.#process = spawn(BROWSER, ['--remote-debugging-port=0', '--no-remote', '--profile',
      this.#profile, 'about:blank'], { env: { ...env, MOZ_CRASHREPORTER_DISABLE: '1' },
      stdio: ['ignore', 'ignore', 'pipe'] });
    const address = await this.#address();
    const socket = new WebSocket(`${address}/session`, { maxPayload: 2 ** 28 });
    await new Promise((done, fail) => { socket.once('open', done).once('error', fail); });
    this.bidi = new BiDi(socket);
    this.bidi.listeners.push((method, params) => this.#hear(method, params));
    await this.bidi.send('session.new', { capabilities: {} });
    await this.bidi.send('session.subscribe', { events: ['log.entryAdded',
      'network.beforeRequestSent', 'browsingContext.downloadEnd', 'input.fileDialogOpened'] });
    await this.bidi.send('browser.setDownloadBehavior', { downloadBehavior: { type: 'allowed',
      destinationFolder: this.#downloads } });
  }

  /** @returns {Promise<string>} */
  #address() {
    return new Promise((done, fail) => {
      let said = '';
      this.#process.stderr?.on('data', (text) => {
        said += text;
        const [, address] = /BiDi listening on (ws:\S+)/.exec(said) ?? [];
        if (address) done(address);
      });
      this.#process.once('error', fail);
      this.#process.once('exit', () => fail(new Error(`Firefox ended: ${said}`)));
    });
  }

  /** @param {string} method @param {any} params */
  #hear(method, params) {
    if (method === 'network.beforeRequestSent') this.asked(params.request.url);
    if (method !== 'log.entryAdded') return;
    const type = params.level === 'warn' ? 'warning' : params.level;
    this.pages.get(params.source.context)?.logged(type, params.text);
  }

  /** @param {any} window */
  async newContext(window) {
    const user = this.#ownProfile
      ? (await this.bidi.send('browser.createUserContext')).userContext : 'default';
    return new Context(this, user, window);
  }

  /** @param {'SIGTERM'|'SIGKILL'} [signal] */
  async end(signal = 'SIGTERM') {
    const gone = new Promise((done) => { this.#process.once('exit', done); });
    this.#process.kill(signal);
    await gone;
    rmSync(this.#downloads, { recursive: true });
    if (this.#ownProfile) {
      rmSync(this.#profile, { recursive: true, force: true, maxRetries: 5 });
    }
  }
}
