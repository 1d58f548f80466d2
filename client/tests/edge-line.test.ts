import assert from "node:assert/strict";
import { test } from "node:test";

import { type Point, area, crossesItself } from "../src/outline/geometry.ts";
import { type Between, type EdgeLine, NO_LINE, ringOf, shortenedLine, straightAt, stretches, withCorner } from "../src/whole/edge_line.ts";
import { untied } from "../src/whole/untied.ts";

const REACH = 10;
const CORNERS: Point[] = [[0, 0], [100, 0], [100, 50], [0, 50]];

/** A photo on which the long edges bulge by 8, and the ends are not seen. */
const bulging: Between = ([x0, y0], [x1, y1]) =>
  y0 === y1 ? { points: [[(x0 + x1) / 2, y0 === 0 ? -8 : y0 + 8]], clear: true } : { points: [], clear: false };

function tapped(points: readonly Point[], line = NO_LINE): EdgeLine {
  return points.reduce((all, at) => withCorner(all, at, REACH, bulging), line);
}

const round = tapped([...CORNERS, [3, 2]]);

test("taps go on in order, and a tap on the first point shuts the line, not sooner than with three", () => {
  assert.equal(tapped(CORNERS).shut, false);
  assert.equal(round.shut, true);
  assert.equal(round.corners.length, 4);
  assert.equal(tapped([...CORNERS.slice(0, 2), [3, 2]]).shut, false);
});

test("along the first edge a line stays open, however many points it has", () => {
  const along = Array.from({ length: 12 }, (_, i): Point => [30 * i, 0]);
  assert.deepEqual(tapped([...along, [330, 90]]).corners.at(-1)?.at, [330, 90]);
});

test("between two points lies what the photo shows, and a straight line where it shows nothing", () => {
  assert.deepEqual(ringOf(round, bulging), [[0, 0], [50, -8], [100, 0], [100, 50], [50, 58], [0, 50]]);
  assert.deepEqual(stretches(round, bulging).map(({ straight, clear }) => [straight, clear]), [[false, true], [true, false], [false, true], [true, false]]);
});

test("a tap on a line that goes round sets a point where it runs nearest", () => {
  const more = tapped([[52, -12]], round);
  assert.deepEqual(more.corners[1]?.at, [52, -12]);
  assert.equal(more.corners.length, 5);
});

test("a hand says straight, and takes it back; that is no doubt of the photo", () => {
  const straight = straightAt(round, [50, -7], bulging);
  assert.deepEqual(stretches(straight, bulging)[0], { points: [[0, 0], [100, 0]], straight: true, clear: true });
  assert.deepEqual(tapped([[50, 1]], straight).corners.map((corner) => corner.straight), [true, true, false, false, false]);
  assert.deepEqual(straightAt(straight, [50, 1], bulging), round);
});

test("a knot where two stretches meet is cut off, a line in a wrong order is left and told", () => {
  const tied: Point[] = [[0, 0], [400, 0], [404, 0], [404, 4], [402, -4], [402, 300], [0, 300]];
  const free = untied(tied);
  assert.equal(crossesItself(tied), true);
  assert.equal(crossesItself(free), false);
  assert.ok(Math.abs(Math.abs(area(free)) - 402 * 300) < 10);
  assert.equal(crossesItself(untied([[0, 0], [400, 300], [400, 0], [0, 300]])), true);
  const round: Point[] = [[402, 300], [0, 300], [0, 0], [400, 0], [404, 0], [404, 4], [402, -4]];
  assert.equal(crossesItself(untied(round)), false);
});

test("it is opened before its last point goes", () => {
  assert.deepEqual(shortenedLine(round), tapped(CORNERS));
  assert.equal(shortenedLine(shortenedLine(round)).corners.length, 3);
});
