import assert from "node:assert/strict";
import { test } from "node:test";

import type { Point } from "../src/outline/geometry.ts";
import { NOTHING, type Sized, missing, sentAs, sentBefore } from "../src/sized/taps.ts";

const RING = Array.from({ length: 8 }, (_, i): Point => [500 + 100 * Math.cos((i * Math.PI) / 4), 400 + 100 * Math.sin((i * Math.PI) / 4)]);
const TAPPED: Sized = { ...NOTHING, known: [[10, 20], [310, 20.04]], across: [[5, 90], [405, 90]] };

test("both ends of something known and both sides of the wood are enough, and are sent with the size of the picture", () => {
  const sent = JSON.parse(sentAs(TAPPED, [4000, 3000], 10)) as Record<string, unknown>;
  assert.deepEqual(sent, { size: [4000, 3000], tapping: 15, known: [[10, 20], [310, 20]], across: [[5, 90], [405, 90]], along: [], outline: [] });
});

test("what was sent before comes back as it was", () => {
  const sent = sentAs(TAPPED, [4000, 3000], 1);
  assert.equal(sentAs(sentBefore(sent), [4000, 3000], 1), sent);
  assert.equal(sentBefore(""), NOTHING);
});

test("what is missing is said, and then nothing is sent", () => {
  const cases: [Sized, RegExp][] = [
    [NOTHING, /something of known length.*both sides/],
    [{ ...TAPPED, known: [[1, 1]] }, /other end of what has a known length/],
    [{ ...TAPPED, across: [[1, 1]] }, /other side/],
    [{ ...TAPPED, along: [[1, 1]] }, /other end of the stem/],
    [{ ...TAPPED, outline: RING.slice(0, 5) }, /5 points .* 8 or more/],
    [{ ...TAPPED, outline: [...RING.slice(4), ...RING.slice(0, 4)].map((_, i): Point => RING[(i * 3) % 8] as Point) }, /runs over itself/],
  ];
  for (const [taps, sentence] of cases) {
    assert.match(missing(taps).join(" "), sentence);
    assert.equal(sentAs(taps, [4000, 3000], 1), "");
  }
});
