// <div data-outline> round an <img> of a log's end and a hidden field: what is tapped goes into the field, as the outline of a
// log sheet (JSON). data-photo-from="#id" takes the picture that was chosen in a file field instead, before it is sent.

import { Board } from "./board.ts";
import { button } from "./button.ts";
import { chosenPhoto } from "./chosen.ts";
import { LOG_END, type List, type SheetOutline, missing, outlineOf, traceOf } from "./trace.ts";

const STEPS: [List, string, string][] = [
  ["scale", "Known length", "Tap both ends of something of known length, as near to the wood as it lies: a rule, a stick, the diameter you read."],
  ["bark", "Bark", "Tap round the outside of the bark in order, sixteen points or so: straight lines between few of them cut wood off. No bark: go on."],
  ["wood", "Wood", "Tap round the wood inside the bark, in order, sixteen points or so. A point can be dragged, and one set in between later."],
  ["pith", "Pith", "Tap the pith; both, where a crotch shows two."],
];

function field(words: string, input: HTMLElement): HTMLElement {
  const label = document.createElement("label");
  label.append(words, " ", input);
  return label;
}

class OutlineForm {
  private readonly board: Board<List>;
  private readonly says = document.createElement("p");
  private readonly lacks = document.createElement("p");
  private readonly length = document.createElement("input");
  private readonly up = document.createElement("select");
  private readonly steps: HTMLButtonElement[];
  private readonly undo = button("Take back", () => this.board.undo());
  private at = 0;

  constructor(root: HTMLElement, image: HTMLImageElement, private readonly sent: HTMLInputElement) {
    this.board = new Board(image, LOG_END);
    this.board.onChange = () => this.changed();
    this.steps = STEPS.map(([, words], i) => button(words, () => this.go(i)));
    this.prepareFields();
    this.says.className = "says";
    this.lacks.setAttribute("role", "status");
    const sizes = [button("Larger", () => this.board.enlarge(1.6)), button("Smaller", () => this.board.enlarge(1 / 1.6))];
    root.append(this.row(...this.steps), this.says, this.board.element, this.row(this.undo, ...sizes), this.fields(root), this.lacks);
    this.restore();
    this.go(0);
    this.changed();
  }

  private row(...content: HTMLElement[]): HTMLElement {
    const row = document.createElement("div");
    row.className = "views";
    row.append(...content);
    return row;
  }

  private prepareFields(): void {
    Object.assign(this.length, { type: "text", autocomplete: "off", placeholder: "12 in, 30 cm" });
    for (let hour = 12; hour > 0; hour--) this.up.add(new Option(String(hour), String(hour)));
    for (const input of [this.length, this.up]) input.addEventListener("input", () => this.changed());
  }

  private fields(root: HTMLElement): HTMLElement {
    const fields = document.createElement("div");
    fields.className = "row";
    const mirrored = root.dataset["end"] === "top" ? " (the butt's clock, also at this end)" : "";
    fields.append(field("Known length", this.length), field(`Clock position that is up in the photo${mirrored}`, this.up));
    return fields;
  }

  /** What was sent before stands there again. */
  private restore(): void {
    if (!this.sent.value) return;
    const before = JSON.parse(this.sent.value) as SheetOutline;
    this.length.value = before.scale?.length ?? "";
    this.up.value = String(before.up);
    this.board.begin(traceOf(before));
  }

  private go(to: number): void {
    this.at = to;
    const [list, , help] = STEPS[to] as (typeof STEPS)[number];
    this.board.choose(list);
    this.says.textContent = help;
    this.steps.forEach((step, i) => step.setAttribute("aria-pressed", String(i === to)));
  }

  private changed(): void {
    const { traced } = this.board;
    if (this.at === 0 && traced.scale.length === 2 && !traced.bark.length && !traced.wood.length) this.go(1);
    const outline = outlineOf(traced, this.length.value, Number(this.up.value));
    this.sent.value = outline ? JSON.stringify(outline) : "";
    this.lacks.textContent = outline ? "Traced; it is sent with the form." : missing(traced, this.length.value).join(" ");
    this.undo.disabled = !this.board.canUndo;
    this.sent.dispatchEvent(new Event("change", { bubbles: true }));
  }
}

export function startOutlines(within: ParentNode): void {
  for (const root of within.querySelectorAll<HTMLElement>("[data-outline]:not([data-started])")) {
    const sent = root.querySelector<HTMLInputElement>("input[type=hidden]");
    if (!sent) continue;
    root.dataset["started"] = "yes";
    const image = root.querySelector("img") ?? document.createElement("img");
    new OutlineForm(root, image, sent);
    chosenPhoto(root, image);
  }
}
