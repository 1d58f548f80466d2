// What is pressed quickly, and what the browser has no room for.

import assert from "node:assert/strict";
import { test } from "node:test";

import { Pen } from "../src/away/pen";
import type { Kept, Queue } from "../src/mill/queue";

/** A queue that takes its time, and now and then has no room. */
class Slow implements Queue {
  readonly lasting = true;
  full = false;
  kept: Kept[] = [];
  private count = 0;

  async all(): Promise<Kept[]> {
    return [...this.kept];
  }

  async waiting(): Promise<Kept[]> {
    return this.all();
  }

  async put(kept: Kept): Promise<void> {
    await new Promise((done) => setTimeout(done, 2));
    if (this.full) throw new DOMException("full", "QuotaExceededError");
    this.kept.push(kept);
  }

  async nextCount(): Promise<number> {
    return ++this.count;
  }
}

const NAMES = ["W-1", "W-2", "W-3", "W-4"];

test("presses at once are made one after another: each has a name of its own, and what had no room is told and made again", async () => {
  Object.defineProperty(globalThis, "document", { value: { documentElement: { dataset: {} } }, configurable: true });
  const queue = new Slow();
  const pen = new Pen(queue, "day log", "phone", "Ada");
  const press = (): Promise<void> => pen.write(() => [{ kind: "came-off", name: NAMES[pen.own.length] }]);
  await Promise.all([press(), press()]);
  const names = (): unknown[] => queue.kept.map((each) => each.act["name"]);
  assert.deepEqual(names(), ["W-1", "W-2"]);

  queue.full = true;
  const [lost, other] = await Promise.allSettled([press(), press()]);
  assert.deepEqual([lost.status, other.status], ["rejected", "rejected"]);
  assert.match(pen.words("go on", "paper"), /^This browser had no room for what was told last/);
  queue.full = false;
  await Promise.all([press(), press()]);
  assert.deepEqual(names(), NAMES);
  assert.doesNotMatch(pen.words("go on", "paper"), /no room/);
});

test("a book that is there and turns a list away is heard with its reason, and is not called out of reach", async () => {
  const fetched = globalThis.fetch;
  Object.defineProperty(globalThis, "document", { value: { documentElement: { dataset: {} }, querySelector: () => null }, configurable: true });
  const answers = [new Response('{"sentence": "That is no list of commands."}', { status: 400 }), new Response("", { status: 503 })];
  globalThis.fetch = async () => answers.shift()!;
  try {
    const pen = new Pen(new Slow(), "day log", "phone", "Ada");
    await pen.write(() => [{ kind: "came-off", name: "W-1" }]);
    await pen.send();
    assert.match(pen.words("go on sawing", "paper"), /took nothing in: That is no list of commands\. Nothing is lost; go on sawing\./);
    await pen.send();
    assert.match(pen.words("go on sawing", "paper"), /out of reach; go on sawing/);
  } finally {
    globalThis.fetch = fetched;
  }
});
