import assert from "node:assert/strict";
import { test } from "node:test";

import type { Point } from "../src/outline/geometry.ts";
import { nothing } from "../src/outline/tapped.ts";
import { PIECE, type Taps, missing, sentAs } from "../src/whole/taps.ts";

const corners: Point[] = [[100, 100], [300, 100], [300, 400], [100, 400]];
const edge: Point[] = [[0, 0], [500, 0], [1000, 0], [1000, 250], [1000, 500], [500, 500.04], [0, 500], [0, 250]];
const full: Taps = { first: corners, second: [], edge, hole: [] };

test("what is missing is said until a target and the piece are tapped", () => {
  assert.equal(missing(nothing(PIECE)).length, 2);
  assert.match(missing({ ...full, first: corners.slice(1) })[0] ?? "", /3 of 4/);
  assert.match(missing({ ...full, second: corners.slice(2) })[0] ?? "", /second target has 2 of 4/);
  assert.deepEqual(missing(full), []);
});

test("an edge that runs over itself and a hole of two points are refused", () => {
  const crossed = [...edge];
  [crossed[1], crossed[5]] = [edge[5] as Point, edge[1] as Point];
  assert.match(missing({ ...full, edge: crossed }).join(" "), /runs over itself/);
  assert.match(missing({ ...full, hole: corners.slice(2) }).join(" "), /hole/);
});

test("it is sent as lists of places in the picture, to a tenth of a pixel, and not before", () => {
  assert.equal(sentAs({ ...full, first: [] }, 1), "");
  const sent = JSON.parse(sentAs(full, 1)) as Record<string, Point[]>;
  assert.deepEqual(sent["first"], corners);
  assert.deepEqual(sent["edge"]?.[5], [500, 500]);
  assert.deepEqual(sent["hole"], []);
});

test("how far a tap is off follows from how large the picture stood on the screen", () => {
  const off = (grain: number): number => (JSON.parse(sentAs(full, grain)) as { tapping: number }).tapping;
  assert.equal(off(1), 3);
  assert.equal(off(10), 15);
});
