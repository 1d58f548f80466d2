// The figures of a log and its plan, as papers/solid.py writes them (waney-solid/1). Log frame, metres.

export type Vec = readonly [number, number, number];
export type Flat = readonly [number, number];

export interface Placing {
  turn: readonly [Vec, Vec, Vec];
  shift: Vec;
}

export interface Shape {
  z_m: number[];
  wood_m: Flat[][];
  bark_m: Flat[][];
}

export interface Rings {
  z_m: number[];
  pith_m: Flat[][];
  reach_m: number[][][];
}

export interface Cut {
  lie: number;
  blade_m: number;
  above_m: number;
  words: string;
}

export interface Part {
  name: string;
  short: string;
  words: string;
  kept: boolean;
}

export interface Piece {
  name: string;
  low_m: (Vec | null)[][];
  high_m: (Vec | null)[][];
  sawn_edges: [boolean, boolean];
}

export interface Spot {
  kind: string;
  words: string;
  from_m: number;
  to_m: number;
  x_m: number;
  y_m: number;
  radius_m: number;
}

export interface Solid {
  format: "waney-solid/1";
  log: string;
  shape: Shape;
  rings: Rings;
  lies: Placing[];
  cuts: Cut[];
  parts: Part[];
  pieces: Piece[];
  spots: Spot[];
  /** in words, the one that leads to each lie after the first */
  turns?: string[];
}

export function readSolid(text: string): Solid {
  const solid = JSON.parse(text) as Solid;
  if (solid.format !== "waney-solid/1") throw new Error(`These are no figures of a log: ${String(solid.format)}`);
  return solid;
}

export function dot(a: Vec, b: Vec): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

export function between(a: Vec, b: Vec, t: number): Vec {
  return [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]), a[2] + t * (b[2] - a[2])];
}

export function crossed(a: Vec, b: Vec): Vec {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}
