// @ts-check
/** Starts the app: what is missing, what is stored, the fonts and the app itself, all at once. */

import { Chimes, Wakefulness, askToPersist, vibrate } from './device.mjs';
import { bytesOf, handInPieces, pickFile, saveFile, sliced, wholeOf } from './files.mjs';
import { listen } from './input.mjs';
import { Installation } from './install.mjs';
import { Loop } from './loop.mjs';
import { MirrorTurn } from './mirror-turn.mjs';
import { Mirror } from './mirror.mjs';
import { Painter } from './painter.mjs';
import { showPlain } from './plain.mjs';
import { smallPicture } from './pictures.mjs';
import { printPage } from './print.mjs';
import { Safekeeping, words } from './safekeeping.mjs';
import { sealFile } from './sealed-file.mjs';
import { Storage } from './storage.mjs';
import { currentSurface, watchSurface } from './surface.mjs';
import { Timings } from './timings.mjs';
import { Updates } from './update.mjs';
import { WrongPasscode } from './vault.mjs';

const FONT = 'Tallyround';
/** The address's end that opens the board for the class: it shows and never writes. */
const BOARD = '#board';
/** How long a lost drawing context may take to come back while the page is seen. */
const CONTEXT_PATIENCE_MS = 5000;

/** @param {string} id */
const byId = (id) => /** @type {HTMLElement} */ (document.getElementById(id));

/** @typedef {Uint8Array<ArrayBuffer>} Bytes */

class Shell {
  /** @type {import('./app.mjs').App} */
  app = /** @type {any} */ (null);
  timings = new Timings();
  updates = new Updates();
  #canvas = /** @type {HTMLCanvasElement} */ (byId('canvas'));
  #painter = new Painter();
  #wakefulness = new Wakefulness();
  #chimes = new Chimes();
  #installation = new Installation((how) => this.#tell((app) => app.installable(how)));
  #readOnly = true;
  /** What is stored is on its way into the app, and nothing was shown yet. */
  #opening = true;
  /** @type {Uint8Array|null} */
  #plan = null;

  storage = new Storage({
    stored: (key) => this.#tell((app) => app.stored(key)),
    notStored: (key, reason) => this.#tell((app) => app.notStored(key, reason)),
    heard: (record) => this.#tell((app) => app.heard(record)),
    gained: () => { this.open(() => this.storage.takeOver()); },
    healed: (held) => this.#tell((app) => app.healed(held)),
    failed: (reason) => this.#tell((app) => app.noStorage(reason)),
    sealedAnew: () => this.#safekeeping.startOver(),
    lost: () => {
      this.#readOnly = true;
      this.#tell((app) => app.lostLock());
    },
  });

  #safekeeping = new Safekeeping({
    storage: this.storage,
    tell: (say) => this.#tell(say),
    open: (read) => { this.open(read); },
    bring: (purpose, source) => this.#bring(purpose, source),
    pause: () => this.loop.pause(),
  });

  mirror = new Mirror(byId('mirror'), byId('live'), {
    activate: (node) => {
      this.timings.tap(performance.now());
      this.#tell((app) => app.activate(node));
    },
    edit: (node, text) => this.#tell((app) => app.edit(node, text)),
    editDone: (node) => this.#tell((app) => app.editDone(node)),
    focus: (node) => this.#tell((app) => app.focus(node)),
  });

  #mirrorTurn = new MirrorTurn(this.mirror);

  /** When the first frame was drawn, in milliseconds from the start of the navigation. */
  openedAfter = 0;

  loop = new Loop({
    draw: () => {
      // An empty app would look as if everything were lost.
      if (this.#opening) return;
      this.app.frame();
      this.openedAfter ||= performance.now();
      this.timings.frame();
    },
    unseen: () => this.app.unseen(),
    dueIn: () => this.app?.nextFrameIn() ?? -1,
  });

  /** Tells the app something, and lets it draw.
   *  @param {(app: import('./app.mjs').App) => void} say */
  #tell(say) {
    if (!this.app) return;
    say(this.app);
    this.loop.wake();
  }

  /** What the app asks for. @returns {import('./app.mjs').Host} */
  host() {
    return {
      ...this.#safekeeping.host(),
      install: () => { this.#installation.ask(); },
      paint: (text, size, scale, bold) => this.#painter.paint(text, size, scale, bold),
      mirror: (json) => this.#mirrorTurn.take(json),
      colors: (names) => setColors(names),
      append: (key, record) => this.storage.append(key, record, this.timings.record()),
      snapshot: (through, bytes, only) => this.storage.snapshot(through, bytes, only),
      preferences: (json) => this.storage.preferences(json),
      setAside: (record, why) => this.storage.setAside(record, why),
      saveStored: async () => {
        saveFile('tallyround-stored.json', 'application/json', await this.storage.raw());
      },
      pickFile: async (purpose, accept) => {
        const picked = await pickFile(purpose, accept);
        if (picked) await this.#handOver(purpose, picked);
      },
      print: (title, html) => { printPage(title, html); },
      showCodes: async (bytes) => {
        const { showCodes } = await import('./codes.mjs');
        const seal = (/** @type {any} */ file) => sealFile(this.storage.vault, file);
        showCodes(bytes, this.storage.sealed ? seal : null);
      },
      readCodes: async () => {
        const bytes = await (await import('./codes.mjs')).readCodes();
        if (bytes) this.#tell((app) => app.filePicked('plan', 'the codes', bytes));
      },
      announce: (text) => this.mirror.announce(text),
      takeOver: () => { this.open(() => this.storage.takeOver()); },
      keepAwake: (on) => this.#wakefulness.keep(on),
      persist: async () => {
        const granted = await askToPersist();
        this.#tell((app) => app.persistence(granted));
      },
      vibrate,
      chime: (final) => { this.#chimes.ring(final); },
      focus: (node) => {
        this.mirror.focusSoon(node);
        this.loop.wake();
      },
      fullScreen: (on) => { fillScreen(on); },
      boardWindow: () => { window.open(BOARD, '_blank'); },
      switchVersion: () => this.switchVersion(),
      plan: (bytes) => { this.#plan = bytes; },
    };
  }

  /** Gives the app the file that was chosen.
   *  @param {string} purpose
   *  @param {{file: File, refused: string, way: 'whole'|'pieces'|'sealed'}} picked */
  async #handOver(purpose, { file, refused, way }) {
    const { name } = file;
    if (refused) return this.#refuse(name, refused);
    if (way === 'pieces') return this.#bring(purpose, sliced(file));
    try {
      const whole = await bytesOf(way === 'sealed' ? this.#safekeeping.hold(file) : file);
      const bytes = purpose === 'card picture' ? await smallPicture(whole) : whole;
      this.#tell((app) => app.filePicked(purpose, name, bytes));
    } catch (error) {
      this.#refuse(name, `It could not be read (${words(error)}).`);
    }
  }

  /** @param {string} name of a file @param {string} why */
  #refuse(name, why) { this.#tell((app) => app.fileRefused(name, why)); }

  /** Gives the app a large file in pieces; whole where it has to have it so.
   *  @param {string} purpose @param {import('./files.mjs').Source} source */
  async #bring(purpose, source) {
    try {
      const looked = () => { if (this.app.nextFrameIn() === 0) this.loop.wake(); };
      if (!await handInPieces(source, this.app, looked)) return;
      const bytes = await wholeOf(source);
      this.#tell((app) => app.filePicked(purpose, source.name, bytes));
    } catch (error) {
      this.#refuse(source.name, `It could not be read. ${words(error)}`);
    }
  }

  /**
   * Hands the app what is stored.
   * @param {() => Promise<import('./storage.mjs').Opened>} read
   */
  async open(read) {
    try {
      const opened = await read();
      if (!opened) {
        this.#opening = false;
        this.#tell((app) => app.locked(''));
        return;
      }
      const { held, readOnly } = opened;
      this.#readOnly = readOnly;
      await this.app?.open(held, readOnly);
      this.#opening = false;
      this.#tell((app) => app.passcode(this.storage.sealed));
      this.#installation.tell();
      if (location.hash === BOARD) this.board();
    } catch (error) {
      const wrong = error instanceof WrongPasscode;
      this.#opening = false;
      this.#tell((app) => wrong ? app.locked(error.message) : app.noStorage(words(error)));
    }
  }

  board() {
    if (!this.storage.locked) this.#tell((app) => app.showBoard());
  }

  /** Takes the bundled font for text fields and as the measure of painted text. */
  async useFonts(/** @type {Bytes} */ regular, /** @type {Bytes} */ bold) {
    const faces = [new FontFace(FONT, regular, { weight: '400' }),
      new FontFace(FONT, bold, { weight: '700' })];
    await Promise.all(faces.map((face) => face.load()));
    for (const face of faces) document.fonts.add(face);
    this.#painter.measureLike(FONT);
  }

  /** From here on the page's events reach the app. */
  connect() {
    const kinds = { down: 0, move: 1, up: 2 };
    listen(this.#canvas, byId('mirror'), {
      pointer: (kind, finger, x, y, time) => {
        if (kind === 'up') this.timings.tap(time);
        this.#tell((app) => app.pointer(kinds[kind], finger, x, y, time));
      },
      cancel: (finger) => this.#tell((app) => app.pointerCancel(finger)),
      wheel: (x, y, dx, dy) => this.#tell((app) => app.wheel(x, y, dx, dy)),
      key: (key) => this.#tell((app) => app.key(key)),
      touched: () => this.#chimes.touched(),
      released: () => { this.#chimes.released(); },
      leave: () => this.mirror.leave(),
    });
    watchSurface(() => this.#tell((app) => {
      app.surface(currentSurface());
      // A soft keyboard took room: what is being typed in stays in sight.
      if (this.mirror.typingIn) app.focus(this.mirror.typingIn);
    }));
    this.#watchContext();
  }

  /** Browsers take the drawing context away, mostly in the background, and mostly give it back. */
  #watchContext() {
    let patience = 0;
    const wait = () => {
      clearTimeout(patience);
      if (!document.hidden) patience = window.setTimeout(giveUp, CONTEXT_PATIENCE_MS);
    };
    const giveUp = () => {
      document.removeEventListener('visibilitychange', wait);
      this.plain('The picture was lost and did not come back.', 'Try again.');
    };
    this.#canvas.addEventListener('webglcontextlost', (event) => {
      event.preventDefault();
      this.loop.pause();
      this.app.contextLost();
      document.addEventListener('visibilitychange', wait);
      wait();
    });
    this.#canvas.addEventListener('webglcontextrestored', () => {
      clearTimeout(patience);
      document.removeEventListener('visibilitychange', wait);
      if (this.app.contextRestored()) this.loop.resume();
      else giveUp();
    });
  }

  /** The plain page instead of the app. @param {string} reason @param {string} remedy */
  plain(reason, remedy) {
    this.loop.pause();
    showPlain(reason, remedy, {
      plan: () => {
        this.#plan = null;
        if (this.app?.works && !this.storage.locked) this.app.planFile();
        return this.#plan;
      },
      raw: () => this.storage.raw(),
    });
  }

  /** Starts over with the version that waits; never while a lesson runs. */
  switchVersion() {
    if (!this.app?.lessonRunning()) this.updates.switchNow();
  }

  get readOnly() {
    return this.#readOnly;
  }
}

/** Colours for the text fields, as the app draws. @param {string} names */
function setColors(names) {
  const style = document.documentElement.style;
  const [ink, soft, paper, focus, accent] = names.split(' ');
  for (const [name, color] of Object.entries({ ink, soft, paper, focus, accent })) {
    style.setProperty(`--${name}`, color);
  }
  document.querySelector('meta[name=theme-color]')?.setAttribute('content', paper);
}

/** Fills the screen where the browser can and allows it. @param {boolean} on */
function fillScreen(on) {
  const done = on ? document.documentElement.requestFullscreen?.()
    : document.fullscreenElement && document.exitFullscreen();
  Promise.resolve(done).catch(() => {});  // the board is shown in the window, then
}

/** @param {string} path */
async function fetchBytes(path) {
  const answer = await fetch(path);
  if (!answer.ok) throw new Error(`${path}: ${answer.status}`);
  return new Uint8Array(await answer.arrayBuffer());
}

/** @param {Shell} shell */
async function loadApp(shell) {
  const { App } = await import('./app.mjs');
  return App.load(shell.host(), (error) => {
    console.error(error);
    shell.plain('The app stopped because of a fault.', 'Try again.');
  });
}

/** The regular face and the bold one, for the app and for the page. @param {Shell} shell */
async function loadFonts(shell) {
  const [regular, bold] = await Promise.all([fetchBytes('fonts/regular.ttf'),
    fetchBytes('fonts/bold.ttf')]);
  await shell.useFonts(regular, bold);
  return [regular, bold];
}

async function start() {
  const shell = new Shell();
  Object.assign(globalThis, { tallyround: face(shell) });
  if (!globalThis.WebAssembly) {
    shell.plain('This browser has no WebAssembly.',
      'Use a newer version of Chrome, Edge, Firefox or Safari.');
    return;
  }
  const board = location.hash === BOARD;
  const stored = shell.storage.open(board);
  stored.catch(() => {});  // heard below
  try {
    const [app, [regular, bold]] = await Promise.all([loadApp(shell), loadFonts(shell)]);
    shell.app = app;
    app.surface(currentSurface());
    const draws = app.start(regular, bold);
    await shell.open(() => stored);
    window.addEventListener('hashchange', () => {
      if (location.hash === BOARD) shell.board();
    });
    if (!draws) {
      shell.plain('This browser cannot draw with WebGL 2.',
        'Use a newer version of Chrome, Edge, Firefox or Safari, or another device.');
      return;
    }
    shell.connect();
  } catch (error) {
    console.error(error);
    shell.plain('The app could not be loaded.', 'Check the network and try again.');
  }
  shell.updates.start(() => { shell.app?.updateWaiting(); shell.loop.wake(); });
}

/**
 * What tests and benches may look at.
 * @param {Shell} shell
 */
function face(shell) {
  return {
    get frames() { return shell.loop.frames; },
    get timings() { return shell.timings; },
    get readOnly() { return shell.readOnly; },
    get ready() { return shell.openedAfter > 0; },
    get openedAfter() { return shell.openedAfter; },
    get lessonRunning() { return shell.app?.lessonRunning() ?? false; },
  };
}

start();
