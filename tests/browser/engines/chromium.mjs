// @ts-check
/** Debian's Chromium, driven by Playwright. */
import { readFileSync, readlinkSync } from 'node:fs';
import { join } from 'node:path';

import { chromium } from 'playwright-core';

const BROWSER = process.env.TALLYROUND_CHROMIUM ?? '/usr/bin/chromium';

/** Software drawing, no traffic of the browser's own, and no way out of this machine. */
const FLAGS = ['--no-sandbox', '--use-gl=angle', '--use-angle=swiftshader',
  '--enable-unsafe-swiftshader', '--disable-quic', '--no-first-run',
  '--disable-background-networking', '--disable-component-update', '--disable-sync',
  '--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1'];

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

export class Chromium {
  #profile;
  /** @type {import('playwright-core').Browser|null} */
  #browser = null;
  /** @type {import('playwright-core').BrowserContext|null} with a profile there is only this */
  #kept = null;

  /** @param {string} [profile] @param {(url: string) => void} [asked] */
  constructor(profile, asked = () => {}) {
    this.#profile = profile;
    this.asked = asked;
  }

  async start() {
    if (!this.#profile) this.#browser = await chromium.launch(this.#launch);
  }

  get #launch() { return { executablePath: BROWSER, headless: true, args: FLAGS }; }

  /** @param {any} window as in Lab.open */
  async newContext({ width, height, scale, touch, colors, contrast }) {
    const options = {
      viewport: { width, height }, deviceScaleFactor: scale, hasTouch: touch, isMobile: touch,
      colorScheme: colors, contrast, acceptDownloads: true, locale: 'en-GB',
      timezoneId: process.env.TZ,
    };
    if (this.#kept) return this.#kept;
    const context = this.#profile
      ? await chromium.launchPersistentContext(this.#profile, { ...this.#launch, ...options })
      : await /** @type {import('playwright-core').Browser} */ (this.#browser).newContext(options);
    context.on('request', (request) => this.asked(request.url()));
    if (this.#profile) this.#kept = context;
    return context;
  }

  /** @param {'SIGTERM'|'SIGKILL'} [signal] */
  async end(signal = 'SIGTERM') {
    if (signal === 'SIGKILL') {
      const lock = readlinkSync(join(String(this.#profile), 'SingletonLock'));
      const gone = new Promise((done) => { this.#kept?.once('close', () => done(null)); });
      const pid = Number(/-(\d+)$/.exec(lock)?.[1]);
      for (const one of familyOf(pid)) process.kill(one, signal);
      await gone;
    } else {
      await this.#kept?.close();
      await this.#browser?.close();
    }
  }
}
