// Show: the next step in huge figures. The server draws the same for a page without its module (templates/mill_next.html).

import { thicknessOf, type Stands } from "./fold";
import type { Done, Holds, Printed, Step } from "./types";

const HALF = 0.5 + 1e-6; // what lies half way between two sizes is written as the larger

export function element(tag: string, className: string, ...inside: (Node | string)[]): HTMLElement {
  const made = document.createElement(tag);
  if (className) made.className = className;
  made.append(...inside);
  return made;
}

/** A length with a built fraction. */
export function figure([whole, over, under, unit]: Printed): HTMLElement {
  const made = element("span", "figure", whole);
  if (under) made.append(whole ? " " : "", element("span", "fraction", element("sup", "", over), "/", element("sub", "", under)));
  made.append("\u202f", element("span", "unit", unit));
  return made;
}

/** The same as bare words. */
export function plainFigure([whole, over, under, unit]: Printed): string {
  return [whole, under ? `${over}/${under}` : "", unit].filter(Boolean).join(" ");
}

export function printedAt(table: Printed[], steps: number): Printed {
  return table[Math.min(Math.max(steps, 0), table.length - 1)] ?? ["", "", "", ""];
}

function writeOn(name: string | undefined): HTMLElement | null {
  return name ? element("p", "", "Write ", element("span", "name", name), " on the butt end.") : null;
}

function mind(sentences: string[]): HTMLElement | null {
  if (!sentences.length) return null;
  const list = element("ul", "cautions", ...sentences.map((sentence) => element("li", "", sentence)));
  list.setAttribute("aria-label", "Mind");
  return list;
}

/** The ends do not lie as the plan has them: heights are right in the middle alone until it lies straight. */
function aslant(holds: Holds, offSteps: number): HTMLElement | null {
  if (!offSteps) return null;
  const [how, way] = offSteps > 0 ? ["high", "down"] : ["low", "up"];
  const by = figure(printedAt(holds.at_mill!.printed, Math.abs(offSteps)));
  return element("p", "stop", "The log lies aslant: its top end is ", by, ` too ${how}. This height is right in the middle alone, and pieces will be wedges. Bring the top end ${way} by that much and read both ends again; no signal is needed.`);
}

/** A thickness to the nearest that this shop writes. */
export function sizeOf(holds: Holds, metres: number): Printed {
  return printedAt(holds.sizes, Math.floor(metres / holds.size_m + HALF));
}

/** How thick it really comes off, after cuts that were missed. */
function reallyThick(holds: Holds, now: Stands): HTMLElement | null {
  const thick = thicknessOf(holds.at_mill!, now);
  return thick === null ? null : element("p", "what", "Comes ", figure(sizeOf(holds, thick)));
}

function notAsPlanned(holds: Holds, now: Stands): HTMLElement | null {
  const mill = holds.at_mill!;
  if (thicknessOf(mill, now) === null) return null;
  const by = figure(printedAt(mill.printed, Math.abs(now.comes_steps)));
  const told = mill.steps[now.step!]!.kind === "cut" ? "Sawn" : "Done";
  return element("p", "stop", by, ` ${now.comes_steps > 0 ? "more" : "less"} than planned: a cut before it was not at its height. ${told} writes it down so.`);
}

function afterWedge(now: Stands): HTMLElement | null {
  return now.wedge ? element("p", "stop", "The piece before was a wedge: this one may be a wedge the other way round. If the log has moved, say so under Something else.") : null;
}

function stepShown(holds: Holds, step: Step, now: Stands, name: string | undefined): (HTMLElement | null)[] {
  const height = now.height_steps === null ? null : element("span", "height", figure(printedAt(holds.at_mill!.printed, now.height_steps)));
  if (height) height.id = "height";
  const stops = now.stops_steps === null ? null : figure(printedAt(holds.at_mill!.printed, now.stops_steps));
  return [
    mind(step.before),
    stops ? element("p", "", "Backstops and clamps below ", element("strong", "", stops), ".") : null,
    height,
    reallyThick(holds, now),
    element("p", "what", [step.comes?.words, step.words].filter(Boolean).join(" ")),
    step.comes?.kept ? writeOn(name) : null,
    step.weight ? element("p", "", `Up to ${step.weight}${step.heavy ? ": not alone" : ""}.`) : null,
    ...step.stop.map((line) => element("p", "stop", `Then stop. ${line}`)),
    notAsPlanned(holds, now),
    afterWedge(now),
    height && now.shift_steps ? element("p", "", "This height was counted again.") : null,
    aslant(holds, now.off_steps),
  ];
}

export function showNext(at: HTMLElement, holds: Holds, now: Stands | null, names: string[], height: Printed | null): void {
  const step = now && now.step !== null ? holds.at_mill?.steps[now.step] : undefined;
  let shown: (HTMLElement | null)[];
  if (!holds.at_mill) {
    shown = [
      writeOn(names[0]),
      height ? element("p", "", "Bed height now ", figure(height)) : null,
      element("p", "", "No plan: saw by eye. One tap a piece gives it its name and keeps the order."),
    ];
  } else if (!step || !now) {
    shown = [element("p", "what", "Nothing is left to saw: the log is done.")];
  } else {
    shown = stepShown(holds, step, now, names[0]);
  }
  at.replaceChildren(...shown.filter((each): each is HTMLElement => each !== null));
}

export function lastWords(last: Done | undefined): string {
  if (!last) return "Nothing sawn yet today.";
  return `Last: ${[last.name, last.what].filter(Boolean).join(" ")}`;
}
