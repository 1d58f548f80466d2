import assert from "node:assert/strict";
import { test } from "node:test";

import type { Point } from "../src/outline/geometry.ts";
import { added, moved, without } from "../src/outline/tapped.ts";
import { EMPTY, LOG_END, type List, type Trace, missing, outlineOf, traceOf } from "../src/outline/trace.ts";

function round(radius: number, n = 12): Point[] {
  return Array.from({ length: n }, (_, i): Point => [500 + radius * Math.cos((2 * Math.PI * i) / n), 400 + radius * Math.sin((2 * Math.PI * i) / n)]);
}

const traced: Trace = { scale: [[100, 900], [700, 900]], bark: round(330), wood: round(300), pith: [[520, 390]] };

test("a full trace is what a log sheet asks for", () => {
  const outline = outlineOf(traced, " 12 in ", 3);
  assert.ok(outline);
  assert.equal(outline.over, "wood");
  assert.equal(outline.points.length, 12);
  assert.deepEqual(outline.points[0], [800, 400]);
  assert.deepEqual(outline.scale, { from: [100, 900], to: [700, 900], length: "12 in" });
  assert.deepEqual(outline.pith, [520, 390]);
  assert.equal(outline.up, 3);
  assert.equal(outline.bark?.length, 12);
});

test("bark alone counts as over bark, and a diameter may stand in for the scale", () => {
  const outline = outlineOf({ ...EMPTY, bark: round(300) }, "", 12);
  assert.equal(outline?.over, "bark");
  assert.equal(outline?.scale, undefined);
  assert.equal(outline?.bark, undefined);
});

test("what was sent before comes back as it was", () => {
  const outline = outlineOf(traced, "12 in", 12);
  assert.ok(outline);
  const again = outlineOf(traceOf(outline), "12 in", 12);
  assert.deepEqual(again, outline);
});

test("what is missing is said, and then nothing is sent", () => {
  const cases: [Trace, string, RegExp][] = [
    [EMPTY, "", /Nothing traced/],
    [{ ...EMPTY, wood: round(300, 5) }, "", /5 points .* 8 or more/],
    [{ ...traced, pith: [[10, 10]] }, "12 in", /pith lies outside/],
    [{ ...traced, bark: traced.wood, wood: traced.bark }, "12 in", /larger than the bark/],
    [{ ...traced, scale: [[1, 1]] }, "12 in", /other end/],
    [traced, "  ", /how long/],
  ];
  for (const [trace, length, sentence] of cases) {
    assert.match(missing(trace, length).join(" "), sentence);
    assert.equal(outlineOf(trace, length, 12), null);
  }
});

test("a third tap on the known length starts it anew from the second", () => {
  const trace = [[1, 1], [2, 2], [3, 3]].reduce((so, point) => added<List>(so, "scale", point as unknown as Point, LOG_END.most.scale), EMPTY);
  assert.deepEqual(trace.scale, [[2, 2], [3, 3]]);
});

test("points are moved and taken out one by one", () => {
  assert.deepEqual(moved<List>(traced, "pith", 0, [5, 6]).pith, [[5, 6]]);
  assert.equal(without<List>(traced, "wood", 0).wood.length, 11);
});
