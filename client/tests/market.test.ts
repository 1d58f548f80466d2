// A market day: page and server tax and write a sale alike, and the day is what was written. The drawn cases are written by
// tests/web/test_mill_agrees.py.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

import { bearing, isName, label } from "../src/away/names";
import { buyer, called, folded, pieceOf, refund, soldAway, type Line, type Sale } from "../src/market/fold";
import { cents, written } from "../src/market/money";
import { receipt } from "../src/market/receipt";
import type { Run } from "../src/away/runs";
import type { Holds, TaxRule } from "../src/market/types";
import type { Kept } from "../src/mill/queue";
import type { Act } from "../src/mill/types";

interface Named {
  names: Run[];
  pieces: [string, string][];
}

interface Case {
  taxes: TaxRule[];
  lease: string;
  sale: string;
  lines: Line[];
  person: string;
  by: string;
  act: Act;
}

const file = process.env["WANEY_MARKET_CASES"];
if (file) {
  const cases = JSON.parse(readFileSync(file, "utf8")) as Case[];
  test(`${cases.length} drawn sales are taxed and written as the server does`, () => {
    for (const one of cases) {
      const holds = { taxes: one.taxes, lease: one.lease } as Holds;
      assert.deepEqual(soldAway(holds, one.sale, one.lines, one.person, one.by, "2026-05-04"), one.act);
    }
  });
}

const list = process.env["WANEY_NAME_CASES"];
if (list) {
  const { names, pieces } = JSON.parse(readFileSync(list, "utf8")) as Named;
  test(`${pieces.length} pieces that stay at home are found by name and by id as the server packed them`, () => {
    const holds = { ...HOLDS, names };
    for (const [name, piece] of pieces) {
      assert.deepEqual([called(holds, name.toLowerCase())?.piece, called(holds, name)?.name, pieceOf(holds, piece)?.name], [piece, name, name]);
      assert.equal(called(holds, name.slice(0, -1) + (name.endsWith("P") ? "R" : "P")), undefined);
    }
    assert.equal(called(holds, "A-4-R")?.words, "black walnut"); // of others it knows more
    assert.equal(pieceOf(holds, "p4")?.name_only, undefined);
  });
}

const piece = (n: number, name: string): Holds["along"][number] => ({ piece: `p${n}`, name, words: "black walnut", asked_cents: 8000, promised: "" });
const HOLDS: Holds = {
  format: "waney-market/1", today: "2026-05-04", device: "d", person: "", yard: "Alder Hollow", lease: "L", closed: false, until: "2026-05-04",
  where: "Market", money: "${}", taxes: [{ words: "tax 10 %", over: 1, under: 10, each_line: false, rounding: "half up" }], ways: ["cash", "owed"],
  buyers: [["ann", "Ann"]], hold_until: "2026-05-11", more: "", along: [piece(1, "A-1-X"), piece(2, "A-2-V"), piece(3, "A-3-T")], others: [piece(4, "A-4-R")], names: [],
  sold: [], requests: [], mind: ["Not graded for building."],
}; // prettier-ignore

let counted = 0;
const told = (act: Act, came = ""): Kept => ({ id: `c${++counted}`, count: counted, person: "", happened_at: "", act, page: "", came, sentence: came && "No." });
const sale = (id: string, by: string, ...lines: Line[]): Act => soldAway(HOLDS, id, lines, "", by, "2026-05-04");

test("what was sold is with the phone no more, and money is counted by the way it was paid", () => {
  const day = folded(HOLDS, [told(sale("s1", "cash", { piece: "p1", cents: 8000 })), told(sale("s2", "owed", { piece: "p2", cents: 5000 }))]);
  assert.deepEqual(day.here.map((one) => one.name), ["A-3-T"]);
  assert.deepEqual([...day.money], [["cash", 8800]]);
});

test("what came back to the stall is there to be sold again, and its money was given back", () => {
  const back: Act = { kind: "returned", sale: "s1", pieces: ["p1"], refund_cents: 8800 };
  const own = [told(sale("s1", "cash", { piece: "p1", cents: 8000 })), told(back)];
  const day = folded(HOLDS, own);
  assert.equal(day.sold.size, 0);
  assert.deepEqual([...day.money], [["cash", 8800], ["given back", -8800]]);
  assert.equal(folded(HOLDS, [...own, told(sale("s2", "cash", { piece: "p1", cents: 7000 }))]).sold.get("p1"), "s2");
});

test("what goes back piece by piece is all that was paid, however the tax is rounded", () => {
  for (const each_line of [false, true]) {
    const holds = { ...HOLDS, taxes: [{ ...HOLDS.taxes[0]!, each_line }] };
    const lines = [1, 2, 3].map((n) => ({ piece: `p${n}`, cents: 105 })); // 10.5 of tax each, 31.5 together
    let own = [told(soldAway(holds, "s1", lines, "", "cash", "2026-05-04"))];
    const now = (): Sale => folded(holds, own).sales[0]!;
    let given = 0;
    for (const { piece } of lines) {
      const refund_cents = refund(holds, now(), piece);
      given += refund_cents;
      own = [...own, told({ kind: "returned", sale: "s1", pieces: [piece], refund_cents })];
    }
    assert.equal(given, now().total);
  }
});

test("what was given back at the desk is not given back here again", () => {
  const sold = [{ sale: "s1", piece: "p1", cents: 8000, gone: true, returned: true }];
  const day = folded({ ...HOLDS, sold }, [told(sale("s1", "cash", { piece: "p1", cents: 8000 }))]);
  assert.deepEqual([day.sales[0]!.back, day.sales[0]!.gone], [["p1"], []]);
});

test("what the book refused is not counted as sold", () => {
  assert.equal(folded(HOLDS, [told(sale("s1", "cash", { piece: "p1", cents: 8000 }), "refused")]).here.length, 3);
});

test("a phone that kept nothing knows from the book what it sold", () => {
  const holds = { ...HOLDS, sold: [{ sale: "s1", piece: "p1", cents: 1, gone: false, returned: false }, { sale: "s0", piece: "p2", cents: 1, gone: false, returned: true }] };
  assert.deepEqual(folded(holds, []).here.map((one) => one.piece), ["p2", "p3"]);
});

test("what was asked for waits until the book has said whether it is kept", () => {
  const asked = told({ kind: "hold-asked", hold: "h1", person: "ann", pieces: ["p4"], until: "2026-05-11" });
  const came = (requests: Holds["requests"]): string => folded({ ...HOLDS, requests }, [asked]).asked[0]!.came;
  assert.deepEqual([came([]), came([{ hold: "h1", refused: "" }]), came([{ hold: "h1", refused: "Bo was first." }])], ["waits", "kept", "Bo was first."]);
});

test("a buyer is written down once, whoever the shop knows not at all", () => {
  assert.deepEqual(buyer(HOLDS, [], " ann ", () => "new"), { person: "ann", acts: [] });
  const bo = buyer(HOLDS, [], "Bo", () => "new");
  assert.deepEqual(bo.acts.map((act) => act.kind), ["person-added", "buys-here"]);
  assert.deepEqual(buyer(HOLDS, bo.acts.map((act) => told(act)), "bo", () => "other"), { person: "new", acts: [] });
  assert.deepEqual(buyer(HOLDS, [], "", () => "new"), { person: "", acts: [] });
});

test("money is read and written in whole cents", () => {
  assert.deepEqual(["80", "79.50", "79,5", "0.05", "80 $", "1.234", ""].map(cents), [8000, 7950, 7950, 5, null, null, null]);
  assert.deepEqual([written(7950, "${}"), written(-5, "{} CHF")], ["$79.50", "-0.05 CHF"]);
});

test("a receipt says what was bought, its tax, all of it, and how it was paid; nothing that it has cost", () => {
  const day = folded(HOLDS, [told(sale("s1", "cash", { piece: "p1", cents: 8000 }))]);
  const lines = receipt(HOLDS, day.sales[0]!).split("\n");
  for (const line of ["Alder Hollow", "A-1-X  $80.00", "tax 10 %  $8.00", "All of it  $88.00", "Paid by cash.", "Not graded for building."]) assert.ok(lines.includes(line), line);
});

test("a tag's code and what a wet hand types are the same name", () => {
  assert.deepEqual(["WANEY:AB-12-P", "ab 12 p", "AB12P", "A8-1Z-S"].map(label), ["AB12P", "AB12P", "AB12P", "A8125"]);
  assert.equal(bearing([{ name: "AB-12-P" }], "waney:ab-12-p")?.name, "AB-12-P");
  assert.equal(bearing([{ name: "AB-12-P" }], ""), undefined);
  assert.deepEqual(["AB-12-P", "ab12p", "AB-21-P", "BA-12-P", "AB-12-R", "12"].map(isName), [true, true, false, false, false, false]);
});
