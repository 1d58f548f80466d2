// What was tapped on a photograph: lists of points by name, in the picture's own pixels. Rings close, lines do not, spots stand alone.

import type { Point } from "./geometry.ts";

export type Tapped<L extends string> = Readonly<Record<L, readonly Point[]>>;

/** The lists of one kind of photograph, and how many points each holds at most. */
export interface Kinds<L extends string> {
  readonly rings: readonly L[];
  readonly lines: readonly L[];
  readonly spots: readonly L[];
  readonly most: Readonly<Record<L, number>>;
}

/** A finger is off by about so many pixels of the screen, and an edge of wood is never sharper than so many of the picture. */
const FINGER = 1.5;
const EDGE = 3;

/** A ring closes from here on. */
export const LEAST_RING = 8;

export function nothing<L extends string>(kinds: Kinds<L>): Tapped<L> {
  const lists = [...kinds.rings, ...kinds.lines, ...kinds.spots].map((list) => [list, []] as const);
  return Object.fromEntries(lists) as unknown as Tapped<L>;
}

/** One point more; a full list lets its first one go. */
export function added<L extends string>(tapped: Tapped<L>, list: L, point: Point, most: number): Tapped<L> {
  const points = tapped[list];
  return { ...tapped, [list]: [...(points.length < most ? points : points.slice(1)), point] };
}

export function moved<L extends string>(tapped: Tapped<L>, list: L, i: number, to: Point): Tapped<L> {
  return { ...tapped, [list]: tapped[list].map((point, k) => (k === i ? to : point)) };
}

export function without<L extends string>(tapped: Tapped<L>, list: L, i: number): Tapped<L> {
  return { ...tapped, [list]: tapped[list].filter((_, k) => k !== i) };
}

export function rounded([x, y]: Point): Point {
  return [Math.round(x * 10) / 10, Math.round(y * 10) / 10];
}

/** How far a tap is off, in pixels of the picture. grain: how many of them one of the screen is. */
export function tappedWithin(grain: number): number {
  return Math.round(10 * Math.max(EDGE, FINGER * grain)) / 10;
}
