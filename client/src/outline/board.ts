// A photograph to tap on, with what was tapped drawn over it. Taps add points (a finger that moves scrolls), points can be
// dragged under a loupe, arrow keys move a cross and Enter sets a point there.

import { type Point, placeFor } from "./geometry.ts";
import { type Kinds, LEAST_RING, type Tapped, added, moved, nothing, without } from "./tapped.ts";

const SVG = "http://www.w3.org/2000/svg";
const FINE = 0.002;
const COARSE = 0.02;
const LOUPE_PX = 120;
const LOUPE_TIMES = 3;

function svg<K extends keyof SVGElementTagNameMap>(tag: K, attributes: Record<string, string | number>): SVGElementTagNameMap[K] {
  const made = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, String(value));
  return made;
}

export class Board<L extends string> {
  readonly element = document.createElement("div");
  private readonly sheet = document.createElement("div");
  private readonly over = svg("svg", { "aria-hidden": "true" });
  private readonly loupe = document.createElement("div");
  private trace: Tapped<L>;
  private past: Tapped<L>[] = [];
  private list: L;
  private cross: Point | null = null;
  private zoom = 1;
  private dragging: { at: number; began: boolean } | null = null;
  onChange: () => void = () => undefined;

  constructor(private readonly image: HTMLImageElement, private readonly kinds: Kinds<L>) {
    this.trace = nothing(kinds);
    this.list = [...kinds.lines, ...kinds.rings, ...kinds.spots][0] as L;
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
    this.sheet.addEventListener("click", (event) => this.tapped(event));
    this.over.addEventListener("pointerdown", (event) => this.grab(event));
    this.over.addEventListener("pointermove", (event) => this.drag(event));
    for (const end of ["pointerup", "pointercancel"] as const) this.over.addEventListener(end, () => this.release());
    this.element.addEventListener("keydown", (event) => this.key(event));
    this.draw();
  }

  get traced(): Tapped<L> {
    return this.trace;
  }

  get canUndo(): boolean {
    return this.past.length > 0;
  }

  begin(trace: Tapped<L>): void {
    this.trace = trace;
    this.past = [];
    this.draw();
  }

  choose(list: L): void {
    this.list = list;
    this.draw();
  }

  undo(): void {
    this.trace = this.past.pop() ?? this.trace;
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

  private change(trace: Tapped<L>): void {
    this.past.push(this.trace);
    this.trace = trace;
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

  private tapped(event: MouseEvent): void {
    if (event.target instanceof Element && event.target.closest("[data-at]")) return;
    this.set(this.spot(event));
  }

  /** Outlines take a point where it lengthens them least, once they go round; so a forgotten one can be put in. */
  private set(point: Point): void {
    const points = this.trace[this.list];
    const closed = this.kinds.rings.includes(this.list) && points.length >= LEAST_RING;
    if (!closed) return this.change(added(this.trace, this.list, point, this.kinds.most[this.list]));
    const after = placeFor(points, point);
    this.change({ ...this.trace, [this.list]: [...points.slice(0, after + 1), point, ...points.slice(after + 1)] });
  }

  private grab(event: PointerEvent): void {
    const handle = event.target instanceof Element ? event.target.closest("[data-at]") : null;
    if (!handle) return;
    this.dragging = { at: Number(handle.getAttribute("data-at")), began: false };
    this.over.setPointerCapture(event.pointerId);
    event.preventDefault();
  }

  private drag(event: PointerEvent): void {
    if (!this.dragging) return;
    if (!this.dragging.began) this.past.push(this.trace);
    this.dragging.began = true;
    this.trace = moved(this.trace, this.list, this.dragging.at, this.spot(event));
    this.magnify(event);
    this.draw();
  }

  private release(): void {
    if (this.dragging?.began) this.onChange();
    this.dragging = null;
    this.loupe.hidden = true;
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
    else if (event.key === "Delete") this.change(without(this.trace, this.list, this.trace[this.list].length - 1));
    else return;
    event.preventDefault();
    this.draw();
  }

  private draw(): void {
    const [wide, tall] = this.pixels();
    const px = this.grain();
    this.over.setAttribute("viewBox", `0 0 ${wide} ${tall}`);
    this.over.replaceChildren(...this.lines(px), ...this.handles(px), ...this.crossLines(px));
  }

  private lines(px: number): SVGElement[] {
    const path = (points: readonly Point[]): string => points.map((point) => point.join(",")).join(" ");
    const drawn: SVGElement[] = [];
    for (const list of [...this.kinds.lines, ...this.kinds.rings]) {
      const tag = this.kinds.rings.includes(list) && this.trace[list].length >= LEAST_RING ? "polygon" : "polyline";
      for (const looks of ["under", "line"]) drawn.push(svg(tag, { points: path(this.trace[list]), class: `${looks} ${list}`, "stroke-width": (looks === "under" ? 5 : 2.5) * px }));
    }
    for (const [x, y] of this.kinds.spots.flatMap((list) => this.trace[list]))
      for (const looks of ["under", "line"]) drawn.push(svg("path", { d: `M${x - 9 * px} ${y}h${18 * px}M${x} ${y - 9 * px}v${18 * px}`, class: looks, "stroke-width": (looks === "under" ? 5 : 2.5) * px }));
    return drawn;
  }

  /** Points of what is being tapped can be dragged: a dot to see, a wide ring to catch. */
  private handles(px: number): SVGElement[] {
    return this.trace[this.list].flatMap(([cx, cy], i) => [
      svg("circle", { cx, cy, r: 5 * px, class: "dot", "stroke-width": 1.5 * px }),
      svg("circle", { cx, cy, r: 22 * px, class: "catch", "data-at": i }),
    ]);
  }

  private crossLines(px: number): SVGElement[] {
    if (!this.cross) return [];
    const [x, y] = this.cross;
    const d = `M${x - 24 * px} ${y}h${48 * px}M${x} ${y - 24 * px}v${48 * px}`;
    return ["under", "line"].map((looks) => svg("path", { d, class: looks, "stroke-width": (looks === "under" ? 4 : 1.5) * px }));
  }
}
