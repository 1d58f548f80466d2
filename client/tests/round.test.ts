// The weighing round: page and server write the same act and ask about the same weights. The cases are written by
// tests/web/test_mill_agrees.py.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

import type { Holds, Item } from "../src/round/types";
import { doubts, pressed, weighed, type Typed } from "../src/round/weight";

interface Case {
  holds: Holds;
  item: Item;
  typed: Typed;
  act: Record<string, unknown> | null;
  doubts: string[];
  mark_kg: number;
  wood_kg: number;
}

/** Kilograms to a tenth of a gram: two languages round the last digit their own way. */
function near(act: Record<string, unknown> | null): unknown {
  const round = (value: unknown): unknown => (typeof value === "number" ? Math.round(value * 1e4) / 1e4 : Array.isArray(value) ? value.map(round) : value);
  return act && Object.fromEntries(Object.entries(act).map(([key, value]) => [key, round(value)]));
}

const file = process.env["WANEY_ROUND_CASES"];
if (file) {
  const cases = JSON.parse(readFileSync(file, "utf8")) as Case[];
  test(`${cases.length} drawn weights are written and asked about as the server does`, () => {
    for (const one of cases) {
      assert.deepEqual(near(weighed(one.holds, one.item, one.typed)), near(one.act));
      assert.deepEqual(doubts(one.wood_kg, one.mark_kg, one.item.known), one.doubts);
    }
  });
}

test("keys write a figure with one point and take the last away", () => {
  assert.equal(["4", "1", ".", ".", "2", "5", "back"].reduce(pressed, ""), "41.2");
});
