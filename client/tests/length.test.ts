import assert from "node:assert/strict";
import { test } from "node:test";

import { inUnit } from "../src/placing/length.ts";

test("lengths count in the form's own unit", () => {
  // 1 in = 25.4 mm exactly (yard and pound agreement, 1959)
  for (const [text, unit, is] of [
    ["102", "in", 102],
    [`8' 6"`, "in", 102],
    [`8' 6 1/2"`, "in", 102.5],
    ["8 ft 6", "in", 102],
    ["8 ft", "mm", 2438.4],
    ["2,54 m", "in", 100],
    ["254 cm", "in", 100],
    ["13 7/16 in", "in", 13.4375],
    ["3/4", "in", 0.75],
    ["2600", "mm", 2600],
  ] as const)
    assert.ok(Math.abs((inUnit(text, unit) ?? NaN) - is) < 1e-9, `${text} in ${unit}`);
});

test("what is no length is none", () => {
  for (const text of ["", "  ", "about ten", "8 ells"]) assert.equal(inUnit(text, "in"), null);
});
