// Keeps the page's files in the browser, so that it works without a connection afterwards. A new
// version is fetched whole beside the old one and used when the person takes it.
const VERSION = '@VERSION@';
const FILES = ['./', '@FILES@'];
// Another copy may lie in another folder of the same site.
const HERE = `tracebay ${new URL(self.registration.scope).pathname} `;
const KEPT = HERE + VERSION;

self.addEventListener('install', (event) => {
  event.waitUntil((async () => {
    const cache = await caches.open(KEPT);
    // Asked for again past what the browser may have kept: a version is of one piece.
    await cache.addAll(FILES.map((file) => new Request(file, { cache: 'no-cache' })));
  })());
});

self.addEventListener('activate', (event) => {
  event.waitUntil((async () => {
    for (const name of await caches.keys()) {
      if (name.startsWith(HERE) && name !== KEPT) await caches.delete(name);
    }
    await self.clients.claim();
  })());
});

self.addEventListener('message', (event) => {
  if (event.data === 'take over') self.skipWaiting();
});

self.addEventListener('fetch', (event) => {
  const { request } = event;
  if (request.method !== 'GET' || new URL(request.url).origin !== location.origin) return;
  event.respondWith((async () => {
    const cache = await caches.open(KEPT);
    const kept = await cache.match(request, { ignoreSearch: true });
    return kept ?? fetch(request);
  })());
});
