// Press: a button that wants to be held for half a second, so that a raindrop does nothing; or a key, for a clicker.

export const HOLD_MS = 500;
const SPACE = [" ", "Spacebar"];
const KEYS = [...SPACE, "PageDown"];
const FIELDS = "input, select, textarea";
/** what Space presses or opens by itself */
const PRESSED_BY_SPACE = "summary, a, button:not(#sawn)";

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
  button.addEventListener("keyup", (event) => {
    if (SPACE.includes(event.key)) event.preventDefault(); // it has sawn as it went down; a browser may click as it comes up
  });
  document.addEventListener("keydown", (event) => {
    if (!KEYS.includes(event.key) || event.defaultPrevented || event.altKey || event.ctrlKey || event.metaKey) return;
    const at = event.target;
    const taken = SPACE.includes(event.key) ? `${FIELDS}, ${PRESSED_BY_SPACE}` : FIELDS;
    if (document.querySelector("dialog[open]") || (at instanceof HTMLElement && at.matches(taken))) return;
    event.preventDefault();
    if (!button.disabled && !button.closest("[hidden]")) act();
  });
}

/** A key that is held down presses once, whatever has the focus; in a field it writes on. */
export function keysPressOnce(): void {
  const stop = (event: KeyboardEvent): void => {
    const field = event.target instanceof HTMLElement && event.target.matches(event.key === "Enter" ? "textarea" : FIELDS);
    if (event.repeat && ["Enter", ...KEYS].includes(event.key) && !field) event.preventDefault();
  };
  document.addEventListener("keydown", stop, true);
}

/** After a tap the keys saw again: focus does not stay on what was tapped. Whoever goes by keys keeps it. */
export function tapsLeaveNoFocus(sawn: HTMLElement, dialog: HTMLDialogElement): void {
  let tapped = false;
  const leave = (): void => {
    const at = document.activeElement;
    if (tapped && at instanceof HTMLElement && at !== sawn && at.matches("button, summary, a")) at.blur();
  };
  const tap = (event: MouseEvent): void => {
    tapped = event.detail > 0;
    if (!dialog.open) leave(); // before what was tapped opens a dialog, which gives the focus back as it closes
  };
  document.addEventListener("click", tap, true);
  document.addEventListener("keydown", () => (tapped = false), true);
  dialog.addEventListener("close", () => dialog.open || leave()); // it may have asked the next question by now
}
