// <div data-whole> round an <img> of a whole piece and a hidden field: what is tapped goes into the field.

import type { Point } from "../outline/geometry.ts";
import { listTool } from "../outline/lists.ts";
import { type Read, type Step, SteppedForm, startStepped } from "../outline/stepped.ts";
import type { Tool } from "../outline/tool.ts";
import { drawnWhole } from "./drawn.ts";
import { cornerMoved, ringOf, shortenedLine, shutLine, straightAt, stretches, withCorner } from "./edge_line.ts";
import { Follower } from "./follower.ts";
import { type Marks, firstSizes, handlesOf, movedMark, resized, touchedMark, withTap, withoutMark } from "./marks.ts";
import { Palette } from "./palette.ts";
import { CORNERS, PIECE, type Whole, missing, sentAs, sentBefore } from "./taps.ts";

const SAYS = {
  first: "Tap the middles of its corner marks 1, 3, 12 and 10, in this order; the page finds the others itself.",
  second: "The same on the other target: 1, 3, 12, 10. With one target alone the answer is wider.",
  edge: "Tap round the piece in order: its corners, and the edge here and there, where the wood ends inside its bark; the first point again at the end. Between two taps the line follows the edge that the photo shows. Where it goes wrong, drag a point, or tap the line to set one more.",
  straight: "Tap a stretch that shall be straight; tap it again, and it follows the edge.",
  hole: "Tap round a hole through the wood, if it has one.",
};
/** A tap goes to the edge from half as far as a finger is off. */
const PULL = 0.5;

function edgeTool(follower: Follower): Tool<Whole> {
  return {
    handles: ({ edge }) => edge.corners.map(({ at }) => at),
    put: (all, at, reach) => ({ ...all, edge: withCorner(all.edge, follower.onEdge(at, PULL * reach), reach, follower.between) }),
    moved: (all, handle, to) => ({ ...all, edge: cornerMoved(all.edge, handle, to) }),
    touched: (all, handle) => (handle === 0 && !all.edge.shut ? { ...all, edge: shutLine(all.edge) } : all),
    shortened: (all) => ({ ...all, edge: shortenedLine(all.edge) }),
  };
}

function straightTool(follower: Follower): Tool<Whole> {
  return {
    handles: () => [],
    put: (all, at) => (all.edge.corners.length > 1 ? { ...all, edge: straightAt(all.edge, at, follower.between) } : all),
    moved: (all) => all,
    shortened: (all) => all,
  };
}

function marksTool(palette: () => Palette): Tool<Whole> {
  const brushed = (all: Whole, at: Point, reach: number): Marks => {
    const { kind, face, shape } = palette();
    return withTap(all, at, { kind, face, shape, ...firstSizes(all.first, reach) }, reach);
  };
  return {
    handles: ({ marks }) => handlesOf(marks),
    put: (all, at, reach) => ({ ...all, ...brushed(all, at, reach) }),
    moved: (all, handle, to) => ({ ...all, ...movedMark(all, handle, to) }),
    touched: (all, handle) => ({ ...all, ...touchedMark(all, handle) }),
    shortened: (all) => ({ ...all, ...withoutMark({ ...all, chosen: all.marks.length - 1 }) }),
  };
}

class WholeForm extends SteppedForm<Whole> {
  private grain = 0;

  constructor(root: HTMLElement, image: HTMLImageElement, sent: HTMLInputElement, private readonly follower: Follower, palette: Palette) {
    super(image, sentBefore(sent.value), stepsOf(follower, palette), drawnWhole(follower), sent);
    image.addEventListener("load", () => this.changed());
    this.start(root);
  }

  /** Something is done to the mark that was touched last. */
  toMark(act: (all: Marks) => Marks): void {
    const all = this.board.tapped;
    if (all.chosen >= 0) this.board.change({ ...all, ...act(all) });
  }

  /** What the sentence of this step says may have changed. */
  sayAgain(): void {
    this.say(this.step.says);
  }

  protected read(): Read {
    const all = this.board.tapped;
    if (this.step.says === SAYS.edge || !this.grain) this.grain = this.board.grain();
    const ring = ringOf(all.edge, this.follower.between);
    const unclear = stretches(all.edge, this.follower.between).filter(({ clear }) => !clear).length;
    const known = unclear ? [`${unclear === 1 ? "One stretch is" : `${unclear} stretches are`} straight, in dashes: no clear edge is seen there. Set points closer.`] : [];
    return { sent: sentAs(all, ring, this.grain), missing: missing(all, ring), known };
  }
}

function stepsOf(follower: Follower, palette: Palette): Step<Whole>[] {
  const full = (list: "first" | "second") => (all: Whole) => all[list].length === CORNERS && !all.edge.corners.length;
  return [
    { tool: listTool(PIECE, "first"), words: "Target", says: SAYS.first, done: full("first") },
    { tool: listTool(PIECE, "second"), words: "Second target", says: SAYS.second, done: full("second") },
    { tool: edgeTool(follower), words: "Piece", says: SAYS.edge },
    { tool: straightTool(follower), words: "Straight here", says: SAYS.straight },
    { tool: listTool(PIECE, "hole"), words: "Hole", says: SAYS.hole },
    { tool: marksTool(() => palette), words: "Marks", get says() { return palette.says; }, above: palette.above, below: palette.below },
  ];
}

export function startWhole(within: ParentNode): void {
  startStepped(within, "whole", (root, image, sent) => {
    let form: WholeForm | null = null;
    const palette = new Palette({
      wider: () => form?.toMark((all) => resized(all, true)),
      narrower: () => form?.toMark((all) => resized(all, false)),
      away: () => form?.toMark(withoutMark),
      chosen: () => form?.sayAgain(),
    });
    form = new WholeForm(root, image, sent, new Follower(image), palette);
  });
}
