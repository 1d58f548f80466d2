// Keep: whether this page opens without a signal. A page that came by a form was not seen by the worker, so it is asked for once more.

const OPENS = "This page opens without a signal.";
const STAYS = "This browser does not keep this page: leave it open until you are back.";
const PATIENCE_MS = 10_000;

async function controlled(): Promise<void> {
  if (navigator.serviceWorker.controller) return;
  await new Promise<void>((done) => {
    navigator.serviceWorker.addEventListener("controllerchange", () => done(), { once: true });
    window.setTimeout(done, PATIENCE_MS);
  });
}

async function kept(...addresses: string[]): Promise<boolean> {
  if (!navigator.serviceWorker?.controller || !("caches" in window)) return false;
  const found = await Promise.all(addresses.map((address) => caches.match(address)));
  return found.every((one) => one !== undefined);
}

/** The rest of what a page holds is asked for where the worker sees it; what came of it, nothing where nobody answered. */
async function brought(address: string): Promise<object | null> {
  const answer = await fetch(address).catch(() => null);
  return answer?.ok ? ((await answer.json()) as object) : null;
}

/** Keeps this page, and what it asks for at `more`, as far as the browser does; told at `at`. Returns what came from `more`. */
export async function keepPage(at: HTMLElement | null, more = ""): Promise<object | null> {
  if ("serviceWorker" in navigator) await controlled().catch(() => null);
  if (navigator.serviceWorker?.controller) await fetch(location.href).catch(() => null);
  const rest = more ? await brought(more) : null;
  const opens = await kept(location.href, ...(more ? [more] : [])).catch(() => false);
  if (at) at.textContent = opens ? OPENS : STAYS;
  return rest;
}
