// Keeps the app's own files in this browser, so that it opens with the server gone.
//
// The version names the bytes of all files together; staging fills it in. A newer version is
// fetched whole beside the running one and takes its place only when no window of the old
// one is open: files of two versions never meet, and a session is never disturbed.

const version = '__SLIPWAY_VERSION__';
const files = __SLIPWAY_FILES__;
const prefix = 'slipway ';
const cacheName = prefix + version;

self.addEventListener('install', (event) => event.waitUntil(keepAll()));
self.addEventListener('activate', (event) => event.waitUntil(forgetOlder()));
self.addEventListener('fetch', (event) => {
  const address = new URL(event.request.url);
  const ours = address.origin === location.origin && address.href.startsWith(registration.scope);
  if (ours && event.request.method === 'GET') event.respondWith(answer(event.request, address));
});

async function keepAll() {
  const cache = await caches.open(cacheName);
  // "no-cache": asks the server whether what the browser holds is still the newest.
  await cache.addAll(files.map((file) => new Request(file, { cache: 'no-cache' })));
}

async function forgetOlder() {
  const names = await caches.keys();
  const older = names.filter((name) => name.startsWith(prefix) && name !== cacheName);
  await Promise.all(older.map((name) => caches.delete(name)));
  clients.claim();  // not waited for: a page that is being opened may wait for us meanwhile
}

// What follows a "?" is for the page itself, not for the server.
async function answer(request, address) {
  const isPage = request.mode === 'navigate' || address.href.split('?')[0].endsWith('/index.html');
  // Not caches.open: a worker that goes while a newer one has cleared up would make its cache anew, empty, for ever.
  const kept = await caches.match(isPage ? registration.scope : address.href, { cacheName, ignoreSearch: true });
  return kept || fetch(request);
}
