// What a hand can do to something on a photograph: a tap sets a point, points are dragged or tapped. S is all that was tapped so far;
// a tool leaves it as it is and hands back another.

import type { Point } from "./geometry.ts";

export interface Tool<S> {
  /** The points that can be dragged. */
  readonly handles: (all: S) => readonly Point[];
  /** A tap beside all handles. reach: how far a finger is off, in pixels of the picture. */
  readonly put: (all: S, at: Point, reach: number) => S;
  readonly moved: (all: S, handle: number, to: Point) => S;
  /** A handle was tapped and not dragged. */
  readonly touched?: (all: S, handle: number) => S;
  /** The last point away. */
  readonly shortened: (all: S) => S;
}

/** px: pixels of the picture for one on the screen; moving: a point is being dragged, what takes long may wait. */
export type Drawn<S> = (all: S, px: number, moving: boolean) => SVGElement[];
