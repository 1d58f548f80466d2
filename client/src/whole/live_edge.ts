// The edge between wood and what lies behind it, followed from one tap to the next: the cheapest way over the shades of the photo, cheap
// where they change across it, always with the same side the lighter (or the warmer). Places in pixels of the shades.

import { type Point, apart } from "../outline/geometry.ts";
import { DOWN, LONG, RIGHT, cheapest, stepTo } from "./cheapest.ts";
import type { Plane, Shades } from "./shades.ts";
import { thinned } from "./thinned.ts";

/** points: between the two taps, without them; clear: whether an edge was seen all along. Not clear: no points, it stays straight. */
export interface Followed {
  readonly points: readonly Point[];
  readonly clear: boolean;
}

const NOT_SEEN: Followed = { points: [], clear: false };
/** How far from the straight line an edge is looked for: a share of its length, and the least and the most of it. */
const ASIDE = 0.18;
const LEAST_ASIDE = 20;
const MOST_ASIDE = 90;
/** Cost of a pixel on the clearest edge, as a share of one on none: so much longer may a way round be. */
const FLOOR = 0.04;
const FINE_COST = 64;
/** An edge is clear where shades change across it so many times more than they do elsewhere, by so much at least, on so large a share of it. */
const CLEAR = 4;
const LEAST_CHANGE = 0.5;
const SHARE = 0.8;
/** Both sides keep apart, so many pixels off, by a share of what the change on the line says: a step of 1 changes by a fifth at most. */
const BESIDE = [4, 7, 10, 13] as const;
const LASTS = 0.2;
const OF_A_STEP = 5;
/** Steps from a tap that tell which edge it is on. */
const BESIDE_TAPS = 10;
/** Nearer than so many pixels there is nothing to follow. */
const NEAR = 4;
/** Pixels on either side within which the place of the edge is found anew, and over which its direction is read. */
const WITHIN = 3;
const READ_OVER = 4;

/** A piece of the shades: from `left`, `top`, with its own width and height. */
interface Window {
  readonly left: number;
  readonly top: number;
  readonly wide: number;
  readonly tall: number;
  readonly open: Uint8Array;
}

export function followed(shades: Shades, from: Point, to: Point): Followed {
  if (apart(from, to) < NEAR) return { points: [], clear: true };
  const window = band(shades, from, to);
  let best: Way | null = null;
  for (let plane = 0; plane < shades.coarse.length; plane++) {
    const change = changes(shades.coarse[plane] as Plane, shades.wide, window);
    for (const side of [1, -1]) {
      const way = wayOver(shades, window, change, side, from, to, plane);
      if (way && way.seen >= 1 && (!best || way.held > best.held)) best = way;
    }
  }
  if (!best) return NOT_SEEN;
  return { points: thinned(drawnTo(shades, best), from, to), clear: true };
}

/** The nearest edge within reach of a tap, be it bark or wood that ends there; the tap itself where none is clear. */
export function nearEdge(shades: Shades, at: Point, reach: number): Point {
  const window = disc(shades, at, 3 * reach);
  let [best, found]: [number, Point] = [0, at];
  shades.coarse.forEach((plane, which) => {
    const change = changes(plane, shades.wide, window);
    const least = Math.max(LEAST_CHANGE, CLEAR * change.usual);
    for (let i = 0; i < window.open.length; i++) {
      const [x, y] = [window.left + (i % window.wide), window.top + Math.floor(i / window.wide)];
      const far = Math.hypot(x - at[0], y - at[1]);
      if (far > reach || !window.open[i]) continue;
      const [right, down] = [change.right[i] as number, change.down[i] as number];
      const steep = Math.hypot(right, down);
      if (steep < least || !crest(change, window, i, steep)) continue;
      const worth = Math.min(1, steep / (2 * least)) * (1 - far / reach);
      if (worth <= best) continue;
      [best, found] = [worth, steepest(shades.fine[which] as Plane, shades, [x, y], [right / steep, down / steep])];
    }
  });
  return found;
}

/** Whether the shades change less on either side of a cell, along the way in which they change. */
function crest({ right, down }: Changes, { wide }: Window, cell: number, steep: number): boolean {
  const step = Math.round((right[cell] as number) / steep) + wide * Math.round((down[cell] as number) / steep);
  return [cell + step, cell - step].every((beside) => Math.hypot(right[beside] ?? 0, down[beside] ?? 0) <= steep);
}

function band(shades: Shades, from: Point, to: Point): Window {
  const aside = Math.min(MOST_ASIDE, Math.max(LEAST_ASIDE, ASIDE * apart(from, to)));
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  const long2 = dx * dx + dy * dy;
  return windowOf(shades, [from, to], aside, (x, y) => {
    const share = Math.min(1, Math.max(0, ((x - from[0]) * dx + (y - from[1]) * dy) / long2));
    return Math.hypot(x - from[0] - share * dx, y - from[1] - share * dy) <= aside;
  });
}

function disc(shades: Shades, at: Point, reach: number): Window {
  return windowOf(shades, [at], reach, (x, y) => Math.hypot(x - at[0], y - at[1]) <= reach);
}

function windowOf(shades: Shades, round: readonly Point[], aside: number, within: (x: number, y: number) => boolean): Window {
  const clip = (value: number, most: number): number => Math.min(most, Math.max(0, Math.round(value)));
  const [xs, ys] = [round.map(([x]) => x), round.map(([, y]) => y)];
  const [left, top] = [clip(Math.min(...xs) - aside, shades.wide - 1), clip(Math.min(...ys) - aside, shades.tall - 1)];
  const wide = clip(Math.max(...xs) + aside, shades.wide - 1) - left + 1;
  const tall = clip(Math.max(...ys) + aside, shades.tall - 1) - top + 1;
  const open = new Uint8Array(wide * tall);
  for (let i = 0; i < open.length; i++) open[i] = Number(within(left + (i % wide), top + Math.floor(i / wide)));
  return { left, top, wide, tall, open };
}

/** How a shade changes to the right and downwards, a pixel; usual: in the middle of all that is open. */
interface Changes {
  readonly right: Float32Array;
  readonly down: Float32Array;
  readonly usual: number;
}

function changes(plane: Plane, stride: number, window: Window): Changes {
  const { left, top, wide, tall, open } = window;
  const right = new Float32Array(wide * tall);
  const down = new Float32Array(wide * tall);
  const rows = plane.length / stride;
  const sizes = new Float32Array(wide * tall);
  let count = 0;
  for (let i = 0; i < open.length; i++) {
    if (!open[i]) continue;
    const [x, y] = [left + (i % wide), top + Math.floor(i / wide)];
    const row = y * stride;
    right[i] = ((plane[row + Math.min(stride - 1, x + 1)] as number) - (plane[row + Math.max(0, x - 1)] as number)) / 2;
    down[i] = ((plane[Math.min(rows - 1, y + 1) * stride + x] as number) - (plane[Math.max(0, y - 1) * stride + x] as number)) / 2;
    if (i % 3 === 0) sizes[count++] = Math.sqrt((right[i] as number) ** 2 + (down[i] as number) ** 2);
  }
  return { right, down, usual: sizes.subarray(0, count).sort()[count >> 1] ?? 0 };
}

/** cells: of the shades, from tap to tap; seen: how clear it is, from 1 on it is; held: the same beside both taps, for of two edges
 * that of wood and that of its bark, a hand has tapped the one it means. side: which side is the lighter. */
interface Way {
  readonly cells: readonly Point[];
  readonly seen: number;
  readonly held: number;
  readonly plane: number;
  readonly side: number;
}

function wayOver(shades: Shades, window: Window, change: Changes, side: number, from: Point, to: Point, plane: number): Way | null {
  const { left, top, wide, tall, open } = window;
  const { right, down } = change;
  const least = Math.max(LEAST_CHANGE, CLEAR * change.usual);
  const strongAll = strongest(window, change, side, from, to);
  if (strongAll < least) return null;
  const tapped = (steepNear(window, change, from) + steepNear(window, change, to)) / 2;
  const strong = Math.max(least, Math.min(strongAll, tapped));
  const across = (cell: number, step: number): number =>
    (side * ((right[cell] as number) * (DOWN[step] as number) - (down[cell] as number) * (RIGHT[step] as number))) / (LONG[step] as number);
  const cost = (here: number, next: number, step: number): number => {
    const lacks = 1 - Math.min(1, Math.max(0, (across(here, step) + across(next, step)) / (2 * strong)));
    return 1 + Math.round(FINE_COST * (LONG[step] as number) * (FLOOR + lacks * lacks));
  };
  const cell = ([x, y]: Point): number => {
    const column = Math.min(wide - 1, Math.max(0, Math.round(x) - left));
    return Math.min(tall - 1, Math.max(0, Math.round(y) - top)) * wide + column;
  };
  const most = 2 + Math.round(FINE_COST * Math.SQRT2 * (1 + FLOOR));
  const way = cheapest({ wide, tall, open, cost, most }, cell(from), cell(to));
  if (way.length < 2) return null;
  const cells = way.map((one): Point => [left + (one % wide), top + Math.floor(one / wide)]);
  const seen = Float32Array.from(way.slice(1), (one, i) => {
    const [a, b] = [cells[i] as Point, cells[i + 1] as Point];
    return across(one, stepTo(b[0] - a[0], b[1] - a[1]));
  });
  const implied = OF_A_STEP * meanOf(seen);
  const held = Math.min(...[seen.slice(0, BESIDE_TAPS), seen.slice(-BESIDE_TAPS)].map((part) => meanOf(part.map((one) => Math.min(one, strong))))) / least;
  if (apartOnBothSides(shades, { cells, plane, side }) < LASTS * implied) return null;
  return { cells, held, seen: (seen.sort()[Math.floor((1 - SHARE) * seen.length)] ?? 0) / least, plane, side };
}

function meanOf(figures: Float32Array): number {
  return figures.reduce((sum, one) => sum + one, 0) / figures.length;
}

/** How much shades change where they change most beside a tap. */
function steepNear(window: Window, { right, down }: Changes, at: Point): number {
  let most = 0;
  for (let i = 0; i < right.length; i++) {
    const far = Math.hypot(window.left + (i % window.wide) - at[0], window.top + Math.floor(i / window.wide) - at[1]);
    if (far <= WITHIN) most = Math.max(most, Math.hypot(right[i] as number, down[i] as number));
  }
  return most;
}

/** How far the shades on both sides of a way are apart, on the average, some way off it: a line in the grain has the same on both. */
function apartOnBothSides(shades: Shades, way: Pick<Way, "cells" | "plane" | "side">): number {
  const plane = shades.coarse[way.plane] as Plane;
  let sum = 0;
  way.cells.forEach(([x, y], i) => {
    const [right, down] = towardsLight(way, i);
    for (const off of BESIDE) sum += shadeAt(plane, shades, x + off * right, y + off * down) - shadeAt(plane, shades, x - off * right, y - off * down);
  });
  return sum / (way.cells.length * BESIDE.length);
}

/** Square to a way at one of its cells, to the side that is the lighter. */
function towardsLight({ cells, side }: Pick<Way, "cells" | "side">, i: number): Point {
  const before = cells[Math.max(0, i - READ_OVER)] as Point;
  const after = cells[Math.min(cells.length - 1, i + READ_OVER)] as Point;
  const long = apart(before, after) || 1;
  return [(side * (after[1] - before[1])) / long, (-side * (after[0] - before[0])) / long];
}

/** How much shades change across the line at the clearest place beside it, in the middle of all places along it. */
function strongest(window: Window, change: Changes, side: number, from: Point, to: Point): number {
  const { left, top, wide, tall, open } = window;
  const long = apart(from, to);
  const [dx, dy] = [(to[0] - from[0]) / long, (to[1] - from[1]) / long];
  const most = new Float32Array(Math.ceil(long) + 1);
  for (let i = 0; i < wide * tall; i++) {
    if (!open[i]) continue;
    const at = (left + (i % wide) - from[0]) * dx + (top + Math.floor(i / wide) - from[1]) * dy;
    if (at < 0 || at > long) continue;
    const across = side * ((change.right[i] as number) * dy - (change.down[i] as number) * dx);
    const place = Math.round(at);
    if (across > (most[place] as number)) most[place] = across;
  }
  return most.sort()[most.length >> 1] ?? 0;
}

/** The way with every place on the very edge, to a fraction of a pixel. */
function drawnTo(shades: Shades, way: Way): Point[] {
  return way.cells.map((at, i) => steepest(shades.fine[way.plane] as Plane, shades, at, towardsLight(way, i)));
}

/** The place near by, along a direction, at which the shade rises most in it. */
function steepest(plane: Plane, shades: Shades, at: Point, [right, down]: Point): Point {
  const shade = (off: number): number => shadeAt(plane, shades, at[0] + off * right, at[1] + off * down);
  const rises = Array.from({ length: 2 * WITHIN + 1 }, (_, k) => shade(k - WITHIN + 0.5) - shade(k - WITHIN - 0.5));
  let best = WITHIN;
  rises.forEach((rise, k) => {
    if (rise > (rises[best] as number)) best = k;
  });
  if (best === 0 || best === 2 * WITHIN) return at;
  const [a, b, c] = [rises[best - 1] as number, rises[best] as number, rises[best + 1] as number];
  const bend = a - 2 * b + c;
  const off = best - WITHIN + (bend < 0 ? (a - c) / (2 * bend) : 0);
  return [at[0] + off * right, at[1] + off * down];
}

function shadeAt(plane: Plane, { wide, tall }: Shades, x: number, y: number): number {
  const [cx, cy] = [Math.min(wide - 1.001, Math.max(0, x)), Math.min(tall - 1.001, Math.max(0, y))];
  const [i, j] = [Math.floor(cx), Math.floor(cy)];
  const [u, v] = [cx - i, cy - j];
  const at = (k: number): number => plane[k] ?? 0;
  const above = j * wide + i;
  return (at(above) * (1 - u) + at(above + 1) * u) * (1 - v) + (at(above + wide) * (1 - u) + at(above + wide + 1) * u) * v;
}
