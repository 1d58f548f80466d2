// <div data-whole> round an <img> of a whole piece and a hidden field: what is tapped goes into the field.

import { Board } from "../outline/board.ts";
import { button } from "../outline/button.ts";
import { chosenPhoto } from "../outline/chosen.ts";
import { CORNERS, type List, PIECE, type Taps, missing, sentAs } from "./taps.ts";

const STEPS: [List, string, string][] = [
  ["first", "Target", "Tap the middles of its corner marks 1, 3, 12 and 10, in this order; the page finds the others itself."],
  ["second", "Second target", "The same on the other target: 1, 3, 12, 10. With one target alone the answer is wider."],
  ["edge", "Piece", "Tap round the piece in order, closer where its edge bends: straight lines between few points cut wood off. A point can be dragged, and one set in between later."],
  ["hole", "Hole", "Tap round a hole, if it has one."],
];

class WholeForm {
  private readonly board: Board<List>;
  private readonly says = document.createElement("p");
  private readonly lacks = document.createElement("p");
  private readonly steps: HTMLButtonElement[];
  private readonly undo = button("Take back", () => this.board.undo());
  private at = 0;
  private grain = 0;

  constructor(root: HTMLElement, image: HTMLImageElement, private readonly sent: HTMLInputElement) {
    this.board = new Board(image, PIECE);
    this.board.onChange = () => this.changed();
    this.steps = STEPS.map(([, words], i) => button(words, () => this.go(i)));
    this.says.className = "says";
    this.lacks.setAttribute("role", "status");
    const sizes = [button("Larger", () => this.board.enlarge(1.6)), button("Smaller", () => this.board.enlarge(1 / 1.6))];
    root.append(this.row(...this.steps), this.says, this.board.element, this.row(this.undo, ...sizes), this.lacks);
    if (sent.value) this.board.begin(JSON.parse(sent.value) as Taps);
    this.go(0);
    this.changed();
  }

  private row(...content: HTMLElement[]): HTMLElement {
    const row = document.createElement("div");
    row.className = "views";
    row.append(...content);
    return row;
  }

  private go(to: number): void {
    this.at = to;
    const [list, , help] = STEPS[to] as (typeof STEPS)[number];
    this.board.choose(list);
    this.says.textContent = help;
    this.steps.forEach((step, i) => step.setAttribute("aria-pressed", String(i === to)));
  }

  /** Four corners are a target: on to what comes next. */
  private changed(): void {
    const { traced } = this.board;
    const [list] = STEPS[this.at] as (typeof STEPS)[number];
    if (this.at < 2 && traced[list].length === CORNERS && !traced.edge.length) this.go(this.at + 1);
    if (list === "edge") this.grain = this.board.grain();
    this.sent.value = sentAs(traced, this.grain);
    this.lacks.textContent = missing(traced).join(" ") || "Traced; it is sent with the form.";
    this.undo.disabled = !this.board.canUndo;
  }
}

export function startWhole(within: ParentNode): void {
  for (const root of within.querySelectorAll<HTMLElement>("[data-whole]:not([data-started])")) {
    const sent = root.querySelector<HTMLInputElement>("input[type=hidden]");
    if (!sent) continue;
    root.dataset["started"] = "yes";
    const image = root.querySelector("img") ?? document.createElement("img");
    new WholeForm(root, image, sent);
    chosenPhoto(root, image);
  }
}
