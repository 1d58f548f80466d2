// The page and the server must agree: a drawn day at the mill, folded here, is what the server says it is. The cases are written by
// tests/web/test_mill_agrees.py; without them there is nothing to compare, and the Python side says so.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

import { lowerBy, movedBy, stands } from "../src/mill/fold";
import { asACant, tapped, type Tap } from "../src/mill/taps";
import type { Done, Holds } from "../src/mill/types";

interface Case {
  holds: Holds;
  done: Done[];
  tap: Tap;
  piece: string;
  stands: unknown;
  act: unknown;
  cant: unknown;
}

const file = process.env["WANEY_MILL_CASES"];
if (file) {
  const cases = JSON.parse(readFileSync(file, "utf8")) as Case[];
  test(`${cases.length} drawn days stand as the server says`, () => {
    for (const one of cases) assert.deepEqual(stands(one.holds.at_mill!, one.done), one.stands);
  });
  test(`${cases.length} taps write what the server writes`, () => {
    for (const one of cases) {
      const names = one.holds.names.filter((name) => !one.done.some((each) => each.name === name));
      assert.deepEqual(tapped(one.holds, one.done, names, one.tap, one.piece), one.act);
      assert.deepEqual(asACant(one.holds, one.done, names, one.piece), one.cant);
    }
  });
}

test("a piece that is too thick by more than one mark lowers what comes after it", () => {
  assert.deepEqual([-2, 0, 1, 2, 5].map(lowerBy), [0, 0, 0, 2, 5]);
});

test("both ends moved alike move every height alike", () => {
  assert.deepEqual(movedBy([100, 90], [103, 93]), [3, 0]);
});
