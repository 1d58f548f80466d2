// The line round a piece: points that were tapped, and from each to the next the edge that the photo shows, or a straight line.

import { type Point, apart } from "../outline/geometry.ts";
import type { Followed } from "./live_edge.ts";
import { offLine } from "./thinned.ts";
import { untied } from "./untied.ts";

/** straight: a hand said that the line runs straight from here to the next one. */
export interface Corner {
  readonly at: Point;
  readonly straight: boolean;
}

/** In the order of the taps; shut: from the last one back to the first. */
export interface EdgeLine {
  readonly corners: readonly Corner[];
  readonly shut: boolean;
}

export const NO_LINE: EdgeLine = { corners: [], shut: false };
/** A ring has so many corners at least. */
const LEAST = 3;

/** What the photo shows between two points. */
export type Between = (from: Point, to: Point) => Followed;

/** points: with both ends; straight: as a hand said, or because no edge is seen there (then it is not clear). */
export interface Stretch {
  readonly points: readonly Point[];
  readonly straight: boolean;
  readonly clear: boolean;
}

export function stretches(line: EdgeLine, between: Between): Stretch[] {
  const { corners, shut } = line;
  return corners.slice(0, shut ? corners.length : -1).map(({ at, straight }, i) => {
    const next = (corners[(i + 1) % corners.length] as Corner).at;
    if (straight) return { points: [at, next], straight: true, clear: true };
    const { points, clear } = between(at, next);
    return { points: [at, ...points, next], straight: !clear, clear };
  });
}

/** The line as one ring of points, without the knots that stretches tie where they meet. */
export function ringOf(line: EdgeLine, between: Between): Point[] {
  const points = stretches(line, between).flatMap((stretch) => stretch.points.slice(0, -1));
  const last = line.corners.at(-1);
  return untied(line.shut || !last ? points : [...points, last.at]);
}

/** A ring again as a line, from its points and which of them a hand has set (none: all). What had nothing in between was straight. */
export function lineOf(ring: readonly Point[], set: readonly number[]): EdgeLine {
  const places = set.length ? set : ring.map((_, i) => i);
  const corners = places.map((place, i) => {
    const next = places[i + 1] ?? (places[0] ?? 0) + ring.length;
    return { at: ring[place] as Point, straight: next === place + 1 };
  });
  return { corners, shut: true };
}

/** One point more: the last one, and once the line is shut, where it runs nearest. A tap on the first one shuts it. */
export function withCorner(line: EdgeLine, at: Point, reach: number, between: Between): EdgeLine {
  const { corners, shut } = line;
  const first = corners[0];
  if (!shut && first && apart(first.at, at) <= reach) return shutLine(line);
  if (!shut) return { ...line, corners: [...corners, { at, straight: false }] };
  const near = nearestStretch(line, at, between);
  const added: Corner = { at, straight: corners[near]?.straight ?? false };
  return { ...line, corners: [...corners.slice(0, near + 1), added, ...corners.slice(near + 1)] };
}

/** Back to the first point, where there are enough. */
export function shutLine(line: EdgeLine): EdgeLine {
  return line.shut || line.corners.length < LEAST ? line : { ...line, shut: true };
}

/** The stretch nearest to a tap is made straight, or follows the edge again. */
export function straightAt(line: EdgeLine, at: Point, between: Between): EdgeLine {
  const near = nearestStretch(line, at, between);
  return { ...line, corners: line.corners.map((corner, i) => (i === near ? { ...corner, straight: !corner.straight } : corner)) };
}

export function cornerMoved(line: EdgeLine, which: number, to: Point): EdgeLine {
  return { ...line, corners: line.corners.map((corner, i) => (i === which ? { ...corner, at: to } : corner)) };
}

/** Open again, or without its last point. */
export function shortenedLine(line: EdgeLine): EdgeLine {
  return line.shut ? { ...line, shut: false } : { ...line, corners: line.corners.slice(0, -1) };
}

function nearestStretch(line: EdgeLine, at: Point, between: Between): number {
  const offs = stretches(line, between).map(({ points }) => Math.min(...points.slice(1).map((b, i) => offLine(at, points[i] as Point, b))));
  return offs.indexOf(Math.min(...offs));
}
