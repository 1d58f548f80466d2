// <div data-whole> round an <img> of a whole piece and a hidden field: what is tapped goes into the field.

import { type Step, SteppedForm, startStepped } from "../outline/stepped.ts";
import { CORNERS, type List, PIECE, type Taps, missing, sentAs } from "./taps.ts";

const STEPS: Step<List>[] = [
  ["first", "Target", "Tap the middles of its corner marks 1, 3, 12 and 10, in this order; the page finds the others itself."],
  ["second", "Second target", "The same on the other target: 1, 3, 12, 10. With one target alone the answer is wider."],
  ["edge", "Piece", "Tap round the piece in order, closer where its edge bends: straight lines between few points cut wood off. A point can be dragged, and one set in between later."],
  ["hole", "Hole", "Tap round a hole, if it has one."],
];

class WholeForm extends SteppedForm<List> {
  private grain = 0;

  constructor(root: HTMLElement, image: HTMLImageElement, sent: HTMLInputElement) {
    super(image, PIECE, STEPS, sent);
    if (sent.value) this.board.begin(JSON.parse(sent.value) as Taps);
    this.start(root);
  }

  /** Four corners are a target: on to what comes next. */
  protected done(list: List): boolean {
    const { traced } = this.board;
    return (list === "first" || list === "second") && traced[list].length === CORNERS && !traced.edge.length;
  }

  protected read(list: List): { sent: string; missing: string[] } {
    if (list === "edge") this.grain = this.board.grain();
    return { sent: sentAs(this.board.traced, this.grain), missing: missing(this.board.traced) };
  }
}

export function startWhole(within: ParentNode): void {
  startStepped(within, "whole", (root, image, sent) => new WholeForm(root, image, sent));
}
