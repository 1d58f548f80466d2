// A photograph to tap on, with what was tapped drawn over it. Taps add points (a finger that moves scrolls), points can be
// dragged under a loupe, arrow keys move a cross and Enter sets a point there.

import type { Point } from "./geometry.ts";
import { svg } from "./svg.ts";
import type { Drawn, Tool } from "./tool.ts";

const FINE = 0.002;
const COARSE = 0.02;
const LOUPE_PX = 120;
const LOUPE_TIMES = 3;
/** A finger means what lies within so many pixels of the screen; and it moves so far without meaning to drag. */
const REACH_PX = 22;
const STILL_PX = 4;

interface Drag {
  readonly at: number;
  readonly from: readonly [number, number];
  began: boolean;
}

/** S: all that is tapped on this photograph, never changed but replaced. */
export class Board<S> {
  readonly element = document.createElement("div");
  private readonly sheet = document.createElement("div");
  private readonly over = svg("svg", { "aria-hidden": "true" });
  private readonly loupe = document.createElement("div");
  private past: S[] = [];
  private cross: Point | null = null;
  private zoom = 1;
  private dragging: Drag | null = null;
  /** The finger came down on a handle: the click that may follow sets no point. */
  private caught = false;
  onChange: () => void = () => undefined;

  constructor(private readonly image: HTMLImageElement, private all: S, private tool: Tool<S>, private readonly drawn: Drawn<S>) {
    this.element.className = "board";
    this.element.tabIndex = 0;
    this.element.setAttribute("role", "application");
    const keys = "Arrow keys move a cross, with Shift finely; Enter sets a point there, Backspace takes the last one back.";
    this.element.setAttribute("aria-label", `${image.alt || "Photograph of a log's end"}. ${keys}`);
    this.sheet.className = "photo";
    this.loupe.className = "loupe";
    this.loupe.hidden = true;
    image.draggable = false;
    this.sheet.append(image, this.over);
    this.element.append(this.sheet, this.loupe);
    image.addEventListener("load", () => this.draw());
    this.sheet.addEventListener("click", (event) => this.clicked(event));
    this.sheet.addEventListener("pointerdown", (event) => this.grab(event));
    this.sheet.addEventListener("touchstart", (event) => this.hold(event), { passive: false });
    this.over.addEventListener("pointermove", (event) => this.drag(event));
    this.over.addEventListener("pointerup", () => this.release(true));
    this.over.addEventListener("pointercancel", () => this.release(false));
    this.element.addEventListener("keydown", (event) => this.key(event));
    this.draw();
  }

  get tapped(): S {
    return this.all;
  }

  get canUndo(): boolean {
    return this.past.length > 0;
  }

  begin(all: S): void {
    this.all = all;
    this.past = [];
    this.draw();
  }

  choose(tool: Tool<S>): void {
    this.tool = tool;
    this.draw();
  }

  undo(): void {
    this.all = this.past.pop() ?? this.all;
    this.draw();
    this.onChange();
  }

  /** Larger or smaller, the middle of what is seen stays. */
  enlarge(times: number): void {
    const { element } = this;
    const [x, y] = [(element.scrollLeft + element.clientWidth / 2) / element.scrollWidth, (element.scrollTop + element.clientHeight / 2) / element.scrollHeight];
    this.zoom = Math.min(8, Math.max(1, this.zoom * times));
    this.sheet.style.width = `${100 * this.zoom}%`;
    element.scrollLeft = x * element.scrollWidth - element.clientWidth / 2;
    element.scrollTop = y * element.scrollHeight - element.clientHeight / 2;
    this.draw();
  }

  /** Something else instead, which can be taken back. */
  change(all: S): void {
    if (all === this.all) return;
    this.past.push(this.all);
    this.all = all;
    this.draw();
    this.onChange();
  }

  private pixels(): Point {
    return [this.image.naturalWidth || 1, this.image.naturalHeight || 1];
  }

  /** Pixels of the picture for one on the screen: a tap is no finer. */
  grain(): number {
    return this.pixels()[0] / (this.sheet.clientWidth || 1);
  }

  private spot(event: MouseEvent): Point {
    const box = this.sheet.getBoundingClientRect();
    const [wide, tall] = this.pixels();
    const clip = (value: number, most: number): number => Math.min(most, Math.max(0, value));
    return [clip(((event.clientX - box.left) / box.width) * wide, wide), clip(((event.clientY - box.top) / box.height) * tall, tall)];
  }

  private clicked(event: MouseEvent): void {
    if (!this.caught) this.set(this.spot(event));
  }

  private set(point: Point): void {
    this.change(this.tool.put(this.all, point, REACH_PX * this.grain()));
  }

  private grab(event: PointerEvent): void {
    const handle = event.target instanceof Element ? event.target.closest("[data-at]") : null;
    this.caught = handle !== null;
    if (!handle) return;
    this.dragging = { at: Number(handle.getAttribute("data-at")), from: [event.clientX, event.clientY], began: false };
    this.over.setPointerCapture(event.pointerId);
    event.preventDefault();
  }

  /** A finger on a handle drags it and does not scroll: drawings inside a page have no touch-action of their own everywhere. */
  private hold(event: TouchEvent): void {
    if (this.dragging) event.preventDefault();
  }

  private drag(event: PointerEvent): void {
    const { dragging } = this;
    if (!dragging) return;
    if (!dragging.began) {
      if (Math.hypot(event.clientX - dragging.from[0], event.clientY - dragging.from[1]) < STILL_PX) return;
      this.past.push(this.all);
      dragging.began = true;
    }
    this.all = this.tool.moved(this.all, dragging.at, this.spot(event));
    this.magnify(event);
    this.draw();
  }

  private release(dropped: boolean): void {
    const { dragging } = this;
    this.dragging = null;
    this.loupe.hidden = true;
    if (!dragging) return;
    if (dragging.began) {
      this.draw();
      this.onChange();
    } else if (dropped && this.tool.touched) this.change(this.tool.touched(this.all, dragging.at));
  }

  /** What lies under the finger, beside it. */
  private magnify(event: MouseEvent): void {
    const box = this.element.getBoundingClientRect();
    const [x, y] = this.spot(event);
    const scale = LOUPE_TIMES / this.grain();
    const [left, top] = [event.clientX - box.left + this.element.scrollLeft, event.clientY - box.top + this.element.scrollTop];
    Object.assign(this.loupe.style, {
      left: `${left - LOUPE_PX / 2}px`,
      top: `${event.clientY - box.top > LOUPE_PX + 40 ? top - LOUPE_PX - 30 : top + 40}px`,
      backgroundImage: `url("${this.image.currentSrc}")`,
      backgroundSize: `${this.pixels()[0] * scale}px ${this.pixels()[1] * scale}px`,
      backgroundPosition: `${LOUPE_PX / 2 - x * scale}px ${LOUPE_PX / 2 - y * scale}px`,
    });
    this.loupe.hidden = false;
  }

  private key(event: KeyboardEvent): void {
    const step = (event.shiftKey ? FINE : COARSE) * this.pixels()[0];
    const [x, y] = this.cross ?? [this.pixels()[0] / 2, this.pixels()[1] / 2];
    const moves: Record<string, Point> = { ArrowLeft: [x - step, y], ArrowRight: [x + step, y], ArrowUp: [x, y - step], ArrowDown: [x, y + step] };
    const to = moves[event.key];
    if (to) this.cross = [Math.min(this.pixels()[0], Math.max(0, to[0])), Math.min(this.pixels()[1], Math.max(0, to[1]))];
    else if (event.key === "Enter" || event.key === " ") this.set([x, y]);
    else if (event.key === "Backspace") this.undo();
    else if (event.key === "Delete") this.change(this.tool.shortened(this.all));
    else return;
    event.preventDefault();
    this.draw();
  }

  draw(): void {
    const [wide, tall] = this.pixels();
    const px = this.grain();
    this.over.setAttribute("viewBox", `0 0 ${wide} ${tall}`);
    this.over.replaceChildren(...this.drawn(this.all, px, this.dragging?.began ?? false), ...this.handles(px), ...this.crossLines(px));
  }

  /** Points of what is being tapped can be dragged: a dot to see, a wide ring to catch. */
  private handles(px: number): SVGElement[] {
    return this.tool.handles(this.all).flatMap(([cx, cy], i) => [
      svg("circle", { cx, cy, r: 5 * px, class: "dot", "stroke-width": 1.5 * px }),
      svg("circle", { cx, cy, r: REACH_PX * px, class: "catch", "data-at": i }),
    ]);
  }

  private crossLines(px: number): SVGElement[] {
    if (!this.cross) return [];
    const [x, y] = this.cross;
    const d = `M${x - 24 * px} ${y}h${48 * px}M${x} ${y - 24 * px}v${48 * px}`;
    return ["under", "line"].map((looks) => svg("path", { d, class: looks, "stroke-width": (looks === "under" ? 4 : 1.5) * px }));
  }
}
