// What has been tapped on a photograph of a log's end, in the picture's own pixels: x to the right, y down.

import { type Point, area, crossesItself, inside } from "./geometry.ts";
import { type Kinds, LEAST_RING, type Tapped, rounded } from "./tapped.ts";

export const LISTS = ["scale", "bark", "wood", "pith"] as const;
export type List = (typeof LISTS)[number];

export type Trace = Tapped<List>;

export const EMPTY: Trace = { scale: [], bark: [], wood: [], pith: [] };

/** Two ends of something known, one pith or two. */
export const LOG_END: Kinds<List> = { rings: ["bark", "wood"], lines: ["scale"], spots: ["pith"], most: { scale: 2, bark: 200, wood: 200, pith: 2 } };
/** what logs.trace asks for */
const LEAST_OUTLINE = LEAST_RING;

/** The outline of a log sheet, as docs/sheets.md has it; `bark` beside it when both were traced. */
export interface SheetOutline {
  points: Point[];
  over: "wood" | "bark";
  up: number;
  scale?: { from: Point; to: Point; length: string };
  pith?: Point | Point[];
  bark?: Point[];
}

/** What is still missing or cannot be so, as sentences; none: it can be sent. */
export function missing(trace: Trace, length: string): string[] {
  const found: string[] = [];
  for (const [list, words] of [["bark", "round the bark"], ["wood", "round the wood inside the bark"]] as const) {
    const points = trace[list];
    if (points.length > 0 && points.length < LEAST_OUTLINE) found.push(`${points.length} points ${words}; ${LEAST_OUTLINE} or more are needed.`);
    if (points.length >= LEAST_OUTLINE && crossesItself(points)) found.push(`The line ${words} runs over itself; tap its points in order.`);
  }
  if (!trace.bark.length && !trace.wood.length) found.push("Nothing traced yet: tap round the wood or round the bark.");
  if (trace.bark.length >= LEAST_OUTLINE && trace.wood.length >= LEAST_OUTLINE && Math.abs(area(trace.wood)) >= Math.abs(area(trace.bark)))
    found.push("The wood is larger than the bark round it; one of the two was traced in the other's place.");
  const outer = trace.bark.length ? trace.bark : trace.wood;
  if (outer.length >= LEAST_OUTLINE && trace.pith.some((pith) => !inside(outer, pith))) found.push("The pith lies outside of the outline.");
  if (trace.scale.length === 1) found.push("Tap the other end of what has a known length too.");
  if (trace.scale.length === 2 && !length.trim()) found.push("Write how long it is between the two marks.");
  return found;
}

/** The outline for the sheet; null while something is missing. */
export function outlineOf(trace: Trace, length: string, up: number): SheetOutline | null {
  if (missing(trace, length).length) return null;
  const both = trace.wood.length > 0 && trace.bark.length > 0;
  const points = (trace.wood.length ? trace.wood : trace.bark).map(rounded);
  const made: SheetOutline = { points, over: trace.wood.length ? "wood" : "bark", up };
  const [from, to] = trace.scale;
  if (from && to) made.scale = { from: rounded(from), to: rounded(to), length: length.trim() };
  const piths = trace.pith.map(rounded);
  if (piths.length) made.pith = piths.length === 1 ? (piths[0] as Point) : piths;
  if (both) made.bark = trace.bark.map(rounded);
  return made;
}

/** A trace again, from an outline that was sent before. */
export function traceOf(outline: SheetOutline): Trace {
  const pith = outline.pith ?? [];
  return {
    scale: outline.scale ? [outline.scale.from, outline.scale.to] : [],
    bark: outline.over === "bark" ? outline.points : (outline.bark ?? []),
    wood: outline.over === "wood" ? outline.points : [],
    pith: typeof pith[0] === "number" ? [pith as Point] : (pith as Point[]),
  };
}
