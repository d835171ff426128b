// Keeps the pages of runs and what they are made of, so that a page can be read anew while the
// network is gone. What is newer always comes from the server where it answers.
const KEPT = "swapwright-runs-1";
const PAGE = /^\/shop\/runs\/[^/]+$/;
const PATIENCE = 6000;

self.addEventListener("install", () => self.skipWaiting());
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));

const isPage = (request, address) => request.mode === "navigate" && PAGE.test(address.pathname);
const isPart = (address) => address.pathname.startsWith("/static/");

const late = () => new Promise((_, reject) => setTimeout(() => reject(new Error("late")), PATIENCE));

async function answer(request, address) {
  const kept = await caches.open(KEPT);
  try {
    const found = await Promise.race([fetch(request), late()]);
    if (found.ok && !found.redirected) await kept.put(address.pathname, found.clone());
    // Whoever is logged out reads nothing here that was kept for somebody else.
    if (found.redirected || found.status === 401 || found.type === "opaqueredirect") {
      await kept.delete(address.pathname);
    }
    return found;
  } catch (error) {
    const found = await kept.match(address.pathname);
    if (found) return found;
    throw error;
  }
}

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const address = new URL(request.url);
  if (request.method !== "GET" || address.origin !== self.location.origin) return;
  if (isPage(request, address) || isPart(address)) event.respondWith(answer(request, address));
});
