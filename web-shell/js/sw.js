// @ts-check
/// <reference lib="webworker" />
/**
 * Keeps the whole app for use without a network: one cache, named by a hash over every file, filled
 * all or not at all (each file is checked against its hash). A classic script, because not every
 * browser runs a module here. make-site.mjs puts the list in place of the two names below.
 *
 * @type {[path: string, integrity: string][]}
 */
const FILES = SITE_FILES;
const VERSION = SITE_VERSION;

const worker = /** @type {ServiceWorkerGlobalScope} */ (/** @type {unknown} */ (self));
const PREFIX = `tallyround ${worker.registration.scope} `;
const CACHE = PREFIX + VERSION;
const PATHS = new Set(FILES.map(([path]) => new URL(path, worker.registration.scope).href));
const START = new URL('index.html', worker.registration.scope).href;

worker.addEventListener('install', (event) => {
  event.waitUntil((async () => {
    const cache = await caches.open(CACHE);
    await cache.addAll(FILES.map(([path, integrity]) =>
      new Request(path, { cache: 'reload', integrity })));
  })());
});

worker.addEventListener('activate', (event) => {
  event.waitUntil((async () => {
    for (const name of await caches.keys()) {
      if (name.startsWith(PREFIX) && name !== CACHE) await caches.delete(name);
    }
    await worker.clients.claim();
  })());
});

// Said by a page in which no lesson runs, when the person asked for the newer version.
worker.addEventListener('message', (event) => {
  if (event.data === 'take over') worker.skipWaiting();
});

worker.addEventListener('fetch', (event) => {
  const { request } = event;
  if (request.method !== 'GET') return;
  const address = new URL(request.url);
  address.search = '';
  address.hash = '';
  const wanted = request.mode === 'navigate' ? START : address.href;
  if (!PATHS.has(wanted)) return;
  event.respondWith((async () => {
    const cache = await caches.open(CACHE);
    return await cache.match(wanted) ?? fetch(request);
  })());
});
