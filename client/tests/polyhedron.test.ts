import assert from "node:assert/strict";
import { test } from "node:test";

import type { Flat, Shape, Solid, Vec } from "../src/log3d/figures.ts";
import { holderOf, levelOf, shiftsOf, takenApart } from "../src/log3d/parts.ts";
import { type Polyhedron, above, below, logOf, volume } from "../src/log3d/polyhedron.ts";

function round(m: number, radius: (angle: number) => number): Flat[] {
  return Array.from({ length: m }, (_, j): Flat => {
    const angle = (2 * Math.PI * j) / m;
    return [radius(angle) * Math.cos(angle), radius(angle) * Math.sin(angle)];
  });
}

function shape(radius: (angle: number, z: number) => number, m = 96, n = 7, length = 3): Shape {
  const z_m = Array.from({ length: n }, (_, i) => (length * i) / (n - 1));
  const outlines = z_m.map((z) => round(m, (angle) => radius(angle, z)));
  return { z_m, wood_m: outlines, bark_m: outlines };
}

const cylinder = shape(() => 0.25, 720, 3);
const lobed = shape((a, z) => (0.25 - 0.02 * z) * (1 + 0.35 * Math.cos(3 * a)));

/** Every edge is used once in each direction: nothing is open. */
function closed({ faces }: Polyhedron): boolean {
  const edges = new Map<string, number>();
  for (const { corners } of faces)
    corners.forEach((a, i) => {
      const b = corners[(i + 1) % corners.length] as number;
      const [key, way] = a < b ? [`${a} ${b}`, 1] : [`${b} ${a}`, -1];
      edges.set(key, (edges.get(key) ?? 0) + way);
    });
  return [...edges.values()].every((sum) => sum === 0);
}

function near(a: number, b: number, by: number): void {
  assert.ok(Math.abs(a - b) <= by, `${a} is not within ${by} of ${b}`);
}

test("a cylinder has the volume pi r squared l", () => {
  near(volume(logOf(cylinder)), Math.PI * 0.25 ** 2 * 3, 1e-4); // 720 corners: 1e-5 of it is missing
});

test("an outside slab of a cylinder has the volume of a circular segment", () => {
  const [r, h] = [0.25, 0.1];
  const segment = r * r * Math.acos(h / r) - h * Math.sqrt(r * r - h * h);
  near(volume(above(logOf(cylinder), [0, 1, 0], h)), segment * 3, 1e-5);
});

test("what a cut parts is together what was there, and both are closed, however the blade leans", () => {
  for (let i = 0; i < 60; i++) {
    const angle = i * 0.37;
    const up: Vec = [Math.cos(angle) * 0.98, Math.sin(angle) * 0.98, 0.199 * Math.sin(i)];
    const level = 0.2 * Math.sin(i * 1.3);
    const whole = logOf(lobed);
    const [top, rest] = [above(whole, up, level), below(whole, up, level)];
    assert.ok(closed(top) && closed(rest), `cut ${i}`);
    near(volume(top) + volume(rest), volume(whole), 1e-8); // a corner may be lifted 1e-9 m, under 2 m2 of cut
  }
});

test("a cut along corners that lie in its plane closes too", () => {
  const whole = logOf(shape(() => 0.3, 8, 4));
  for (const level of [0, 0.3 * Math.SQRT1_2, 0.3]) {
    const [top, rest] = [above(whole, [0, 1, 0], level), below(whole, [0, 1, 0], level)];
    assert.ok(closed(top) && closed(rest));
    near(volume(top) + volume(rest), volume(whole), 1e-6);
  }
});

test("a cut between two lobes opens two faces", () => {
  const two = shape((a) => 0.2 * (1 + 0.8 * Math.cos(2 * a)), 144); // a waist 4 cm high
  const top = above(logOf(two), [0, 1, 0], 0.06);
  assert.equal(top.faces.filter((face) => face.kind === "cut").length, 2);
  assert.ok(closed(top));
});

const sawn: Solid = {
  format: "waney-solid/1",
  log: "T",
  shape: lobed,
  rings: { z_m: [0, 3], pith_m: [], reach_m: [] },
  lies: [
    { turn: [[1, 0, 0], [0, 1, 0], [0, 0, 1]], shift: [0, 0.4, 0] },
    { turn: [[-1, 0, 0], [0, -1, 0], [0, 0, 1]], shift: [0, 0.1, 0] },
  ],
  cuts: [
    { lie: 0, blade_m: 0.55, above_m: 0.553, words: "" },
    { lie: 0, blade_m: 0.5, above_m: 0.503, words: "" },
    { lie: 1, blade_m: 0.2, above_m: 0.203, words: "" },
  ],
  parts: [],
  pieces: [],
  spots: [],
};

test("parts and kerfs are together the log", () => {
  const { parts } = takenApart(sawn);
  let left = logOf(sawn.shape);
  let kerfs = 0;
  for (const cut of sawn.cuts) {
    const level = levelOf(cut, sawn.lies);
    kerfs += volume(below(above(left, level.up, level.blade), level.up, level.above));
    left = below(left, level.up, level.blade);
  }
  assert.equal(parts.length, 4);
  assert.ok(parts.every(closed));
  near(parts.reduce((sum, part) => sum + volume(part), 0) + kerfs, volume(logOf(sawn.shape)), 1e-9);
});

test("a board is as thick as the heights say, less the kerf", () => {
  const board = takenApart(sawn).parts[1] as Polyhedron;
  const used = new Set(board.faces.flatMap((face) => face.corners));
  const heights = [...used].map((corner) => (board.points[corner] as Vec)[1]);
  near(Math.max(...heights) - Math.min(...heights), 0.05 - 0.003, 1e-9);
});

test("pieces slide along the way that was up when they were cut, the first the furthest", () => {
  const [first, second, third, rest] = shiftsOf(sawn, 3, 0.1).map((shift) => shift[1]);
  assert.deepEqual([first, second, third, rest], [0.2, 0.1, -0.1, 0]);
  assert.deepEqual(shiftsOf(sawn, 0, 0.1).map((shift) => Math.hypot(...shift)), [0, 0, 0, 0]);
});

test("a nail belongs to the part that holds its middle", () => {
  const nail = { kind: "metal", words: "", from_m: 1, to_m: 1.1, x_m: 0, y_m: 0, radius_m: 0.01 };
  assert.equal(holderOf(sawn, { ...nail, y_m: 0.2 }), 0);
  assert.equal(holderOf(sawn, { ...nail, y_m: 0.12 }), 1);
  assert.equal(holderOf(sawn, nail), 3);
  assert.equal(holderOf(sawn, { ...nail, y_m: -0.2 }), 2); // sawn off after the half turn
});
