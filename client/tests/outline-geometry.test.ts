import assert from "node:assert/strict";
import { test } from "node:test";

import { type Point, area, crossesItself, inside, nearest, placeFor } from "../src/outline/geometry.ts";

const square: Point[] = [[0, 0], [4, 0], [4, 4], [0, 4]];

function circle(n: number, radius: number): Point[] {
  return Array.from({ length: n }, (_, i) => [radius * Math.cos((2 * Math.PI * i) / n), radius * Math.sin((2 * Math.PI * i) / n)]);
}

test("an outline that runs clockwise on the picture encloses a positive area", () => {
  assert.equal(area(square), 16);
  assert.equal(area([...square].reverse()), -16);
});

test("a circle of many points encloses pi r squared", () => {
  assert.ok(Math.abs(area(circle(720, 3)) - 9 * Math.PI) < 1e-3);
});

test("a point is picked only within reach, and the nearest of several", () => {
  assert.equal(nearest(square, [3.5, 0.2], 1), 1);
  assert.equal(nearest(square, [2, 2], 1), -1);
});

test("a bow tie runs over itself, a square and a circle do not", () => {
  assert.equal(crossesItself([[0, 0], [4, 4], [4, 0], [0, 4]]), true);
  assert.equal(crossesItself(square), false);
  assert.equal(crossesItself(circle(40, 1)), false);
});

test("the pith lies inside the outline or it does not", () => {
  assert.equal(inside(square, [1, 3]), true);
  assert.equal(inside(square, [5, 3]), false);
});

test("a forgotten point goes between its neighbours on the outline", () => {
  assert.equal(placeFor(square, [4.2, 2]), 1);
  assert.equal(placeFor(square, [-0.2, 2]), 3);
});
