// Worker: keeps the built files, and the pages that said so, for when the server is out of reach.
//
// Built files have their content in their name: once kept, never asked for again. A page is asked from the server first; without
// an answer, or with none for a few seconds, the last one kept is shown. Nothing but GET is ever kept, and of pages only those that answer with the header
// "Waney-Keep: yes", so that no page of somebody who signed out stays behind by accident.

declare const BUILT_FILES: string[];
declare const BUILT_VERSION: string;
declare const self: ServiceWorkerGlobalScope;

const BUILT = "/built/";
const FILES = `files-${BUILT_VERSION}`;
const PAGES = "pages";
const KEEP = "Waney-Keep";
const PATIENCE_MS = 3000;

async function install(): Promise<void> {
  const files = await caches.open(FILES);
  await files.addAll(BUILT_FILES.map((file) => BUILT + file));
  await self.skipWaiting();
}

async function activate(): Promise<void> {
  const old = (await caches.keys()).filter((name) => name !== FILES && name !== PAGES);
  await Promise.all(old.map((name) => caches.delete(name)));
  await self.clients.claim();
}

async function file(request: Request): Promise<Response> {
  return (await caches.match(request)) ?? fetch(request);
}

async function asked(request: Request, pages: Cache): Promise<Response> {
  const answer = await fetch(request);
  if (answer.ok && answer.headers.get(KEEP) === "yes") await pages.put(request, answer.clone());
  return answer;
}

/** At the edge of the signal an answer may hang: a page that is kept is then shown after PATIENCE_MS; one that is not is waited for. */
async function page(request: Request): Promise<Response> {
  const pages = await caches.open(PAGES);
  const kept = await pages.match(request);
  const answer = asked(request, pages);
  if (!kept) return answer;
  const late = new Promise<Response>((show) => setTimeout(() => show(kept), PATIENCE_MS));
  return Promise.race([answer.catch(() => kept), late]);
}

/** Signing out: pages are forgotten, the queue of what was done is not (it lies elsewhere). */
async function forget(): Promise<void> {
  await caches.delete(PAGES);
}

self.addEventListener("install", (event) => event.waitUntil(install()));
self.addEventListener("activate", (event) => event.waitUntil(activate()));
self.addEventListener("message", (event) => {
  if (event.data === "forget") event.waitUntil(forget());
});
self.addEventListener("fetch", (event) => {
  const address = new URL(event.request.url);
  if (event.request.method !== "GET" || address.origin !== self.location.origin) return;
  event.respondWith(address.pathname.startsWith(BUILT) ? file(event.request) : page(event.request));
});

export {};
