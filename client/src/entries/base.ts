// Base: what every page has: partial page loads, and the worker where the page asks for it and the browser allows it.

import "htmx.org"; // its settings stand in <meta name="htmx-config">, because it reads them as it is loaded

/** <html data-worker="/worker.js">: pages that must open without a signal. Secure origins only; elsewhere nothing happens. */
async function startWorker(): Promise<void> {
  const address = document.documentElement.dataset["worker"];
  if (!address || !("serviceWorker" in navigator)) return;
  await navigator.serviceWorker.register(address, { scope: "/" });
}

/** <select data-send-at-once> and the like: a choice that sends its form; the button stays for those without scripts. */
function sendAtOnce(event: Event): void {
  const field = event.target;
  if (field instanceof HTMLElement && field.matches("[data-send-at-once]")) field.closest("form")?.requestSubmit();
}

/** Who signs out leaves no page behind in this browser; what was done and not sent yet stays (it lies elsewhere). */
function forgetPages(event: Event): void {
  const form = event.target;
  if (form instanceof HTMLFormElement && form.matches("[data-forgets]")) navigator.serviceWorker?.controller?.postMessage("forget");
}

document.addEventListener("change", sendAtOnce);
document.addEventListener("submit", forgetPages);
startWorker().catch((fault: unknown) => console.warn("The worker did not start.", fault));
