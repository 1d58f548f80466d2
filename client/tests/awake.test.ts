// The screen is asked to stay on again where the phone lets go of it, and the page says so where it cannot.

import assert from "node:assert/strict";
import { test } from "node:test";

import { keepAwake } from "../src/mill/awake";

const turns = (): Promise<void> => new Promise((done) => setImmediate(done));

test("a screen lock that the phone lets go of is asked for again; one that is refused, or let go of at once, is told", async (t) => {
  t.mock.timers.enable({ apis: ["Date"] });
  const locks: EventTarget[] = [];
  let allowed = true;
  const request = async (): Promise<EventTarget> => {
    if (!allowed) throw new Error("the battery is low");
    locks.push(new EventTarget());
    return locks.at(-1)!;
  };
  const page = Object.assign(new EventTarget(), { visibilityState: "visible" });
  Object.defineProperty(globalThis, "navigator", { value: { wakeLock: { request } }, configurable: true });
  Object.defineProperty(globalThis, "document", { value: page, configurable: true });
  const says = { textContent: "" };
  const letGo = async (after: number): Promise<void> => {
    t.mock.timers.tick(after);
    locks.at(-1)!.dispatchEvent(new Event("release"));
    await turns();
  };
  const look = async (visibilityState: string): Promise<void> => {
    page.visibilityState = visibilityState;
    page.dispatchEvent(new Event("visibilitychange"));
    await turns();
  };

  keepAwake(says as HTMLElement);
  await turns();
  assert.equal(locks.length, 1);
  await letGo(60_000);
  assert.deepEqual([locks.length, says.textContent], [2, ""], "asked for again");
  await letGo(100);
  assert.equal(locks.length, 2, "not over and over");
  assert.match(says.textContent, /may go dark/);
  await look("visible");
  assert.deepEqual([locks.length, says.textContent], [3, ""]);
  page.visibilityState = "hidden";
  await letGo(60_000);
  assert.deepEqual([locks.length, says.textContent], [3, ""], "nobody looks: that is as it should be");
  await look("visible");
  assert.equal(locks.length, 4);
  allowed = false;
  await letGo(60_000);
  assert.match(says.textContent, /may go dark/);
});
