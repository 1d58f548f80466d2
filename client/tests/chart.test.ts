// Chart: curves and readings in one row of moments.

import assert from "node:assert/strict";
import { test } from "node:test";

import { between, rows } from "../src/chart/draw.ts";

test("between known days a straight line, nothing beyond them", () => {
  assert.equal(between([0, 10], [80, 60], 5), 70);
  assert.equal(between([0, 10], [80, 60], 0), 80);
  assert.equal(between([0, 10], [80, 60], 11), null);
});

test("every moment once, in order, with the readings in their own row", () => {
  const after: [number[], number[], number[], number[]] = [[0, 10], [70, 50], [80, 60], [90, 70]];
  const found = rows({ name: "A-1-Y", wanted: 20, before: null, after, points: [[5, 72, 70, 75]] });
  assert.deepEqual(found, [[0, 5, 10], [70, 60, 50], [80, 70, 60], [90, 80, 70], [null, 72, null]]);
});
