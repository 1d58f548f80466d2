// The ring field where a graphics card can read it: s = distance from the pith / distance from the pith to the outline in
// that direction, the smaller of two. Everything is laid on even rows along the log and even directions round it.

import { ClampToEdgeWrapping, DataTexture, DataUtils, HalfFloatType, LinearFilter, RGBAFormat, RedFormat, RepeatWrapping } from "three";

import type { Flat, Rings, Shape } from "./figures.ts";

const ROWS = 64;
const DIRECTIONS = 256;

export interface RingTextures {
  length: number;
  piths: number;
  /** rows of (x, y of pith 1, x, y of pith 2) */
  pith: DataTexture;
  reach: DataTexture[];
  /** rows of (x, y of the middle of the outline, -, -) */
  middle: DataTexture;
  /** from the middle to the wood's outside */
  wood: DataTexture;
}

/** The station at or below z and the share of the way to the next. */
export function place(stations: readonly number[], z: number): [number, number] {
  let i = 0;
  while (i + 2 < stations.length && (stations[i + 1] as number) <= z) i++;
  const [low, high] = [stations[i] as number, stations[i + 1] as number];
  return [i, Math.min(1, Math.max(0, (z - low) / (high - low)))];
}

export function mixed(a: Flat, b: Flat, t: number): Flat {
  return [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
}

/** Distances from a point inside an outline to it, in `count` even directions from x towards y. */
export function reachOf(outline: readonly Flat[], from: Flat, count: number): number[] {
  const far = new Array<number>(count).fill(0);
  outline.forEach((here, i) => {
    const next = outline[(i + 1) % outline.length] as Flat;
    const [ax, ay, bx, by] = [here[0] - from[0], here[1] - from[1], next[0] - from[0], next[1] - from[1]];
    const cross = ax * by - ay * bx;
    if (cross <= 0) return; // seen edge on, or turning back
    const turn = (angle: number): number => (angle * count) / (2 * Math.PI);
    const start = turn(Math.atan2(ay, ax));
    const end = start + turn(Math.atan2(cross, ax * bx + ay * by));
    for (let k = Math.ceil(start); k <= end; k++) {
      const [c, s] = [Math.cos((2 * Math.PI * k) / count), Math.sin((2 * Math.PI * k) / count)];
      const along = cross / (c * (by - ay) - s * (bx - ax));
      const at = ((k % count) + count) % count;
      far[at] = Math.max(far[at] as number, along);
    }
  });
  return far;
}

function middleOf(outline: readonly Flat[]): Flat {
  const sum = outline.reduce(([x, y], [px, py]): Flat => [x + px, y + py], [0, 0] as Flat);
  return [sum[0] / outline.length, sum[1] / outline.length];
}

function texture(values: number[], width: number, channels: 1 | 4): DataTexture {
  const halves = Uint16Array.from(values, (value) => DataUtils.toHalfFloat(value));
  const made = new DataTexture(halves, width, ROWS, channels === 1 ? RedFormat : RGBAFormat, HalfFloatType);
  made.magFilter = made.minFilter = LinearFilter;
  made.wrapS = RepeatWrapping;
  made.wrapT = ClampToEdgeWrapping;
  made.needsUpdate = true;
  return made;
}

export function ringTextures(shape: Shape, rings: Rings): RingTextures {
  const length = shape.z_m.at(-1) ?? 1;
  const heights = Array.from({ length: ROWS }, (_, row) => (length * row) / (ROWS - 1));
  const middles: number[] = [];
  const wood: number[] = [];
  for (const z of heights) {
    const [i, t] = place(shape.z_m, z);
    const [low, high] = [shape.wood_m[i] as Flat[], shape.wood_m[i + 1] as Flat[]];
    const outline = low.map((point, j) => mixed(point, high[j] as Flat, t));
    const middle = middleOf(outline);
    middles.push(middle[0], middle[1], 0, 1);
    wood.push(...reachOf(outline, middle, DIRECTIONS));
  }
  const pithAt = (k: number, z: number): Flat => {
    const line = (rings.pith_m[k] ?? rings.pith_m[0]) as Flat[];
    const [i, t] = place(rings.z_m, z);
    return mixed(line[i] as Flat, line[i + 1] as Flat, t);
  };
  const reach = rings.reach_m.map((rows) => {
    const values = heights.flatMap((z) => {
      const [i, t] = place(rings.z_m, z);
      return (rows[i] as number[]).map((far, j) => far + t * ((rows[i + 1] as number[])[j] as number) - t * far);
    });
    return texture(values, rows[0]?.length ?? 1, 1);
  });
  const pith = texture(heights.flatMap((z) => [...pithAt(0, z), ...pithAt(1, z)]), 1, 4);
  return { length, piths: rings.pith_m.length, pith, reach, middle: texture(middles, 1, 4), wood: texture(wood, DIRECTIONS, 1) };
}
