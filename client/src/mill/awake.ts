// Awake: the screen stays on where the browser allows it; where it does not, the page says so.

const CANNOT = "This browser cannot keep the screen awake; set the phone's own screen time to its longest.";

export function keepAwake(at: HTMLElement | null): void {
  if (!at) return;
  if (!("wakeLock" in navigator)) {
    at.textContent = CANNOT;
    return;
  }
  const hold = async (): Promise<void> => {
    if (document.visibilityState !== "visible") return;
    try {
      await navigator.wakeLock.request("screen");
      at.textContent = "";
    } catch {
      at.textContent = CANNOT;
    }
  };
  document.addEventListener("visibilitychange", () => void hold());
  void hold();
}
