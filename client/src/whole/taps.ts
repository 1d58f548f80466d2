// What is tapped on a photograph of a whole piece: the corner marks of one target or two, round the piece, round a hole.

import { crossesItself } from "../outline/geometry.ts";
import { type Kinds, LEAST_RING, type Tapped, rounded } from "../outline/tapped.ts";

export type List = "first" | "second" | "edge" | "hole";
export type Taps = Tapped<List>;

/** Corner marks of a target: 1, 3, 12 and 10, round it. */
export const CORNERS = 4;
export const PIECE: Kinds<List> = {
  rings: ["edge", "hole"],
  lines: ["first", "second"],
  spots: [],
  most: { first: CORNERS, second: CORNERS, edge: 400, hole: 100 },
};

/** What is still missing or cannot be so, as sentences; none: it can be sent. */
export function missing(taps: Taps): string[] {
  const found: string[] = [];
  if (taps.first.length < CORNERS) found.push(`Tap the four corner marks of a target: ${taps.first.length} of ${CORNERS}.`);
  if (taps.second.length > 0 && taps.second.length < CORNERS) found.push(`The second target has ${taps.second.length} of ${CORNERS} corners.`);
  if (taps.edge.length < LEAST_RING) found.push(`${taps.edge.length} points round the piece; ${LEAST_RING} or more are needed.`);
  if (taps.edge.length >= LEAST_RING && crossesItself(taps.edge)) found.push("The line round the piece runs over itself; tap its points in order.");
  if (taps.hole.length > 0 && taps.hole.length < 3) found.push("A hole needs three points round it.");
  return found;
}

/** A finger is off by about so many pixels of the screen, and an edge of wood is never sharper than so many of the picture. */
const FINGER = 1.5;
const EDGE = 3;

/** What the form sends; empty while something is missing. grain: pixels of the picture for one of the screen as the edge was tapped. */
export function sentAs(taps: Taps, grain: number): string {
  if (missing(taps).length) return "";
  const lists = (["first", "second", "edge", "hole"] as const).map((list) => [list, taps[list].map(rounded)]);
  const tapping = Math.round(10 * Math.max(EDGE, FINGER * grain)) / 10;
  return JSON.stringify({ ...Object.fromEntries(lists), tapping });
}
