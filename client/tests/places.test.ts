import assert from "node:assert/strict";
import { test } from "node:test";

import { fromEnd, fromUnrolled, hours, ontoEnd, ontoUnrolled } from "../src/placing/places.ts";

test("3 o'clock is on the right of the butt and on the left of the top end", () => {
  const [butt, top] = [ontoEnd(3, 10, "butt"), ontoEnd(3, 10, "top")];
  assert.ok(Math.abs(butt[0] - 10) < 1e-9 && Math.abs(butt[1]) < 1e-9);
  assert.ok(Math.abs(top[0] + 10) < 1e-9 && Math.abs(top[1]) < 1e-9);
});

test("a tap on an end comes back to where it was, at both ends and all round", () => {
  for (const end of ["butt", "top"] as const)
    for (let clock = 0.25; clock <= 12; clock += 0.25) {
      const [right, up] = ontoEnd(clock, 7, end);
      const back = fromEnd(right, up, end);
      assert.ok(Math.abs(back.clock - clock) < 1e-9, `${clock} at the ${end}`);
      assert.ok(Math.abs(back.fromMiddle - 7) < 1e-9);
    }
});

test("the unrolled log has the butt on the left and 12 above", () => {
  assert.deepEqual(ontoUnrolled(0, 12, 100), [0, 0]);
  assert.deepEqual(ontoUnrolled(25, 3, 100), [0.25, 0.25]);
  assert.deepEqual(fromUnrolled(0.25, 0.25, 100), { distance: 25, clock: 3 });
  assert.deepEqual(fromUnrolled(1, 1, 100), { distance: 100, clock: 12 });
});

test("there is no hour 0", () => {
  assert.equal(hours(0), 12);
  assert.equal(hours(12.5), 0.5);
  assert.equal(hours(-1), 11);
});
