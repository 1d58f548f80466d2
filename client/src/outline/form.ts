// <div data-outline> round an <img> of a log's end and a hidden field: what is tapped goes into the field, as the outline of a
// log sheet (JSON). data-photo-from="#id" takes the picture that was chosen in a file field instead, before it is sent.

import { drawnLists, listTool } from "./lists.ts";
import { type Read, type Step, SteppedForm, startStepped } from "./stepped.ts";
import { EMPTY, LOG_END, type List, type SheetOutline, type Trace, missing, outlineOf, traceOf } from "./trace.ts";

const SAYS: readonly (readonly [List, string, string])[] = [
  ["scale", "Known length", "Tap both ends of something of known length, as near to the wood as it lies: a rule, a stick, the diameter you read."],
  ["bark", "Bark", "Tap round the outside of the bark in order, sixteen points or so: straight lines between few of them cut wood off. No bark: go on."],
  ["wood", "Wood", "Tap round the wood inside the bark, in order, sixteen points or so. A point can be dragged, and one set in between later."],
  ["pith", "Pith", "Tap the pith; both, where a crotch shows two."],
];
const STEPS = SAYS.map(([list, words, says]): Step<Trace> => ({
  tool: listTool(LOG_END, list),
  words,
  says,
  done: (all) => list === "scale" && all.scale.length === 2 && !all.bark.length && !all.wood.length,
}));

function field(words: string, input: HTMLElement): HTMLElement {
  const label = document.createElement("label");
  label.append(words, " ", input);
  return label;
}

class OutlineForm extends SteppedForm<Trace> {
  private readonly length = document.createElement("input");
  private readonly up = document.createElement("select");

  constructor(root: HTMLElement, image: HTMLImageElement, sent: HTMLInputElement) {
    super(image, EMPTY, STEPS, drawnLists(LOG_END), sent);
    this.prepareFields();
    this.restore();
    this.start(root, this.fields(root));
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

  protected read(): Read {
    const { tapped } = this.board;
    const outline = outlineOf(tapped, this.length.value, Number(this.up.value));
    return { sent: outline ? JSON.stringify(outline) : "", missing: missing(tapped, this.length.value) };
  }
}

export function startOutlines(within: ParentNode): void {
  startStepped(within, "outline", (root, image, sent) => new OutlineForm(root, image, sent));
}
