// What is tapped on a photograph of wood beside something of known length: both ends of that, both sides of the wood or all round its
// end, both ends of the stem.

import { crossesItself } from "../outline/geometry.ts";
import { type Kinds, LEAST_RING, type Tapped, nothing, rounded, tappedWithin } from "../outline/tapped.ts";

export type List = "known" | "across" | "along" | "outline";
export type Sized = Tapped<List>;

const BOTH = 2;
export const WOOD: Kinds<List> = { rings: ["outline"], lines: ["known", "across", "along"], spots: [], most: { known: BOTH, across: BOTH, along: BOTH, outline: 200 } };
export const NOTHING: Sized = nothing(WOOD);

const OTHER_END: Readonly<Record<"known" | "across" | "along", string>> = {
  known: "Tap the other end of what has a known length too.",
  across: "Tap the other side of the wood too.",
  along: "Tap the other end of the stem too.",
};

/** What is still missing or cannot be so, as sentences; none: it can be sent. */
export function missing(taps: Sized): string[] {
  const found: string[] = [];
  if (!taps.known.length) found.push("Tap both ends of something of known length.");
  for (const list of ["known", "across", "along"] as const) if (taps[list].length === 1) found.push(OTHER_END[list]);
  if (!taps.across.length && !taps.along.length && !taps.outline.length) found.push("Tap both sides of the wood.");
  if (taps.outline.length > 0 && taps.outline.length < LEAST_RING) found.push(`${taps.outline.length} points round the end; ${LEAST_RING} or more are needed.`);
  if (taps.outline.length >= LEAST_RING && crossesItself(taps.outline)) found.push("The line round the end runs over itself; tap its points in order.");
  return found;
}

/** What the form sends; empty while something is missing. size: of the picture in pixels; grain: of these, for one of the screen. */
export function sentAs(taps: Sized, size: readonly [number, number], grain: number): string {
  if (missing(taps).length) return "";
  const lists = Object.fromEntries((["known", "across", "along", "outline"] as const).map((list) => [list, taps[list].map(rounded)]));
  return JSON.stringify({ size, tapping: tappedWithin(grain), ...lists });
}

/** What was sent before, to go on with. */
export function sentBefore(text: string): Sized {
  if (!text) return NOTHING;
  const { known = [], across = [], along = [], outline = [] } = JSON.parse(text) as Partial<Sized>;
  return { known, across, along, outline };
}
