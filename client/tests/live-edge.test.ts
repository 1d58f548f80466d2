import assert from "node:assert/strict";
import { test } from "node:test";

import type { Point } from "../src/outline/geometry.ts";
import { type Followed, followed, nearEdge } from "../src/whole/live_edge.ts";
import { type Shades, shadesOf } from "../src/whole/shades.ts";
import { offLine } from "../src/whole/thinned.ts";

const [WIDE, TALL] = [600, 240];
type Rgb = readonly [number, number, number];
type Edge = (x: number) => number;

/** Below the edge wood, above it the floor: a waney line with long and short waves. */
const waney: Edge = (x) => 120 + 22 * Math.sin(x / 90) + 5 * Math.sin(x / 17);
const FLOOR: Rgb = [120, 120, 120];

/** Normal noise that is the same each time (Box and Muller over a linear congruence). */
function noises(seed: number): () => number {
  let state = seed;
  const even = (): number => (state = (1103515245 * state + 12345) % 2147483648) / 2147483648 || 0.5;
  return () => Math.sqrt(-2 * Math.log(even())) * Math.cos(2 * Math.PI * even());
}

interface Looks {
  readonly wood: Rgb;
  readonly noise?: number;
  readonly grain?: number;
  readonly more?: (x: number, y: number) => number;
}

/** A photograph: a pixel that the edge runs through is partly wood. */
function photo(edge: Edge, { wood, noise = 0, grain = 0, more = () => 0 }: Looks): Shades {
  const rgba = new Uint8ClampedArray(4 * WIDE * TALL);
  const stray = noises(7);
  for (let y = 0; y < TALL; y++)
    for (let x = 0; x < WIDE; x++) {
      const share = Math.min(1, Math.max(0, y + 0.5 - edge(x)));
      const lines = share ? grain * Math.sin((y + 4 * Math.sin(x / 60)) / 2.5) : 0;
      const all = noise * stray() + lines + more(x, y);
      [0, 1, 2].forEach((k) => (rgba[4 * (y * WIDE + x) + k] = (wood[k] as number) * share + (FLOOR[k] as number) * (1 - share) + all));
    }
  return shadesOf(rgba, WIDE, TALL, 1);
}

const FROM: Point = [20, waney(20)];
const TO: Point = [580, waney(580)];

/** How far the line is off the edge: at its worst, and on the average, read at every pixel along. */
function off(found: Followed, edge: Edge, from = FROM, to = TO): { worst: number; mean: number } {
  const line = [from, ...found.points, to];
  const offs: number[] = [];
  for (let x = Math.ceil(from[0]); x < to[0]; x++) offs.push(Math.min(...line.slice(1).map((b, i) => offLine([x, edge(x)], line[i] as Point, b))));
  return { worst: Math.max(...offs), mean: offs.reduce((sum, one) => sum + one, 0) / offs.length };
}

test("a clean edge is followed to a fraction of a pixel", () => {
  const found = followed(photo(waney, { wood: [190, 150, 110] }), FROM, TO);
  const { worst, mean } = off(found, waney);
  assert.ok(found.clear && mean < 0.3 && worst < 1.2, `${mean} ${worst}`);
  assert.ok(found.points.length > 20 && found.points.length < 120, `${found.points.length}`);
});

test("noise and grain leave it within a pixel or two", () => {
  const found = followed(photo(waney, { wood: [180, 150, 115], noise: 12, grain: 8 }), FROM, TO);
  const { worst, mean } = off(found, waney);
  assert.ok(found.clear && mean < 0.8 && worst < 3, `${mean} ${worst}`);
});

test("wood as light as the floor is told by its warmth", () => {
  const found = followed(photo(waney, { wood: [143, 117, 78], noise: 4 }), FROM, TO);
  assert.ok(found.clear && off(found, waney).mean < 0.8);
});

test("a stronger line of the other kind beside the edge does not draw it away", () => {
  const pencil = (x: number, y: number): number => (Math.abs(y - waney(x) - 30) < 2 ? -90 : 0);
  const found = followed(photo(waney, { wood: [180, 150, 115], noise: 4, more: pencil }), FROM, TO);
  assert.ok(found.clear && off(found, waney).mean < 0.8, `${off(found, waney).mean}`);
});

test("of bark and wood it follows the edge that was tapped", () => {
  const dark = (x: number, y: number): number => (y > waney(x) && y < waney(x) + 12 ? -110 : 0);
  const shades = photo(waney, { wood: [200, 165, 125], noise: 4, more: dark });
  const inner: Edge = (x) => waney(x) + 12;
  assert.ok(off(followed(shades, FROM, TO), waney).mean < 0.8);
  const [from, to]: [Point, Point] = [[20, inner(20)], [580, inner(580)]];
  assert.ok(off(followed(shades, from, to), inner, from, to).mean < 0.8);
});

test("round a sawn corner it follows both edges", () => {
  const shades = shadesOf(
    Uint8ClampedArray.from({ length: 4 * WIDE * TALL }, (_, i) => {
      const [x, y] = [(i >> 2) % WIDE, Math.floor((i >> 2) / WIDE)];
      return x > 200 && y > 100 ? [180, 150, 115, 255][i & 3] as number : 100;
    }),
    WIDE, TALL, 1,
  );
  const found = followed(shades, [200.5, 125], [320, 100.5]);
  assert.ok(found.clear);
  const corner = Math.min(...found.points.map(([x, y]) => Math.hypot(x - 200.5, y - 100.5)));
  assert.ok(corner < 4, `${corner}`);
});

test("where nothing is seen, or too little, it says so and gives no line", () => {
  for (const looks of [{ wood: FLOOR, noise: 8 }, { wood: [123, 123, 123], noise: 12 }, { wood: FLOOR }, { wood: FLOOR, noise: 3, grain: 20 }] as Looks[]) {
    const found = followed(photo(waney, looks), FROM, TO);
    assert.deepEqual(found, { points: [], clear: false }, JSON.stringify(looks));
  }
});

test("an edge that fades on half of the way is not called clear", () => {
  const faded = (x: number, y: number): number => (x > 260 && y > waney(x) ? -47 : 0);
  assert.equal(followed(photo(waney, { wood: [167, 167, 167], noise: 6, more: faded }), FROM, TO).clear, false);
});

test("a tap beside the edge goes onto it, one where there is none stays", () => {
  const shades = photo(waney, { wood: [180, 150, 115], noise: 6 });
  const [x, y] = nearEdge(shades, [300, waney(300) + 6], 12);
  assert.ok(Math.abs(y - waney(x)) < 1.5 && Math.hypot(x - 300, y - waney(300)) < 8, `${x} ${y}`);
  assert.deepEqual(nearEdge(shades, [300, 210], 12), [300, 210]);
});

test("taps at one place, and taps on the rim of the photo, are no trouble", () => {
  const shades = photo(waney, { wood: [180, 150, 115] });
  assert.deepEqual(followed(shades, FROM, FROM), { points: [], clear: true });
  const rim = followed(shades, [0, waney(0)], [WIDE - 1, waney(WIDE - 1)]);
  assert.ok(rim.clear && off(rim, waney, [0, waney(0)], [WIDE - 1, waney(WIDE - 1)]).mean < 0.5);
});

test("taps at both ends of a large photo are enough for a bowed edge", () => {
  const [wide, tall] = [1500, 1125];
  const edge: Edge = (x) => 500 + 60 * Math.sin(x / 260);
  const rgba = new Uint8ClampedArray(4 * wide * tall);
  for (let i = 0; i < rgba.length; i++) {
    const [x, y] = [(i >> 2) % wide, Math.floor((i >> 2) / wide)];
    rgba[i] = (y > edge(x) ? [180, 150, 115, 255][i & 3] as number : 110) + ((x * 7 + y * 13) % 11);
  }
  const shades = shadesOf(rgba, wide, tall, 1);
  const found = followed(shades, [30, edge(30)], [1470, edge(1470)]);
  assert.ok(found.clear && off(found, edge, [30, edge(30)], [1470, edge(1470)]).mean < 0.6);
});
