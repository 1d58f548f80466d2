// What the next mark will be: its kind, the face it is on, a spot or an area; and what is done to the one that was touched last.

import { button } from "../outline/button.ts";
import { row } from "../outline/stepped.ts";
import { type Face, KINDS, type Kind, type Shape } from "./marks.ts";

const FACES: readonly (readonly [Face, string, string])[] = [
  ["A", "Face A", "on face A, the one in the photo"],
  ["B", "Face B", "on face B, which lies under it: tap above the place"],
  ["both", "Through", "through both faces"],
];
const SHAPES: readonly (readonly ["spot" | "area", string])[] = [["spot", "A spot"], ["area", "An area"]];
const HOW: Readonly<Record<Shape, string>> = {
  spot: "Tap its middle, then make it as wide as it is.",
  crack: "Tap both ends.",
  area: "Tap round it, its first point again at the end.",
};

export interface Acts {
  readonly wider: () => void;
  readonly narrower: () => void;
  readonly away: () => void;
  /** another kind, face or shape was chosen */
  readonly chosen: () => void;
}

export class Palette {
  readonly above = document.createElement("div");
  readonly below: HTMLElement;
  private readonly kinds = document.createElement("select");
  private readonly shapes: HTMLElement;
  private readonly shown: (() => void)[] = [];
  private faceNow: Face = "A";
  private spotOrArea: "spot" | "area" = "spot";

  constructor(private readonly acts: Acts) {
    const label = document.createElement("label");
    for (const kind of KINDS) this.kinds.add(new Option(kind));
    this.kinds.addEventListener("change", () => this.show());
    label.append("What ", this.kinds);
    this.shapes = this.choices(SHAPES.map(([shape, words]) => [words, () => (this.spotOrArea = shape), () => this.spotOrArea === shape]));
    const faces = this.choices(FACES.map(([face, words]) => [words, () => (this.faceNow = face), () => this.faceNow === face]));
    this.above.append(row(label), faces, this.shapes);
    this.below = row(button("Mark wider", acts.wider), button("Mark narrower", acts.narrower), button("Take this mark away", acts.away));
    this.show();
  }

  get kind(): Kind {
    return this.kinds.value as Kind;
  }

  get face(): Face {
    return this.faceNow;
  }

  get shape(): Shape {
    return this.kind === "crack" ? "crack" : this.spotOrArea;
  }

  /** What the next taps will be. */
  get says(): string {
    const where = FACES.find(([face]) => face === this.faceNow)?.[2] ?? "";
    return `${this.kind.charAt(0).toUpperCase()}${this.kind.slice(1)} ${where}. ${HOW[this.shape]}`;
  }

  /** Buttons of which one is pressed. */
  private choices(each: readonly (readonly [string, () => void, () => boolean])[]): HTMLElement {
    const made = each.map(([words, choose, chosen]) => {
      const one = button(words, () => {
        choose();
        this.show();
      });
      this.shown.push(() => one.setAttribute("aria-pressed", String(chosen())));
      return one;
    });
    return row(...made);
  }

  private show(): void {
    for (const each of this.shown) each();
    this.shapes.hidden = this.kind === "crack";
    this.acts.chosen();
  }
}
