// <div data-placing="unrolled|butt|top" data-rows="#id" data-unit="in" data-length="120" data-across="24" data-grain="1">: a drawing
// to tap on; every tap fills the row that was begun on another drawing, else the next empty one, else a new one from the <template> in
// the rows. data-length-from and data-across-from="#id" read another field instead, as it is typed. Lengths are in the form's own unit.
//
// A row is any element with data-row; its fields are those with data-field="distance", "clock", "depth" or "from_middle". What is known
// already stands in data-known='[{"words": "metal", "distance": 40, "clock": 3, "depth": 2}]' and is drawn without a number.

import { inUnit } from "./length.ts";
import { type End, fromEnd, fromUnrolled, hours, nearestTo, ontoEnd, ontoUnrolled } from "./places.ts";

const SVG = "http://www.w3.org/2000/svg";
const WIDE = 600;
const UNROLLED_TALL = 300;
const MARGIN = 44;
const CLOCK_GRAIN = 0.5;

type Name = "distance" | "clock" | "depth" | "from_middle";
type Values = Partial<Record<Name, number>>;
const LACKS: Record<string, string> = { unrolled: "Write the length first; then tap here.", end: "Write how far it is across first; then tap here." };

function drawn(tag: string, attributes: Record<string, string | number>, text = ""): SVGElement {
  const made = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, String(value));
  made.textContent = text;
  return made;
}

function fieldOf(row: HTMLElement, name: Name): HTMLInputElement | null {
  return row.querySelector<HTMLInputElement>(`[data-field="${name}"]`);
}

class Placing {
  private readonly sheet = drawn("svg", {}) as SVGSVGElement;
  private readonly marks = drawn("g", {});
  private readonly lacks = drawn("text", { x: WIDE / 2, y: 40, "text-anchor": "middle" });
  private readonly rows: HTMLElement;
  private readonly grain: number;
  private readonly kind: string;
  private readonly unit: string;
  private cross: [number, number] = [0.5, 0.5];

  constructor(private readonly root: HTMLElement) {
    this.kind = root.dataset["placing"] ?? "unrolled";
    this.rows = document.querySelector(root.dataset["rows"] ?? "") ?? root;
    [this.unit, this.grain] = [root.dataset["unit"] ?? "in", Number(root.dataset["grain"]) || 1];
    const tall = this.isEnd ? WIDE : UNROLLED_TALL;
    this.sheet.setAttribute("viewBox", `${-MARGIN} ${-MARGIN} ${WIDE + 2 * MARGIN} ${tall + 2 * MARGIN}`);
    this.sheet.setAttribute("role", "application");
    this.sheet.setAttribute("tabindex", "0");
    this.sheet.setAttribute("aria-label", `${this.title}. Arrow keys move a cross, Enter puts a mark there. The fields below say the same.`);
    this.sheet.append(...(this.isEnd ? this.end() : this.unrolled()), this.lacks, this.marks);
    root.append(this.sheet);
    this.sheet.addEventListener("click", (event) => this.tapped(event));
    this.sheet.addEventListener("keydown", (event) => this.key(event));
    for (const source of [this.rows, this.source("lengthFrom"), this.source("acrossFrom")]) source?.addEventListener("input", () => this.mark());
    this.mark();
  }

  private source(name: string): HTMLInputElement | null {
    const from = this.root.dataset[name];
    return from ? document.querySelector<HTMLInputElement>(from) : null;
  }

  /** A size of the log; 0 while nobody has written it. */
  private size(name: "length" | "across"): number {
    const source = this.source(`${name}From`);
    return source ? (inUnit(source.value, this.unit) ?? 0) : Number(this.root.dataset[name]) || 0;
  }

  private get length(): number {
    return this.size("length");
  }

  private get across(): number {
    return this.size("across");
  }

  private get ready(): boolean {
    return (this.isEnd ? this.across : this.length) > 0;
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
    if (!this.ready) return;
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
    const row = this.rowFor();
    if (!row) return;
    for (const [name, value] of Object.entries(values)) {
      const input = fieldOf(row, name as Name);
      if (input) input.value = String(Number(value.toFixed(3)));
    }
    row.dispatchEvent(new Event("input", { bubbles: true }));
  }

  private all(): HTMLElement[] {
    return [...this.rows.querySelectorAll<HTMLElement>("[data-row]")];
  }

  /** A nail may be put on two drawings: its place along the log on one, its depth on the other. */
  private rowFor(): HTMLElement | undefined {
    const open = this.all().filter((row) => !this.leading(row)?.value);
    const begun = open.filter((row) => [...row.querySelectorAll<HTMLInputElement>("[data-field]")].some((input) => input.value));
    return begun.at(-1) ?? open[0] ?? this.newRow();
  }

  /** The field that only this drawing fills. */
  private leading(row: HTMLElement): HTMLInputElement | null {
    return this.isEnd ? (fieldOf(row, "depth") ?? fieldOf(row, "from_middle")) : fieldOf(row, "distance");
  }

  private newRow(): HTMLElement | undefined {
    const template = this.root.querySelector("template") ?? this.rows.querySelector("template");
    if (!template) return this.all().at(-1); // one row only, as for a pith: the last tap counts
    this.rows.append(template.content.cloneNode(true));
    return this.all().at(-1);
  }

  private mark(): void {
    this.lacks.textContent = this.ready ? "" : (LACKS[this.isEnd ? "end" : this.kind] ?? "");
    const spots = this.all().flatMap((row, i) => this.spot(this.typed(row), String(i + 1), "spot"));
    const known = JSON.parse(this.root.dataset["known"] ?? "[]") as (Values & { words: string })[];
    const before = known.flatMap((one) => this.spot(one, one.words, "spot known"));
    const [x, y] = [this.cross[0] * WIDE, this.cross[1] * (this.isEnd ? WIDE : UNROLLED_TALL)];
    const cross = drawn("path", { d: `M${x - 12} ${y}h24M${x} ${y - 12}v24`, class: "cross" });
    this.marks.replaceChildren(...(this.ready ? [...before, ...spots, cross] : []));
  }

  private typed(row: HTMLElement): Values {
    const values: Values = {};
    for (const name of ["distance", "depth", "from_middle"] as const) {
      const value = inUnit(fieldOf(row, name)?.value ?? "", this.unit);
      if (value !== null) values[name] = value;
    }
    const clock = Number.parseFloat(fieldOf(row, "clock")?.value ?? "");
    if (!Number.isNaN(clock)) values.clock = clock;
    return values;
  }

  /** A mark with its word; none where this drawing cannot know the place. */
  private spot({ clock, distance, depth, from_middle: middle }: Values, words: string, looks: string): SVGElement[] {
    if (clock === undefined || (this.isEnd ? middle === undefined && depth === undefined : distance === undefined)) return [];
    const [x, y] = this.isEnd ? this.onEnd(clock, middle ?? this.across / 2 - (depth ?? 0)) : this.onOutside(distance ?? 0, clock);
    const [dx, anchor] = x > 0.75 * WIDE ? [-13, "end"] : [13, "start"];
    return [drawn("circle", { cx: x, cy: y, r: 9, class: looks }), drawn("text", { x: x + dx, y: y + 5, "text-anchor": anchor }, words)];
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
