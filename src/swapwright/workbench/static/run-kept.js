// The page of a run, kept on this device so that it can be loaded again while the network is gone.
export const KEPT = "swapwright-runs-1";

// Whoever is logged out finds no page here that was kept for them; what they did stays.
export async function dropPage() {
  const kept = await caches.open(KEPT);
  await kept.delete(location.pathname);
}

export async function keepPage(page) {
  const worker = await navigator.serviceWorker.register(page.worker, { scope: "/shop/runs/" });
  await navigator.serviceWorker.ready;
  const kept = await caches.open(KEPT);
  await kept.addAll([location.pathname, ...page.parts]);
  document.documentElement.dataset.kept = "yes";
  return worker;
}
