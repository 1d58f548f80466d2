import assert from "node:assert/strict";
import { test } from "node:test";

import type { Point } from "../src/outline/geometry.ts";
import { type Brush, type Marks, firstSizes, handlesOf, movedMark, resized, ringOfMark, touchedMark, withTap, withoutMark } from "../src/whole/marks.ts";

const NONE: Marks = { marks: [], chosen: -1 };
const KNOT: Brush = { kind: "knot", face: "A", shape: "spot", spot: 20, crack: 4 };
const CRACK: Brush = { ...KNOT, kind: "crack", face: "both", shape: "crack" };
const PUNKY: Brush = { ...KNOT, kind: "punky", face: "B", shape: "area" };

function tapped(brush: Brush, points: readonly Point[], marks = NONE): Marks {
  return points.reduce((all, at) => withTap(all, at, brush, 5), marks);
}

function box(points: readonly Point[]): number[] {
  const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
  return [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)].map((one) => Math.round(one * 1e6) / 1e6);
}

test("a tap is a spot with a size, two are a crack as wide as it spoils, several an area", () => {
  const all = tapped(PUNKY, [[0, 0], [50, 0], [50, 40], [1, 1]], tapped(CRACK, [[300, 10], [400, 10]], tapped(KNOT, [[100, 100]])));
  assert.deepEqual(all.marks.map(({ kind, face, whole }) => [kind, face, whole]), [["knot", "A", true], ["crack", "both", true], ["punky", "B", true]]);
  assert.deepEqual(all.marks.map((mark) => box(ringOfMark(mark))), [[80, 120, 80, 120], [300, 400, 6, 14], [0, 50, 0, 40]]);
});

test("every tap is a mark of its own once the one before is whole", () => {
  assert.equal(tapped(KNOT, [[1, 1], [50, 50]]).marks.length, 2);
  assert.equal(tapped(CRACK, [[0, 0], [9, 0], [50, 50], [70, 50]]).marks.length, 2);
});

test("one that was begun and left is let go", () => {
  const left = tapped(KNOT, [[90, 90]], tapped(CRACK, [[0, 0]]));
  assert.deepEqual(left.marks.map(({ kind }) => kind), ["knot"]);
});

test("the mark that was touched last is made wider and taken away", () => {
  const two = tapped(KNOT, [[100, 100], [200, 100]]);
  const touched = touchedMark(two, 0);
  assert.deepEqual(box(ringOfMark(resized(touched, true).marks[0]!)), [75, 125, 75, 125]);
  assert.equal(resized(touched, true).marks[1]?.size, 20);
  assert.deepEqual(withoutMark(touched).marks.map(({ points }) => points), [[[200, 100]]]);
});

test("a handle is a point of the mark it lies on", () => {
  const all = tapped(KNOT, [[7, 7]], tapped(CRACK, [[0, 0], [9, 0]]));
  assert.deepEqual(handlesOf(all.marks), [[0, 0], [9, 0], [7, 7]]);
  assert.deepEqual(handlesOf(movedMark(all, 1, [20, 0]).marks), [[0, 0], [20, 0], [7, 7]]);
  assert.equal(movedMark(all, 2, [8, 8]).chosen, 1);
});

test("an area is closed by its first handle too, and only with three points", () => {
  assert.equal(touchedMark(tapped(PUNKY, [[0, 0], [50, 0]]), 0).marks[0]?.whole, false);
  assert.equal(touchedMark(tapped(PUNKY, [[0, 0], [50, 0], [50, 40]]), 0).marks[0]?.whole, true);
});

test("sizes begin with those of the target: 30 mm across a spot, 6 mm across a crack", () => {
  const target: Point[] = [[0, 0], [300, 0], [300, 450], [0, 450]]; // 2 pixels a millimetre
  assert.deepEqual(firstSizes(target, 11), { spot: 30, crack: 6 });
  assert.deepEqual(firstSizes(target.slice(1), 10), { spot: 10, crack: 2 });
});
