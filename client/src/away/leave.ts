// Leave: whoever closes a page, or goes on to another, while something is not in the book yet is asked first by the browser.

/** held: how much there is that would be left behind */
export function askBeforeLeaving(held: () => number): void {
  window.addEventListener("beforeunload", (event) => {
    if (held() > 0) event.preventDefault();
  });
}
