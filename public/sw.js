// Keeps the field card's page on the phone, so that it opens without a signal. It is registered for /field alone:
// no other page goes through it, and neither answers of the API nor anything about a person are ever kept.
// The page is fetched for keeping without cookies, as somebody who is not signed in sees it.
const CACHE = 'evenloop-field-1';
const PAGE = '/field';
const PATIENCE_MS = 4000;
const STATIC = /^\/(_next\/static\/|icons\/|theme\.js$)/;

self.addEventListener('install', (event) => {
  self.skipWaiting();
  event.waitUntil(keepPage([]));
});

self.addEventListener('activate', (event) => {
  event.waitUntil(
    (async () => {
      const names = await caches.keys();
      const old = names.filter((name) => name.startsWith('evenloop-field-') && name !== CACHE);
      await Promise.all(old.map((name) => caches.delete(name)));
      await self.clients.claim();
    })(),
  );
});

self.addEventListener('message', (event) => {
  if (event.data?.kind !== 'keep') return;
  const loaded = event.data.loaded.filter((path) => STATIC.test(path));
  event.waitUntil(
    keepPage(loaded).then(
      () => event.ports[0]?.postMessage('kept'),
      () => event.ports[0]?.postMessage('failed'),
    ),
  );
});

self.addEventListener('fetch', (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== 'GET' || url.origin !== self.location.origin) return;
  if (request.mode === 'navigate') {
    if (url.pathname === PAGE) event.respondWith(pageFromNetworkFirst(request));
  } else if (STATIC.test(url.pathname)) {
    event.respondWith(keptOrFetched(request));
  }
});

/** A weak signal is no signal: after some seconds the kept page is shown. */
async function pageFromNetworkFirst(request) {
  const cache = await caches.open(CACHE);
  const kept = await cache.match(PAGE);
  const fetched = fetch(request);
  if (kept === undefined) return fetched;
  const late = new Promise((resolve) => setTimeout(resolve, PATIENCE_MS));
  try {
    const answer = await Promise.race([fetched, late]);
    return answer === undefined || answer.status >= 500 ? kept : answer;
  } catch {
    return kept;
  }
}

/** Built files carry their content in their name: a kept one is never out of date. */
async function keptOrFetched(request) {
  const cache = await caches.open(CACHE);
  return (await cache.match(request, { ignoreVary: true })) ?? fetch(request);
}

/** Everything is fetched before the page is replaced, and what the new page does not need is let go after it. */
async function keepPage(loaded) {
  const answer = await fetch(PAGE, { credentials: 'omit', cache: 'no-store' });
  if (!answer.ok || answer.redirected) throw new Error('the page could not be fetched');
  const cache = await caches.open(CACHE);
  const html = await answer.clone().text();
  const wanted = new Set(['/theme.js', '/icons/icon-192.png', ...loaded, ...builtFilesIn(html)]);
  await Promise.all([...wanted].map((path) => keepFile(cache, path, wanted)));
  await cache.put(PAGE, answer);
  for (const { url } of await cache.keys()) {
    const { pathname } = new URL(url);
    if (pathname !== PAGE && !wanted.has(pathname)) await cache.delete(url);
  }
}

async function keepFile(cache, path, wanted) {
  let file = await cache.match(path);
  if (file === undefined) {
    file = await fetch(path, { credentials: 'omit' });
    if (!file.ok) throw new Error(`${path} could not be fetched`);
    await cache.put(path, file.clone());
  }
  if (!path.endsWith('.css')) return;
  const base = new URL(path, self.location.origin);
  for (const [, address] of (await file.text()).matchAll(/url\(["']?([^"')]+)["']?\)/g)) {
    if (address.startsWith('data:')) continue;
    const { origin, pathname } = new URL(address, base);
    if (origin !== self.location.origin || wanted.has(pathname)) continue;
    wanted.add(pathname);
    await keepFile(cache, pathname, wanted);
  }
}

/** Scripts, styles and fonts that the page names, in its markup and in the data for its scripts. */
function builtFilesIn(html) {
  const found = html.matchAll(/\/_next\/static\/[\w./~%@+-]+\.(?:js|css|woff2)/g);
  return [...found].map(([path]) => path);
}
