// The flat drawings beside the log in three dimensions (papers/apart.py), in the same state: the lie that is on the bed, with what
// came off it slid up, what is left below, and the cuts to come.

import type { Solid } from "./figures.ts";
import type { Step } from "./steps.ts";

/** between parts that were slid apart [mm], as papers/apart.py leaves room for */
const GAP_MM = 4;

function marked(root: Element, name: string): [number, SVGElement][] {
  return [...root.querySelectorAll<SVGElement>(`[data-${name}]`)].map((one) => [Number(one.dataset[name]), one]);
}

function shown(one: SVGElement, yes: boolean): void {
  one.style.display = yes ? "" : "none";
}

export class Flats {
  private readonly lies: HTMLElement[];

  constructor(private readonly whole: HTMLElement | null, private readonly solid: Solid) {
    this.lies = [...(whole?.querySelectorAll<HTMLElement>("[data-lie]") ?? [])];
    if (whole && this.lies.length) whole.hidden = false;
  }

  show(step: Step): void {
    this.lies.forEach((drawing, lie) => {
      drawing.hidden = !step.all && lie !== step.lie;
      if (!drawing.hidden) this.draw(drawing, lie, step);
    });
    this.whole?.setAttribute("data-cuts", String(step.made));
  }

  private draw(drawing: HTMLElement, lie: number, step: Step): void {
    const mine = this.solid.cuts.flatMap((cut, i) => (cut.lie === lie ? [i + 1] : []));
    const done = mine.filter((number) => number <= step.made);
    const left = done.at(-1) ?? (mine[0] ?? 1) - 1;
    for (const [number, one] of marked(drawing, "left")) shown(one, number === left);
    for (const [number, one] of marked(drawing, "ahead")) shown(one, number > step.made);
    for (const [number, one] of marked(drawing, "part")) {
      const off = number <= step.made;
      const slid = GAP_MM * done.filter((other) => other >= number).length;
      one.setAttribute("transform", off ? `translate(0 ${-slid})` : "");
      one.classList.toggle("off", off);
      for (const [, rim] of marked(one, "rim")) shown(rim, off);
      for (const [, edges] of marked(one, "edges")) shown(edges, step.all);
    }
  }
}
