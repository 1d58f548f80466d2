// <div data-placing="unrolled|butt|top" data-rows="#id" data-length="120" data-across="24" data-grain="1">: a drawing to tap on;
// every tap fills the next empty row of form fields, or a new one from the <template> in the div. Lengths are in the form's own unit.
//
// A row is any element with data-row; its fields are those with data-field="distance", "clock", "depth" or "from_middle".

import { type End, fromEnd, fromUnrolled, hours, nearestTo, ontoEnd, ontoUnrolled } from "./places.ts";

const SVG = "http://www.w3.org/2000/svg";
const WIDE = 600;
const UNROLLED_TALL = 300;
const MARGIN = 34;
const CLOCK_GRAIN = 0.5;

type Values = Partial<Record<"distance" | "clock" | "depth" | "from_middle", number>>;

function drawn(tag: string, attributes: Record<string, string | number>, text = ""): SVGElement {
  const made = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, String(value));
  made.textContent = text;
  return made;
}

class Placing {
  private readonly sheet = drawn("svg", {}) as SVGSVGElement;
  private readonly marks = drawn("g", {});
  private readonly rows: HTMLElement;
  private readonly length: number;
  private readonly across: number;
  private readonly grain: number;
  private readonly kind: string;
  private cross: [number, number] = [0.5, 0.5];

  constructor(private readonly root: HTMLElement) {
    this.kind = root.dataset["placing"] ?? "unrolled";
    this.rows = document.querySelector(root.dataset["rows"] ?? "") ?? root;
    [this.length, this.across, this.grain] = [Number(root.dataset["length"]) || 1, Number(root.dataset["across"]) || 1, Number(root.dataset["grain"]) || 1];
    const tall = this.isEnd ? WIDE : UNROLLED_TALL;
    this.sheet.setAttribute("viewBox", `${-MARGIN} ${-MARGIN} ${WIDE + 2 * MARGIN} ${tall + 2 * MARGIN}`);
    this.sheet.setAttribute("role", "application");
    this.sheet.setAttribute("tabindex", "0");
    this.sheet.setAttribute("aria-label", `${this.title}. Arrow keys move a cross, Enter puts a mark there. The fields below say the same.`);
    this.sheet.append(...(this.isEnd ? this.end() : this.unrolled()), this.marks);
    root.append(this.sheet);
    this.sheet.addEventListener("click", (event) => this.tapped(event));
    this.sheet.addEventListener("keydown", (event) => this.key(event));
    this.rows.addEventListener("input", () => this.mark());
    this.mark();
  }

  private get isEnd(): boolean {
    return this.kind !== "unrolled";
  }

  private get title(): string {
    return this.isEnd ? `The ${this.kind} end of the log` : "The outside of the log, unrolled, the butt on the left";
  }

  private unrolled(): SVGElement[] {
    const hour = (h: number): SVGElement[] => {
      const y = (UNROLLED_TALL * h) / 12;
      return [drawn("line", { x1: 0, y1: y, x2: WIDE, y2: y, class: "hour" }), drawn("text", { x: -8, y: y + 5, "text-anchor": "end" }, String(h || 12))];
    };
    const ends = [drawn("text", { x: 0, y: -10 }, "butt"), drawn("text", { x: WIDE, y: -10, "text-anchor": "end" }, "top")];
    return [drawn("rect", { x: 0, y: 0, width: WIDE, height: UNROLLED_TALL, class: "wood" }), ...[0, 3, 6, 9, 12].flatMap(hour), ...ends];
  }

  private end(): SVGElement[] {
    const r = WIDE / 2;
    const hour = (h: number): SVGElement => {
      const [right, up] = ontoEnd(h, r + 18, this.kind as End);
      return drawn("text", { x: r + right, y: r - up + 6, "text-anchor": "middle" }, String(h));
    };
    return [drawn("circle", { cx: r, cy: r, r, class: "wood" }), drawn("path", { d: `M${r - 8} ${r}h16M${r} ${r - 8}v16`, class: "hour" }), ...[12, 3, 6, 9].map(hour)];
  }

  /** Share from left and top of the drawing, without its margin. */
  private share(event: MouseEvent): [number, number] {
    const box = this.sheet.getBoundingClientRect();
    const tall = this.isEnd ? WIDE : UNROLLED_TALL;
    const scale = (WIDE + 2 * MARGIN) / box.width;
    const clip = (value: number): number => Math.min(1, Math.max(0, value));
    return [clip(((event.clientX - box.left) * scale - MARGIN) / WIDE), clip(((event.clientY - box.top) * scale - MARGIN) / tall)];
  }

  private tapped(event: MouseEvent): void {
    this.put(...this.share(event));
  }

  private put(right: number, down: number): void {
    this.cross = [right, down];
    this.fill(this.values(right, down));
    this.mark();
  }

  private values(right: number, down: number): Values {
    if (!this.isEnd) {
      const { distance, clock } = fromUnrolled(right, down, this.length);
      return { distance: nearestTo(distance, this.grain), clock: hours(nearestTo(clock, CLOCK_GRAIN)) };
    }
    const { clock, fromMiddle } = fromEnd((right - 0.5) * this.across, (0.5 - down) * this.across, this.kind as End);
    const fine = this.grain / 4;
    const depth = Math.max(0, this.across / 2 - fromMiddle);
    return { clock: hours(nearestTo(clock, CLOCK_GRAIN)), from_middle: nearestTo(fromMiddle, fine), depth: nearestTo(depth, fine) };
  }

  private fill(values: Values): void {
    const row = this.emptyRow() ?? this.newRow();
    if (!row) return;
    for (const [name, value] of Object.entries(values)) {
      const input = row.querySelector<HTMLInputElement>(`[data-field="${name}"]`);
      if (input) input.value = String(Number(value.toFixed(3)));
    }
    row.dispatchEvent(new Event("input", { bubbles: true }));
  }

  private all(): HTMLElement[] {
    return [...this.rows.querySelectorAll<HTMLElement>("[data-row]")];
  }

  private emptyRow(): HTMLElement | undefined {
    return this.all().find((row) => [...row.querySelectorAll<HTMLInputElement>("[data-field]")].every((input) => !input.value));
  }

  private newRow(): HTMLElement | undefined {
    const template = this.root.querySelector("template");
    if (!template) return this.all().at(-1); // one row only, as for a pith: the last tap counts
    this.rows.append(template.content.cloneNode(true));
    return this.all().at(-1);
  }

  private mark(): void {
    const spots = this.all().flatMap((row, i) => this.spotOf(row, i + 1));
    const [x, y] = [this.cross[0] * WIDE, this.cross[1] * (this.isEnd ? WIDE : UNROLLED_TALL)];
    this.marks.replaceChildren(...spots, drawn("path", { d: `M${x - 12} ${y}h24M${x} ${y - 12}v24`, class: "cross" }));
  }

  private spotOf(row: HTMLElement, number: number): SVGElement[] {
    const read = (name: string): number => Number.parseFloat(row.querySelector<HTMLInputElement>(`[data-field="${name}"]`)?.value ?? "");
    const [clock, distance, middle, depth] = [read("clock"), read("distance"), read("from_middle"), read("depth")];
    const [x, y] = this.isEnd ? this.onEnd(clock, Number.isNaN(middle) ? this.across / 2 - depth : middle) : this.onOutside(distance, clock);
    if (Number.isNaN(x) || Number.isNaN(y)) return [];
    return [drawn("circle", { cx: x, cy: y, r: 9, class: "spot" }), drawn("text", { x: x + 13, y: y + 5 }, String(number))];
  }

  private onEnd(clock: number, fromMiddle: number): [number, number] {
    const [right, up] = ontoEnd(clock, fromMiddle / this.across, this.kind as End);
    return [WIDE * (0.5 + right), WIDE * (0.5 - up)];
  }

  private onOutside(distance: number, clock: number): [number, number] {
    const [right, down] = ontoUnrolled(distance, clock, this.length);
    return [WIDE * right, UNROLLED_TALL * down];
  }

  private key(event: KeyboardEvent): void {
    const step = event.shiftKey ? 0.005 : 0.025;
    const moves: Record<string, [number, number]> = { ArrowLeft: [-step, 0], ArrowRight: [step, 0], ArrowUp: [0, -step], ArrowDown: [0, step] };
    const by = moves[event.key];
    if (by) this.cross = [Math.min(1, Math.max(0, this.cross[0] + by[0])), Math.min(1, Math.max(0, this.cross[1] + by[1]))];
    else if (event.key === "Enter" || event.key === " ") this.put(...this.cross);
    else return;
    event.preventDefault();
    this.mark();
  }
}

export function startPlacing(within: ParentNode): void {
  for (const root of within.querySelectorAll<HTMLElement>("[data-placing]:not([data-started])")) {
    root.dataset["started"] = "yes";
    new Placing(root);
  }
}
