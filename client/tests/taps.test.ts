import assert from "node:assert/strict";
import { test } from "node:test";

import { type Point, apart } from "../src/outline/geometry.ts";
import { type EdgeLine, NO_LINE } from "../src/whole/edge_line.ts";
import type { Mark } from "../src/whole/marks.ts";
import { NOTHING, type Whole, missing, sentAs, sentBefore } from "../src/whole/taps.ts";

const corners: Point[] = [[100, 100], [300, 100], [300, 400], [100, 400]];
const ring: Point[] = [[0, 0], [500, 0], [1000, 0], [1000, 250], [1000, 500], [500, 500.04], [0, 500], [0, 250]];
const edge: EdgeLine = { corners: ring.map((at) => ({ at, straight: true })), shut: true };
const full: Whole = { ...NOTHING, first: corners, edge };

test("what is missing is said until a target and the piece are tapped", () => {
  assert.equal(missing(NOTHING, []).length, 2);
  assert.match(missing({ ...full, first: corners.slice(1) }, ring)[0] ?? "", /3 of 4/);
  assert.match(missing({ ...full, second: corners.slice(2) }, ring)[0] ?? "", /second target has 2 of 4/);
  assert.match(missing({ ...full, edge: { ...edge, shut: false } }, ring)[0] ?? "", /open/);
  assert.match(missing(full, ring.slice(1))[0] ?? "", /7 points/);
  assert.deepEqual(missing(full, ring), []);
});

test("an edge that runs over itself and a hole of two points are refused", () => {
  const crossed = [...ring];
  [crossed[1], crossed[5]] = [ring[5] as Point, ring[1] as Point];
  assert.match(missing(full, crossed).join(" "), /runs over itself/);
  assert.match(missing({ ...full, hole: corners.slice(2) }, ring).join(" "), /hole/);
});

test("it is sent as lists of places in the picture, to a tenth of a pixel, and not before", () => {
  assert.equal(sentAs({ ...full, edge: NO_LINE }, [], 1), "");
  const sent = JSON.parse(sentAs(full, ring, 1)) as Record<string, Point[]>;
  assert.deepEqual(sent["first"], corners);
  assert.deepEqual(sent["edge"]?.[5], [500, 500]);
  assert.deepEqual(sent["hole"], []);
});

test("what was sent can be gone on with", () => {
  assert.deepEqual(sentBefore(sentAs(full, ring, 1)), full);
  assert.deepEqual(sentBefore(""), NOTHING);
});

test("what stands in the sheet of the piece can be gone on with", () => {
  const curved: EdgeLine = { corners: [0, 2, 4, 6].map((i) => ({ at: ring[i] as Point, straight: i === 4 })), shut: true };
  const marks: Mark[] = [
    { kind: "knot", face: "A", shape: "spot", points: [[400, 200]], size: 20, whole: true },
    { kind: "crack", face: "both", shape: "crack", points: [[600, 300], [800, 300]], size: 4, whole: true },
    { kind: "punky", face: "B", shape: "area", points: [[10, 10], [60, 10], [60, 80]], size: 0, whole: true },
  ];
  const bent: Point[] = ring.filter((_, i) => i !== 5);
  const { again: _, ...sent } = JSON.parse(sentAs({ ...full, edge: curved, marks, hole: [] }, [...bent, [0, 125]], 1)) as Record<string, unknown>;
  const before = sentBefore(JSON.stringify(sent));
  assert.deepEqual(before.edge, { corners: curved.corners.map((corner) => ({ ...corner, straight: corner.at === ring[4] })), shut: true });
  assert.deepEqual(before.marks.map(({ shape, kind, face }) => [shape, kind, face]), marks.map(({ shape, kind, face }) => [shape, kind, face]));
  before.marks.forEach((mark, i) => {
    assert.ok(Math.abs(mark.size - (marks[i] as Mark).size) < 0.1);
    mark.points.forEach((point, k) => assert.ok(apart(point, marks[i]?.points[k] as Point) < 0.2));
  });
});

test("how far a tap is off follows from how large the picture stood on the screen", () => {
  const off = (grain: number): number => (JSON.parse(sentAs(full, ring, grain)) as { tapping: number }).tapping;
  assert.equal(off(1), 3);
  assert.equal(off(10), 15);
});
