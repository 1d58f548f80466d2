// Keep: whether this page opens without a signal. A page that came by a form was not seen by the worker, so it is asked for once more.

const OPENS = "This page opens without a signal.";
const STAYS = "This browser does not keep this page: leave it open until you are back.";
const PATIENCE_MS = 10_000;

async function controlled(): Promise<void> {
  await navigator.serviceWorker.ready;
  if (navigator.serviceWorker.controller) return;
  await new Promise<void>((done) => {
    navigator.serviceWorker.addEventListener("controllerchange", () => done(), { once: true });
    window.setTimeout(done, PATIENCE_MS);
  });
}

async function kept(): Promise<boolean> {
  if (!("serviceWorker" in navigator) || !("caches" in window)) return false;
  await controlled();
  await fetch(location.href).catch(() => null);
  return (await caches.match(location.href)) !== undefined;
}

export async function keepPage(at: HTMLElement | null): Promise<void> {
  const opens = await kept().catch(() => false);
  if (at) at.textContent = opens ? OPENS : STAYS;
}
