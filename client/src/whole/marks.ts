// Marks: what is wrong with the faces of a piece, tapped on its photo. A spot has a size, a crack two ends, an area an outline.

import { type Point, apart } from "../outline/geometry.ts";

/** The words of the piece sheet. */
export const KINDS = ["knot", "hole", "crack", "bark pocket", "metal", "punky", "pith", "wane", "stain"] as const;
export type Kind = (typeof KINDS)[number];
export type Face = "A" | "B" | "both";
export type Shape = "spot" | "crack" | "area";

/** size: of a spot from its middle outwards, of a crack what it spoils to either side, in the picture's pixels; 0 for an area. */
export interface Mark {
  readonly kind: Kind;
  readonly face: Face;
  readonly shape: Shape;
  readonly points: readonly Point[];
  readonly size: number;
  /** an area that goes round; a crack with both ends; every spot */
  readonly whole: boolean;
}

/** What the next mark will be. */
export interface Brush {
  readonly kind: Kind;
  readonly face: Face;
  readonly shape: Shape;
  /** of a new spot and of a new crack */
  readonly spot: number;
  readonly crack: number;
}

/** All marks, and the one that was touched last; -1 for none. */
export interface Marks {
  readonly marks: readonly Mark[];
  readonly chosen: number;
}

const LEAST_AREA = 3;
const ROUND = 12;
const STEP = 1.25;
/** Of a target, between the marks that are tapped in turn: three across, four along. */
const SIDES_M = [0.15, 0.225, 0.15, 0.225] as const;
/** A spot and a crack to begin with: what is as wide as a thumb, and what a crack of a hair's width spoils. */
const SPOT_M = 0.015;
const CRACK_M = 0.003;

/** Sizes to begin with, from how large a target looks; otherwise: without one. */
export function firstSizes(corners: readonly Point[], otherwise: number): { spot: number; crack: number } {
  if (corners.length < SIDES_M.length) return { spot: otherwise, crack: otherwise / 5 };
  const scales = SIDES_M.map((side, i) => apart(corners[i] as Point, corners[(i + 1) % SIDES_M.length] as Point) / side);
  const metre = scales.reduce((sum, one) => sum + one, 0) / scales.length;
  return { spot: SPOT_M * metre, crack: CRACK_M * metre };
}

/** A tap: a new mark, or the next point of the one that is under way. */
export function withTap({ marks, chosen }: Marks, at: Point, brush: Brush, reach: number): Marks {
  const open = marks[chosen];
  if (open && !open.whole && open.shape === brush.shape && open.kind === brush.kind) return { marks: marks.map((one, i) => (i === chosen ? continued(one, at, reach) : one)), chosen };
  const { kind, face, shape } = brush;
  const made: Mark = { kind, face, shape, points: [at], size: shape === "area" ? 0 : brush[shape], whole: shape === "spot" };
  const kept = marks.filter((one) => one.whole);
  return { marks: [...kept, made], chosen: kept.length };
}

function continued(mark: Mark, at: Point, reach: number): Mark {
  if (mark.shape === "crack") return { ...mark, points: [...mark.points, at], whole: true };
  const first = mark.points[0] as Point;
  if (mark.points.length >= LEAST_AREA && apart(first, at) <= reach) return { ...mark, whole: true };
  return { ...mark, points: [...mark.points, at] };
}

/** Handles, in the order of the marks. */
export function handlesOf(marks: readonly Mark[]): Point[] {
  return marks.flatMap((mark) => mark.points);
}

/** The mark and its point that a handle stands for. */
function owner(marks: readonly Mark[], handle: number): [number, number] {
  let left = handle;
  for (let i = 0; i < marks.length; i++) {
    const count = (marks[i] as Mark).points.length;
    if (left < count) return [i, left];
    left -= count;
  }
  return [-1, -1];
}

/** A handle was tapped: its mark is the chosen one; the first point of an area under way closes it. */
export function touchedMark({ marks, chosen }: Marks, handle: number): Marks {
  const [which, point] = owner(marks, handle);
  const mark = marks[which];
  if (!mark) return { marks, chosen };
  const closes = mark.shape === "area" && !mark.whole && point === 0 && mark.points.length >= LEAST_AREA;
  return { marks: closes ? marks.map((one, i) => (i === which ? { ...one, whole: true } : one)) : marks, chosen: which };
}

export function movedMark({ marks }: Marks, handle: number, to: Point): Marks {
  const [which, point] = owner(marks, handle);
  const points = (mark: Mark): Point[] => mark.points.map((at, k) => (k === point ? to : at));
  return { marks: marks.map((mark, i) => (i === which ? { ...mark, points: points(mark) } : mark)), chosen: which };
}

/** The chosen mark wider or narrower. */
export function resized({ marks, chosen }: Marks, wider: boolean): Marks {
  return { marks: marks.map((mark, i) => (i === chosen ? { ...mark, size: mark.size * (wider ? STEP : 1 / STEP) } : mark)), chosen };
}

/** Without the chosen mark. */
export function withoutMark({ marks, chosen }: Marks): Marks {
  return { marks: marks.filter((_, i) => i !== chosen), chosen: -1 };
}

/** A mark again, from the ring that was sent of it. */
export function markOf(kind: Kind, face: string, ring: readonly Point[]): Mark {
  const mark = { kind, face: face.length === 1 ? (face.toUpperCase() as Face) : ("both" as const), whole: true };
  const half = ([a, b]: readonly Point[]): Point => [((a as Point)[0] + (b as Point)[0]) / 2, ((a as Point)[1] + (b as Point)[1]) / 2];
  const [middle, rim] = [half([ring[0] as Point, ring[ROUND / 2] ?? (ring[0] as Point)]), ring[0] as Point];
  const round = ring.length === ROUND && ring.every((point) => Math.abs(apart(middle, point) - apart(middle, rim)) < 1);
  if (round) return { ...mark, shape: "spot", points: [middle], size: apart(middle, rim) };
  if (kind !== "crack" || ring.length !== 4) return { ...mark, shape: "area", points: ring, size: 0 };
  return { ...mark, shape: "crack", points: [half(ring.slice(0, 2)), half(ring.slice(2))], size: apart(ring[0] as Point, ring[1] as Point) / 2 };
}

/** Round what the mark spoils; of an area under way, what is there. */
export function ringOfMark({ shape, points, size }: Mark): Point[] {
  const [a, b] = points as [Point, Point | undefined];
  if (shape === "spot" || (shape === "crack" && !b)) {
    return Array.from({ length: ROUND }, (_, k) => [a[0] + size * Math.cos((2 * Math.PI * k) / ROUND), a[1] + size * Math.sin((2 * Math.PI * k) / ROUND)]);
  }
  if (shape === "area" || !b) return [...points];
  const long = apart(a, b) || 1;
  const [u, v] = [(size * (b[0] - a[0])) / long, (size * (b[1] - a[1])) / long];
  return [[a[0] - v, a[1] + u], [a[0] + v, a[1] - u], [b[0] + v, b[1] - u], [b[0] - v, b[1] + u]];
}
