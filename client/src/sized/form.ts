// <div data-sized> round an <img> of wood beside something of known length, and a hidden field: what is tapped goes into the field.

import { drawnLists, listTool } from "../outline/lists.ts";
import { type Read, type Step, SteppedForm, startStepped } from "../outline/stepped.ts";
import { type List, NOTHING, type Sized, WOOD, missing, sentAs, sentBefore } from "./taps.ts";

const SAYS: readonly (readonly [List, string, string])[] = [
  ["known", "Known length", "Tap both ends of something of known length. Larger makes taps finer; a point can be dragged."],
  ["across", "Both sides", "Tap both sides of the wood, where it is neither at its widest nor at its narrowest."],
  ["along", "Its length", "From the side: tap both ends of the clear stem. An end seen from the front has none: leave it out."],
  ["outline", "Round the end", "Better than both sides: tap round the end in order, sixteen points or so."],
];

function stepsOf(): Step<Sized>[] {
  return SAYS.map(([list, words, says]) => ({
    tool: listTool(WOOD, list),
    words,
    says,
    done: (all: Sized) => list === "known" && all.known.length === 2 && !all.across.length && !all.outline.length,
  }));
}

class SizedForm extends SteppedForm<Sized> {
  /** The coarsest of all taps counts. */
  private grain = 0;

  constructor(root: HTMLElement, private readonly image: HTMLImageElement, sent: HTMLInputElement) {
    super(image, sentBefore(sent.value), stepsOf(), drawnLists(WOOD), sent);
    image.addEventListener("load", () => this.loaded());
    this.start(root);
  }

  /** Another picture is tapped anew; its size is known now. */
  private loaded(): void {
    if (this.image.src.startsWith("blob:")) this.board.begin(NOTHING);
    this.grain = 0;
    this.changed();
  }

  protected read(): Read {
    const all = this.board.tapped;
    this.grain = Math.max(this.grain, this.board.grain());
    const { naturalWidth, naturalHeight } = this.image;
    const lacks = missing(all);
    return { sent: naturalWidth ? sentAs(all, [naturalWidth, naturalHeight], this.grain) : "", missing: lacks };
  }
}

export function startSized(within: ParentNode): void {
  startStepped(within, "sized", (root, image, sent) => new SizedForm(root, image, sent));
}
