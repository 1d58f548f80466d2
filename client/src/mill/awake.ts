// Awake: the screen stays on where the browser allows it; where it does not, or lets go of it, the page says so.

const CANNOT = "This browser cannot keep the screen awake; set the phone's own screen time to its longest.";
const LET_GO = "The screen may go dark: the phone no longer keeps it awake. Set its own screen time to its longest.";
const AT_LEAST_MS = 10_000;

export function keepAwake(at: HTMLElement | null): void {
  if (!at) return;
  if (!("wakeLock" in navigator)) {
    at.textContent = CANNOT;
    return;
  }
  let held = false;
  const hold = async (refused: string): Promise<void> => {
    if (held || document.visibilityState !== "visible") return;
    held = true; // asked for once at a time
    try {
      const lock = await navigator.wakeLock.request("screen");
      const since = Date.now();
      lock.addEventListener("release", () => {
        held = false;
        if (document.visibilityState !== "visible") return; // it is asked for once the page is looked at again
        if (Date.now() - since < AT_LEAST_MS) at.textContent = LET_GO; // a phone that saves its battery lets go at once, each time
        else void hold(LET_GO);
      });
      at.textContent = "";
    } catch {
      held = false;
      at.textContent = refused;
    }
  };
  document.addEventListener("visibilitychange", () => void hold(CANNOT));
  void hold(CANNOT);
}
