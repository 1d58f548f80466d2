// Press: a button that wants to be held for half a second, so that a raindrop does nothing; or a key, for a clicker.

export const HOLD_MS = 500;
const KEYS = [" ", "PageDown", "Spacebar"];

export function pressed(button: HTMLButtonElement, act: () => void): void {
  const bar = button.querySelector<HTMLElement>(".held");
  let timer = 0;
  const grow = (share: number, milliseconds: number): void => {
    if (!bar) return;
    bar.style.transition = milliseconds ? `transform ${milliseconds}ms linear` : "none";
    bar.style.transform = `scaleX(${share})`;
  };
  const stop = (): void => {
    window.clearTimeout(timer);
    timer = 0;
    grow(0, 0);
  };
  button.addEventListener("pointerdown", (event) => {
    if (event.button !== 0) return;
    grow(1, HOLD_MS);
    timer = window.setTimeout(() => {
      stop();
      act();
    }, HOLD_MS);
  });
  for (const name of ["pointerup", "pointerleave", "pointercancel"]) button.addEventListener(name, stop);
  button.addEventListener("contextmenu", (event) => event.preventDefault());
  // a click that no pointer made is Enter on the focused button, or an aid that presses buttons for somebody
  button.addEventListener("click", (event) => {
    event.preventDefault();
    if (event.detail === 0) act();
  });
  document.addEventListener("keydown", (event) => {
    if (!KEYS.includes(event.key) || event.repeat || event.altKey || event.ctrlKey || event.metaKey) return;
    const at = event.target;
    if (at instanceof HTMLElement && at.matches("input, select, textarea, summary, a, dialog *, button:not(#sawn)")) return;
    event.preventDefault();
    if (!button.disabled && !button.closest("[hidden]")) act();
  });
}
