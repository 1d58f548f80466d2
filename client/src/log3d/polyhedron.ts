// A solid as flat faces that share their corners, and what a saw does to it.
//
// Faces are simple polygons, counter-clockwise seen from outside. Ends and cut faces stay whole polygons (no triangles), so
// that neighbours keep every corner in common and a cut through a cut face closes again.

import { type Shape, type Vec, between, crossed, dot } from "./figures.ts";

export type Kind = "round" | "end" | "cut";

export interface Face {
  corners: number[];
  kind: Kind;
}

export interface Polyhedron {
  points: Vec[];
  faces: Face[];
}

/** Corners this near a cut count as above it [m]: far below what is drawn, far above what arithmetic loses. */
const ON_THE_CUT = 1e-9;

/** The log with its bark. */
export function logOf(shape: Shape): Polyhedron {
  const m = shape.bark_m[0]?.length ?? 0;
  const n = shape.z_m.length;
  const points = shape.bark_m.flatMap((round, i) => round.map(([x, y]): Vec => [x, y, shape.z_m[i] ?? 0]));
  const at = (i: number, j: number): number => i * m + (j % m);
  const faces: Face[] = [];
  for (let i = 0; i + 1 < n; i++)
    for (let j = 0; j < m; j++) {
      faces.push({ corners: [at(i, j), at(i, j + 1), at(i + 1, j + 1)], kind: "round" });
      faces.push({ corners: [at(i, j), at(i + 1, j + 1), at(i + 1, j)], kind: "round" });
    }
  const round = Array.from({ length: m }, (_, j) => j);
  faces.push({ corners: round.map((j) => at(0, m - 1 - j)), kind: "end" });
  faces.push({ corners: round.map((j) => at(n - 1, j)), kind: "end" });
  return { points, faces };
}

/** Twice the area of a flat polygon along its normal. */
export function normalOf(points: readonly Vec[], corners: readonly number[]): Vec {
  let sum: Vec = [0, 0, 0];
  corners.forEach((corner, i) => {
    const a = points[corner] as Vec;
    const b = points[corners[(i + 1) % corners.length] as number] as Vec;
    const c = crossed(a, b);
    sum = [sum[0] + c[0], sum[1] + c[1], sum[2] + c[2]];
  });
  return sum;
}

/** m3, by the divergence theorem. */
export function volume({ points, faces }: Polyhedron): number {
  return faces.reduce((sum, { corners }) => sum + dot(points[corners[0] as number] as Vec, normalOf(points, corners)), 0) / 6;
}

/** What of a solid lies at up · p >= level. */
export function above(solid: Polyhedron, up: Vec, level: number): Polyhedron {
  const saw = new Saw(solid.points, up, level);
  const faces = solid.faces.flatMap((face) => saw.face(face));
  return { points: saw.points, faces: [...faces, ...saw.opened()] };
}

/** What of a solid lies at up · p <= level. */
export function below(solid: Polyhedron, up: Vec, level: number): Polyhedron {
  return above(solid, [-up[0], -up[1], -up[2]], -level);
}

interface Crossing {
  point: number;
  leaves: boolean;
}

class Saw {
  readonly points: Vec[];
  private readonly high: number[];
  private readonly cutEdges = new Map<string, number>();
  /** from corner to corner round the face that the cut opens */
  private readonly next = new Map<number, number>();

  constructor(points: readonly Vec[], private readonly up: Vec, level: number) {
    this.points = [...points];
    this.high = points.map((point) => {
      const over = dot(up, point) - level;
      return Math.abs(over) < ON_THE_CUT ? ON_THE_CUT : over;
    });
  }

  /** What stays of one face: itself, nothing, or one polygon or more. */
  face(face: Face): Face[] {
    const stays = face.corners.filter((corner) => this.over(corner) > 0).length;
    if (stays === face.corners.length) return [face];
    if (stays === 0) return [];
    const { chains, crossings } = this.chains(face.corners);
    const links = this.links(crossings, normalOf(this.points, face.corners));
    return loops(chains, links).map((corners) => ({ corners, kind: face.kind }));
  }

  /** The faces that the cut opened. */
  opened(): Face[] {
    const faces: Face[] = [];
    const left = new Set(this.next.keys());
    for (const start of this.next.keys()) {
      const corners: number[] = [];
      for (let at: number | undefined = start; at !== undefined && left.delete(at); at = this.next.get(at)) corners.push(at);
      if (corners.length > 2) faces.push({ corners, kind: "cut" });
    }
    return faces;
  }

  private over(corner: number): number {
    return this.high[corner] as number;
  }

  /** Runs of corners that stay, each from where the outline comes up to where it goes down, and all these places. */
  private chains(corners: readonly number[]): { chains: number[][]; crossings: Crossing[] } {
    const n = corners.length;
    const first = corners.findIndex((corner, i) => this.over(corner) <= 0 && this.over(corners[(i + 1) % n] as number) > 0);
    const chains: number[][] = [];
    const crossings: Crossing[] = [];
    for (let k = 0; k < n; k++) {
      const [a, b] = [corners[(first + k) % n] as number, corners[(first + k + 1) % n] as number];
      const [comes, stays] = [this.over(a) <= 0 && this.over(b) > 0, this.over(a) > 0];
      if (comes) chains.push([]);
      const leaves = stays && this.over(b) <= 0;
      if (stays) chains.at(-1)?.push(a);
      if (comes || leaves) {
        const point = this.cutEdge(a, b);
        chains.at(-1)?.push(point);
        crossings.push({ point, leaves });
      }
    }
    return { chains, crossings };
  }

  private cutEdge(a: number, b: number): number {
    const [low, high] = a < b ? [a, b] : [b, a]; // the same place from both faces of an edge
    const key = `${low} ${high}`;
    const known = this.cutEdges.get(key);
    if (known !== undefined) return known;
    const [from, to] = [this.over(low), this.over(high)];
    this.points.push(between(this.points[low] as Vec, this.points[high] as Vec, from / (from - to)));
    this.cutEdges.set(key, this.points.length - 1);
    return this.points.length - 1;
  }

  /** On the line of the cut across a face, places follow each other in pairs with wood between them. */
  private links(crossings: Crossing[], normal: Vec): Map<number, number> {
    const along = crossed(normal, this.up);
    const where = (crossing: Crossing): number => dot(along, this.points[crossing.point] as Vec);
    const inOrder = [...crossings].sort((a, b) => where(a) - where(b));
    const links = new Map<number, number>();
    for (let i = 0; i + 1 < inOrder.length; i += 2) {
      const [a, b] = [inOrder[i] as Crossing, inOrder[i + 1] as Crossing];
      const [out, back] = a.leaves ? [a.point, b.point] : [b.point, a.point];
      links.set(out, back);
      this.next.set(back, out);
    }
    return links;
  }
}

function loops(chains: readonly number[][], links: ReadonlyMap<number, number>): number[][] {
  const byStart = new Map(chains.map((chain) => [chain[0] as number, chain]));
  const found: number[][] = [];
  while (byStart.size) {
    const [start] = byStart.keys();
    const loop: number[] = [];
    for (let at = start; at !== undefined && byStart.has(at); ) {
      const chain = byStart.get(at) as number[];
      byStart.delete(at);
      loop.push(...chain);
      at = links.get(chain.at(-1) as number);
    }
    found.push(loop);
  }
  return found;
}
