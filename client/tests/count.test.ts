// A stock count is what was read: counted, not found, elsewhere, gone; what is pressed puts it right.

import assert from "node:assert/strict";
import { test } from "node:test";

import { folded, isHere, lost, read, slip } from "../src/count/fold";
import type { Holds, Item } from "../src/count/types";
import type { Kept } from "../src/mill/queue";
import type { Act } from "../src/mill/types";

const item = (name: string, more: Partial<Item> = {}): Item => ({ piece: `p-${name}`, name, words: "ash", expected: true, away: "", end: "", last: "shed", ...more });
const HOLDS: Holds = {
  format: "waney-count/1", device: "d", person: "", count: "C", ended: false, spot: "shed", where: "Shed", not_found: "not found", missing: 2, more: "", others: { places: [], names: [], at: "" }, seen: [],
  items: [item("A-1-T"), item("A-2-R"), item("A-3-N", { expected: false }), item("A-4-L", { expected: false, away: "lost", end: "e4" }), item("A-5-J", { expected: false, away: "sold" })],
}; // prettier-ignore

let counted = 0;
const told = (act: Act): Kept => ({ id: `c${++counted}`, count: counted, person: "", happened_at: "", act, page: "", came: "", sentence: "" });
const names = (items: Item[]): string[] => items.map((one) => one.name);

function after(...tags: string[]): Kept[] {
  const own: Kept[] = [];
  for (const tag of tags) {
    const { act } = read(HOLDS, own, tag);
    if (act) own.push(told(act));
  }
  return own;
}

test("what was read is counted, stands elsewhere, or should not be there; the rest is not found", () => {
  const now = folded(HOLDS, after("WANEY:A-1-T", "a3n", "A-4-L", "A-5-J", "B-1-K"));
  assert.deepEqual([now.counted, now.missing, now.elsewhere, now.away].map(names), [["A-1-T"], ["A-2-R"], ["A-3-N"], ["A-4-L", "A-5-J"]]);
  assert.deepEqual(now.unknown, ["B-1-K"]);
});

test("a tag that is read twice is written once", () => {
  assert.equal(after("A-1-T", "A-1-T", "B-1-K", "b 1 k").length, 2);
});

test("the last tag is taken back, and then it is not found again", () => {
  const own = after("A-1-T", "A-2-R");
  own.push(told(slip(own, "C")!.act));
  assert.deepEqual(names(folded(HOLDS, own).missing), ["A-2-R"]);
  assert.equal(slip(own, "C")!.name, "A-1-T");
});

test("a press puts a line right: it is lost, stands here, or is here after all", () => {
  const own = after("A-1-T", "A-3-N", "A-4-L");
  const [, two, three, four] = HOLDS.items as [Item, Item, Item, Item];
  assert.deepEqual(isHere(HOLDS, four).map((act) => act.kind), ["taken-back", "moved"]);
  assert.deepEqual(isHere({ ...HOLDS, spot: "" }, three), []);
  own.push(...[...lost(HOLDS, two), ...isHere(HOLDS, three), ...isHere(HOLDS, four)].map(told));
  const now = folded(HOLDS, own);
  assert.deepEqual([now.counted, now.missing, now.elsewhere, now.away].map(names), [["A-1-T", "A-3-N", "A-4-L"], [], [], []]);
});

test("what others read at the same count is counted too", () => {
  assert.deepEqual(names(folded({ ...HOLDS, seen: [{ name: "A-2-R", piece: "p-A-2-R" }] }, after("A-1-T")).missing), []);
});

const ID = "00000000-0000-4000-8000-000000000001";
const LARGE: Holds = {
  ...HOLDS, items: HOLDS.items.slice(0, 1),
  others: {
    places: [{ expected: true, away: "", where: "shed" }, { expected: false, away: "sold", where: "mill" }, { expected: false, away: "", where: "mill" }],
    names: [{ code: "A", first: 2, ids: "AAAAAAAAQACAAAAAAAAAAQAAAAAAAAQACAAAAAAAAAAgAAAAAAAAQACAAAAAAAAAAw" }],
    at: "000000010002",
  },
}; // prettier-ignore

test("a piece of which the phone has the name alone is counted, stands elsewhere or should not be there", () => {
  const { act, item } = read(LARGE, [], "a2w");
  assert.deepEqual([act, item?.last], [{ kind: "tag-seen", count: "C", name: "A-2-W", piece: ID }, "shed"]);
  const own = ["A-2-W", "A-3-U", "A-4-R", "A-2-W"].reduce<Kept[]>((kept, tag) => {
    const read_ = read(LARGE, kept, tag).act;
    return read_ ? [...kept, told(read_)] : kept;
  }, []);
  const now = folded(LARGE, own);
  assert.deepEqual([now.counted, now.missing, now.elsewhere, now.away].map(names), [["A-2-W"], ["A-1-T"], ["A-4-R"], ["A-3-U"]]);
  assert.deepEqual([own.length, now.toFind], [3, 1]);
  assert.deepEqual(names(folded(LARGE, []).missing), ["A-1-T", "A-2-W"]);
});

test("until the names are on the phone, the book's own number is told, less what was read since", () => {
  const lacks = { ...HOLDS, items: [], missing: 18_000, more: "/there" };
  assert.equal(folded(lacks, []).toFind, 18_000);
  assert.equal(folded(lacks, [told({ kind: "tag-seen", count: "C", name: "A-1-T", piece: "p" })]).toFind, 17_999);
});
