// From where the log is looked at: round it, over it, nearer or farther, by hand, finger or key.

export interface View {
  /** degrees round the log: 0 looks at the butt, 90 at its right side (3 o'clock), 180 at the top end */
  round: number;
  /** degrees above level */
  over: number;
  /** 1: the whole log just fits */
  far: number;
}

export const BUTT: View = { round: 0, over: 12, far: 1 };
export const CORNER: View = { round: 38, over: 22, far: 1 };
export const SIDE: View = { round: 90, over: 12, far: 1 };
export const TOP: View = { round: 180, over: 12, far: 1 };

export function turned(view: View, round: number, over: number): View {
  return { ...view, round: (((view.round + round) % 360) + 360) % 360, over: Math.min(85, Math.max(-20, view.over + over)) };
}

export function nearer(view: View, by: number): View {
  return { ...view, far: Math.min(2.5, Math.max(0.25, view.far / by)) };
}

/** Where the eye stands about the middle of the log; saw frame: u to the left seen from the butt, v up, w away. */
export function eye({ round, over, far }: View, distance: number): [number, number, number] {
  const [a, b] = [(round * Math.PI) / 180, (over * Math.PI) / 180];
  const d = distance * far;
  return [-d * Math.sin(a) * Math.cos(b), d * Math.sin(b), -d * Math.cos(a) * Math.cos(b)];
}

const KEYS: Record<string, (view: View) => View> = {
  ArrowLeft: (view) => turned(view, -10, 0),
  ArrowRight: (view) => turned(view, 10, 0),
  ArrowUp: (view) => turned(view, 0, 8),
  ArrowDown: (view) => turned(view, 0, -8),
  "+": (view) => nearer(view, 1.2),
  "=": (view) => nearer(view, 1.2),
  "-": (view) => nearer(view, 1 / 1.2),
  Home: () => CORNER,
};

export function byKey(key: string): ((view: View) => View) | undefined {
  return KEYS[key];
}

/** Calls back with what a hand did on an element: dragged (in its widths) or pinched. */
export function watch(element: HTMLElement, change: (how: (view: View) => View) => void): void {
  const fingers = new Map<number, [number, number]>();
  const spread = (): number => {
    const [a, b] = [...fingers.values()];
    return a && b ? Math.hypot(a[0] - b[0], a[1] - b[1]) : 0;
  };
  element.addEventListener("pointerdown", (event) => {
    fingers.set(event.pointerId, [event.clientX, event.clientY]);
    element.setPointerCapture(event.pointerId);
  });
  element.addEventListener("pointermove", (event) => {
    const last = fingers.get(event.pointerId);
    if (!last) return;
    const before = spread();
    fingers.set(event.pointerId, [event.clientX, event.clientY]);
    const wide = element.clientWidth || 1;
    if (fingers.size === 2 && before) change((view) => nearer(view, spread() / before));
    else change((view) => turned(view, (-240 * (event.clientX - last[0])) / wide, (180 * (event.clientY - last[1])) / wide));
  });
  for (const end of ["pointerup", "pointercancel"] as const) element.addEventListener(end, (event) => fingers.delete(event.pointerId));
  element.addEventListener("wheel", (event) => {
    if (!event.ctrlKey && document.activeElement !== element) return; // the page scrolls unless the drawing was chosen
    event.preventDefault();
    change((view) => nearer(view, Math.exp(-event.deltaY / 600)));
  }, { passive: false });
}
