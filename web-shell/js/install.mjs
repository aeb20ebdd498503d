// @ts-check
/** Whether and how the app can be put on this device. */

/** As ui::App::Installable. @typedef {0|1|2|3} Installable no, by button, by hand, done */

export class Installation {
  /** @type {(Event & {prompt: () => Promise<unknown>})|null} */
  #offer = null;
  #told;

  /** @param {(how: Installable) => void} tell */
  constructor(tell) {
    this.#told = tell;
    addEventListener('beforeinstallprompt', (event) => {
      event.preventDefault();
      this.#offer = /** @type {any} */ (event);
      this.tell();
    });
    addEventListener('appinstalled', () => { this.#offer = null; this.#told(3); });
  }

  tell() {
    const { standalone } = /** @type {{standalone?: boolean}} */ (navigator);
    if (standalone || matchMedia('(display-mode: standalone)').matches) this.#told(3);
    else if (this.#offer) this.#told(1);
    else this.#told(standalone === false ? 2 : 0);
  }

  async ask() {
    const offer = this.#offer;
    this.#offer = null;
    this.tell();
    await offer?.prompt().catch(() => {});
  }
}
