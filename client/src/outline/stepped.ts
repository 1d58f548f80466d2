// A photo on which one list after the other is tapped: a button and a sentence for each, the board, what is still missing. What was
// tapped goes into a hidden field of the form round it.

import { Board } from "./board.ts";
import { button } from "./button.ts";
import { chosenPhoto } from "./chosen.ts";
import type { Kinds } from "./tapped.ts";

/** A list, the words on its button, what to tap. */
export type Step<L extends string> = readonly [L, string, string];

/** A row of what stands side by side. */
export function row(...content: HTMLElement[]): HTMLElement {
  const made = document.createElement("div");
  made.className = "views";
  made.append(...content);
  return made;
}

export abstract class SteppedForm<L extends string> {
  protected readonly board: Board<L>;
  private readonly says = document.createElement("p");
  private readonly lacks = document.createElement("p");
  private readonly buttons: HTMLButtonElement[];
  private readonly undo = button("Take back", () => this.board.undo());
  private at = 0;

  constructor(image: HTMLImageElement, kinds: Kinds<L>, private readonly steps: readonly Step<L>[], protected readonly sent: HTMLInputElement) {
    this.board = new Board(image, kinds);
    this.board.onChange = () => this.changed();
    this.buttons = steps.map(([, words], i) => button(words, () => this.go(i)));
    this.says.className = "says";
    this.lacks.setAttribute("role", "status");
  }

  /** Put it there; more: fields of its own below the board. */
  protected start(root: HTMLElement, ...more: HTMLElement[]): void {
    const sizes = [button("Larger", () => this.board.enlarge(1.6)), button("Smaller", () => this.board.enlarge(1 / 1.6))];
    root.append(row(...this.buttons), this.says, this.board.element, row(this.undo, ...sizes), ...more, this.lacks);
    this.go(0);
    this.changed();
  }

  /** The list of this step has all that it needs: on to the next. */
  protected abstract done(list: L): boolean;

  /** What is sent of all that was tapped, empty while something is missing; and what that is. */
  protected abstract read(list: L): { sent: string; missing: string[] };

  protected changed(): void {
    if (this.at + 1 < this.steps.length && this.done(this.list)) this.go(this.at + 1);
    const { sent, missing } = this.read(this.list);
    this.sent.value = sent;
    this.lacks.textContent = missing.join(" ") || "Traced; it is sent with the form.";
    this.undo.disabled = !this.board.canUndo;
    this.sent.dispatchEvent(new Event("change", { bubbles: true }));
  }

  private get list(): L {
    return (this.steps[this.at] as Step<L>)[0];
  }

  private go(to: number): void {
    this.at = to;
    const [list, , help] = this.steps[to] as Step<L>;
    this.board.choose(list);
    this.says.textContent = help;
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
