// What is tapped on a photograph of a whole piece: the corner marks of one target or two, the line round it, a hole, what is wrong with
// its faces.

import { type Point, crossesItself } from "../outline/geometry.ts";
import { type Kinds, LEAST_RING, type Tapped, nothing, rounded, tappedWithin } from "../outline/tapped.ts";
import { type EdgeLine, NO_LINE, lineOf } from "./edge_line.ts";
import { type Kind, type Marks, markOf, ringOfMark } from "./marks.ts";

export type List = "first" | "second" | "hole";
export type Whole = Tapped<List> & Marks & { readonly edge: EdgeLine };

/** Corner marks of a target: 1, 3, 12 and 10, round it. */
export const CORNERS = 4;
export const PIECE: Kinds<List> = {
  rings: ["hole"],
  lines: ["first", "second"],
  spots: [],
  most: { first: CORNERS, second: CORNERS, hole: 100 },
};
export const NOTHING: Whole = { ...nothing(PIECE), edge: NO_LINE, marks: [], chosen: -1 };

/** What is still missing or cannot be so, as sentences; none: it can be sent. ring: the line round the piece, point by point. */
export function missing(taps: Whole, ring: readonly Point[]): string[] {
  const found: string[] = [];
  if (taps.first.length < CORNERS) found.push(`Tap the four corner marks of a target: ${taps.first.length} of ${CORNERS}.`);
  if (taps.second.length > 0 && taps.second.length < CORNERS) found.push(`The second target has ${taps.second.length} of ${CORNERS} corners.`);
  if (!taps.edge.corners.length) found.push("Tap round the piece.");
  else if (!taps.edge.shut) found.push("The line round the piece is open: go on, and tap its first point again.");
  else if (ring.length < LEAST_RING) found.push(`${ring.length} points round the piece; ${LEAST_RING} or more are needed.`);
  else if (crossesItself(ring)) found.push("The line round the piece runs over itself; tap its points in order.");
  if (taps.hole.length > 0 && taps.hole.length < 3) found.push("A hole needs three points round it.");
  for (const mark of taps.marks) {
    if (!mark.whole) found.push(mark.shape === "crack" ? "Tap the other end of the crack." : `The line round a mark is open (${mark.kind}): tap its first point again.`);
  }
  return found;
}

/** What the form sends; empty while something is missing. grain: pixels of the picture for one of the screen as the edge was tapped. */
export function sentAs(taps: Whole, ring: readonly Point[], grain: number): string {
  if (missing(taps, ring).length) return "";
  const { first, second, hole } = taps;
  const [places, tapping] = [(points: readonly Point[]): Point[] => points.map(rounded), tappedWithin(grain)];
  const marks = taps.marks.map((mark) => ({ kind: mark.kind, face: mark.face, edge: places(ringOfMark(mark)) }));
  const set = new Set(taps.edge.corners.map(({ at }) => `${at}`));
  const corners = ring.flatMap((point, i) => (set.has(`${point}`) ? [i] : []));
  return JSON.stringify({ first: places(first), second: places(second), hole: places(hole), edge: places(ring), corners, marks, tapping, again: taps });
}

interface Sent {
  readonly first: Point[];
  readonly second: Point[];
  readonly hole: Point[];
  readonly edge: Point[];
  readonly corners: number[];
  readonly marks: { kind: Kind; face: string; edge: Point[] }[];
  readonly again?: Whole;
}

/** What was sent before, or stands in the sheet of the piece, to go on with. */
export function sentBefore(text: string): Whole {
  if (!text) return NOTHING;
  const { first, second, hole, edge, corners, marks, again } = JSON.parse(text) as Sent;
  if (again) return again;
  const known = marks.map((mark) => markOf(mark.kind, mark.face, mark.edge));
  return { first, second, hole, edge: lineOf(edge, corners), marks: known, chosen: -1 };
}
