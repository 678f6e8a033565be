// Keeps the page's own files, so that it opens without a network. Data are never kept here.
const NAME = "panside " + "__VERSION__";
const FILES = ["__FILES__"];
const PATIENCE = 3_000; // a network that hangs is as good as none [ms]

self.addEventListener("install", (event) => {
  event.waitUntil(caches.open(NAME).then((kept) => kept.addAll(FILES)).then(() => self.skipWaiting()));
});

self.addEventListener("activate", (event) => {
  const old = (names) => names.filter((name) => name.startsWith("panside ") && name !== NAME);
  event.waitUntil(
    caches.keys().then((names) => Promise.all(old(names).map((name) => caches.delete(name)))).then(() => self.clients.claim()),
  );
});

self.addEventListener("fetch", (event) => {
  const { origin, pathname } = new URL(event.request.url);
  if (event.request.method === "GET" && origin === location.origin && FILES.includes(pathname)) {
    event.respondWith(fresh(event.request, pathname));
  } else if (event.request.mode === "navigate" && origin === location.origin) {
    event.respondWith(fetch(event.request).catch(async () => (await caches.open(NAME)).match("/away")));
  }
});

async function fresh(request, pathname) {
  try {
    return await fetch(request, { signal: AbortSignal.timeout(PATIENCE) });
  } catch {
    return (await caches.open(NAME)).match(pathname);
  }
}
