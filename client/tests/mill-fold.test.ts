// The page and the server must agree: a drawn day at the mill, folded here, is what the server says it is. The cases are written by
// tests/web/test_mill_agrees.py; without them there is nothing to compare, and the Python side says so.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

import { dashed, nameOf } from "../src/away/names";
import { called, comesBy, faceAfter, lowerBy, movedBy, stands, thicknessOf } from "../src/mill/fold";
import { goesOn, type Meant } from "../src/mill/tags";
import { asACant, doneOf, lastMeant, stapledOn, tapped, withoutPlan, type Tap } from "../src/mill/taps";
import type { Called, Done, Holds, KnownTags } from "../src/mill/types";

interface Case {
  holds: Holds;
  done: Done[];
  tap: Tap;
  piece: string;
  stands: unknown;
  thickness: number | null;
  act: unknown;
  cant: unknown;
  byEye: unknown;
  called: Called[];
  tagged: { name: string };
  written: { known: KnownTags; text: string; own: string; says: Meant }[];
}

const file = process.env["WANEY_MILL_CASES"];
if (file) {
  const cases = JSON.parse(readFileSync(file, "utf8")) as Case[];
  test(`${cases.length} drawn days stand as the server says`, () => {
    for (const one of cases) {
      assert.deepEqual(stands(one.holds.at_mill!, one.done), one.stands);
      assert.deepEqual(called(one.done), one.called);
      assert.equal(thicknessOf(one.holds.at_mill!, stands(one.holds.at_mill!, one.done)), one.thickness);
    }
  });
  const written = cases.flatMap((one) => one.written);
  test(`${written.length} tags that are typed mean what the server says`, () => {
    for (const { known, text, own, says } of written) assert.deepEqual(goesOn(known, [], [], { about: "", name: own, tagged: false }, text), says);
  });
  test(`${cases.length} taps write what the server writes`, () => {
    for (const one of cases) {
      const names = one.holds.names.filter((name) => !one.done.some((each) => each.name === name));
      assert.deepEqual(tapped(one.holds, one.done, names, one.tap, one.piece), one.act);
      assert.deepEqual(asACant(one.holds, one.done, names, one.piece), one.cant);
      assert.deepEqual(withoutPlan(one.holds, one.done, names, 0.0508, one.piece, null, one.tap), one.byEye);
      assert.deepEqual(stapledOn(`piece:${one.piece}`, one.tagged.name), one.tagged);
    }
  });
}

test("a piece that is too thick by more than one mark lowers what comes after it", () => {
  assert.deepEqual([-2, 0, 1, 2, 5].map(lowerBy), [0, 0, 0, 2, 5]);
});

test("a cut that was too high leaves its face high, so that the next piece comes thick by as much", () => {
  assert.deepEqual([[0, -2], [-2, 0], [-2, 4]].map(([shift, thick]) => faceAfter(shift!, thick!)), [2, -2, -6]);
  assert.deepEqual([[2, 0], [-1, 0], [-4, -4]].map(([face, shift]) => comesBy(face!, shift!)), [2, -1, 0]);
});

test("both ends moved alike move every height alike", () => {
  assert.deepEqual(movedBy([100, 90], [103, 93]), [3, 0]);
});

// tags and pieces without a plan, by what this page did since the book told of its names

const TAG = "BACK-4-K"; // by waney.yard.names
const OTHER = dashed(nameOf("BACK", 5));
const KNOWN: KnownTags = { free: [{ code: "BACK", first: 1, last: 9 }], taken: [] };
const piece = (n: number, name: string): Called => ({ about: `piece:${n}`, name, tagged: false });

test("a tag that this page put on one piece goes on no other, and on any once it was taken back", () => {
  const on = goesOn(KNOWN, [piece(1, TAG), piece(2, "W-2-5")], [TAG], piece(2, "W-2-5"), TAG);
  assert.match("sentence" in on ? on.sentence : "", /stands on another piece already/);
  const told = { free: [], taken: [{ code: "BACK", first: 4, last: 4 }] }; // the book has not heard yet that it was taken back
  assert.deepEqual(goesOn(told, [piece(1, "W-1-7"), piece(2, "W-2-5")], [TAG], piece(2, "W-2-5"), TAG.slice(-6)), { name: TAG });
  assert.deepEqual(goesOn(KNOWN, [piece(1, TAG)], [TAG], piece(1, TAG), TAG), { name: TAG });
});

test("what a tag calls a piece is told by the page's own commands, the last one counts", () => {
  const holds = { step_m: 0.0015875 } as Holds;
  const off = doneOf(holds, "c1", { kind: "came-off", piece: "1", name: "W-1-7" })!;
  const tags = [TAG, OTHER].map((name, n) => doneOf(holds, `t${n}`, stapledOn("piece:1", name))!);
  assert.deepEqual(called([off, ...tags]), [{ about: "piece:1", name: OTHER, tagged: true }]);
  assert.deepEqual(called([off]), [piece(1, "W-1-7")]);
});

test("without a plan the next piece is as thick as the last was meant to be", () => {
  const holds = { step_m: 0.0015875, first_order: 0, day: "d", log: "l", spot: "" } as unknown as Holds;
  const thick = doneOf(holds, "c1", withoutPlan(holds, [], [], 0.0508, "1", null, { how: "thick", thickSteps: 4 }))!;
  assert.equal(thick.thickness_m, 0.05715);
  assert.equal(lastMeant(holds, [thick]), 0.0508);
  assert.equal(lastMeant(holds, []), null);
});
