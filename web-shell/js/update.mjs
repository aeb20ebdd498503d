// @ts-check
/**
 * The service worker keeps one whole version of the app for use without a network. A newer version
 * is fetched in the background and waits: it takes over when the person says so, or when the app
 * is next started after all its tabs were closed. It never does so by itself under a running page.
 */

import { workerAddress } from './trusted.mjs';

const LOOK_AGAIN_MS = 60 * 60 * 1000;

export class Updates {
  /** @type {ServiceWorkerRegistration|null} */
  #registration = null;
  #lastLook = 0;
  #switching = false;

  /** @param {() => void} onWaiting a newer version is there and waits */
  async start(onWaiting) {
    const container = navigator.serviceWorker;
    if (!container) return;
    container.addEventListener('controllerchange', () => {
      if (this.#switching) location.reload();
    });
    try {
      this.#registration = await container.register(workerAddress(), { updateViaCache: 'none' });
    } catch {
      return;  // without it the app works as long as there is a network
    }
    const registration = this.#registration;
    const watch = () => {
      const worker = registration.installing;
      worker?.addEventListener('statechange', () => {
        if (worker.state === 'installed' && container.controller) onWaiting();
      });
    };
    if (registration.waiting && container.controller) onWaiting();
    watch();
    registration.addEventListener('updatefound', watch);
    this.#lastLook = Date.now();
    document.addEventListener('visibilitychange', () => this.#look());
  }

  /** Lets the waiting version take over and starts it. */
  switchNow() {
    const waiting = this.#registration?.waiting;
    if (!waiting) return;
    this.#switching = true;
    waiting.postMessage('take over');
  }

  #look() {
    if (document.hidden || Date.now() - this.#lastLook < LOOK_AGAIN_MS) return;
    this.#lastLook = Date.now();
    this.#registration?.update().catch(() => {});  // no network: the next time will do
  }
}
