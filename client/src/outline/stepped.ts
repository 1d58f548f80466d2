// A photo on which one thing after the other is tapped: a button and a sentence for each, the board, what is still missing. What was
// tapped goes into a hidden field of the form round it.

import { Board } from "./board.ts";
import { button } from "./button.ts";
import { chosenPhoto } from "./chosen.ts";
import type { Drawn, Tool } from "./tool.ts";

/** One thing to tap: its tool, the words on its button, what to do; done: it has all that it needs, on to the next; above and below:
 * more to press, on either side of the photo. */
export interface Step<S> {
  readonly tool: Tool<S>;
  readonly words: string;
  readonly says: string;
  readonly done?: (all: S) => boolean;
  readonly above?: HTMLElement;
  readonly below?: HTMLElement;
}

/** What is sent of all that was tapped, empty while something is missing; what that is; what else is to be known. */
export interface Read {
  readonly sent: string;
  readonly missing: readonly string[];
  readonly known?: readonly string[];
}

/** A row of what stands side by side. */
export function row(...content: HTMLElement[]): HTMLElement {
  const made = document.createElement("div");
  made.className = "views";
  made.append(...content);
  return made;
}

export abstract class SteppedForm<S> {
  protected readonly board: Board<S>;
  private readonly says = document.createElement("p");
  private readonly lacks = document.createElement("p");
  private readonly buttons: HTMLButtonElement[];
  private readonly undo = button("Take back", () => this.board.undo());
  private at = 0;

  constructor(image: HTMLImageElement, begin: S, protected readonly steps: readonly Step<S>[], drawn: Drawn<S>, protected readonly sent: HTMLInputElement) {
    this.board = new Board(image, begin, this.step.tool, drawn);
    this.board.onChange = () => this.changed();
    this.buttons = steps.map(({ words }, i) => button(words, () => this.go(i)));
    this.says.className = "says";
    this.lacks.setAttribute("role", "status");
  }

  /** Put it there; more: fields of its own below the board. */
  protected start(root: HTMLElement, ...more: HTMLElement[]): void {
    const sizes = [button("Larger", () => this.board.enlarge(1.6)), button("Smaller", () => this.board.enlarge(1 / 1.6))];
    const [above, below] = [this.steps.flatMap((step) => step.above ?? []), this.steps.flatMap((step) => step.below ?? [])];
    root.append(row(...this.buttons), ...above, this.says, this.board.element, ...below, row(this.undo, ...sizes), ...more, this.lacks);
    this.go(0);
    this.changed();
  }

  protected abstract read(): Read;

  protected changed(): void {
    if (this.at + 1 < this.steps.length && this.step.done?.(this.board.tapped)) this.go(this.at + 1);
    const { sent, missing, known = [] } = this.read();
    this.sent.value = sent;
    this.lacks.textContent = [missing.join(" ") || "Traced; it is sent with the form.", ...known].join(" ");
    this.undo.disabled = !this.board.canUndo;
    this.sent.dispatchEvent(new Event("change", { bubbles: true }));
  }

  protected get step(): Step<S> {
    return this.steps[this.at] as Step<S>;
  }

  protected say(words: string): void {
    this.says.textContent = words;
  }

  private go(to: number): void {
    this.at = to;
    this.board.choose(this.step.tool);
    this.say(this.step.says);
    for (const step of this.steps) for (const part of [step.above, step.below]) if (part) part.hidden = step !== this.step;
    this.buttons.forEach((step, i) => step.setAttribute("aria-pressed", String(i === to)));
  }
}

/** Begin every form of a kind that has not begun yet: `data-NAME` round an <img>, or none yet, and a hidden field. */
export function startStepped(
  within: ParentNode, name: string, begin: (root: HTMLElement, image: HTMLImageElement, sent: HTMLInputElement) => void,
): void {
  for (const root of within.querySelectorAll<HTMLElement>(`[data-${name}]:not([data-started])`)) {
    const sent = root.querySelector<HTMLInputElement>("input[type=hidden]");
    if (!sent) continue;
    root.dataset["started"] = "yes";
    const image = root.querySelector("img") ?? document.createElement("img");
    begin(root, image, sent);
    chosenPhoto(root, image);
  }
}
