// Keeps what was loaded once: the page and the kits that were looked at go on without a network.
const STORE = "strutwright-1";
const LEFT_ALONE = /\/(events|result)$|^\/api\/v1\/(jobs|archive)/;

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));
self.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== self.location.origin) return;
  if (LEFT_ALONE.test(url.pathname)) return;
  event.respondWith(networkFirst(request, url));
});

async function networkFirst(request, url) {
  const store = await caches.open(STORE);
  const key = request.mode === "navigate" ? "/" : url.pathname;
  try {
    const answer = await fetch(request);
    if (answer.ok) await store.put(key, answer.clone());
    return answer;
  } catch (error) {
    const kept = await store.match(key);
    if (kept) return kept;
    throw error;
  }
}
