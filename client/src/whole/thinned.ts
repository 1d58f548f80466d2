// A line of many points as one of few: none of those left out lies farther off than a little (Douglas and Peucker 1973).

import { type Point, apart } from "../outline/geometry.ts";

const OFF = 0.5;
/** Points lie no farther apart than this, so that one that is dragged moves only what is near. */
const APART = 60;
/** So many points beside each other are taken together: an edge has no finer teeth than the pixels. */
const TOGETHER = 2;

/** The points between two ends, without them. */
export function thinned(line: readonly Point[], from: Point, to: Point): Point[] {
  const calm = [from, ...calmed(line).slice(1, -1), to];
  return kept(calm, 0, calm.length - 1).map((i) => calm[i] as Point);
}

function calmed(line: readonly Point[]): Point[] {
  return line.map((_, i) => {
    const near = line.slice(Math.max(0, i - TOGETHER), i + TOGETHER + 1);
    return [near.reduce((sum, [x]) => sum + x, 0) / near.length, near.reduce((sum, [, y]) => sum + y, 0) / near.length];
  });
}

/** Numbers of the points that stay between two of them. */
function kept(line: readonly Point[], first: number, last: number): number[] {
  const [a, b] = [line[first] as Point, line[last] as Point];
  let [far, at] = [0, -1];
  for (let i = first + 1; i < last; i++) {
    const off = offLine(line[i] as Point, a, b);
    if (off > far) [far, at] = [off, i];
  }
  if (far <= OFF) {
    if (last - first < 2 || apart(a, b) <= APART) return [];
    at = (first + last) >> 1;
  }
  return [...kept(line, first, at), at, ...kept(line, at, last)];
}

/** From a point to the stretch between two. */
export function offLine([x, y]: Point, a: Point, b: Point): number {
  const [dx, dy] = [b[0] - a[0], b[1] - a[1]];
  const share = Math.min(1, Math.max(0, ((x - a[0]) * dx + (y - a[1]) * dy) / (dx * dx + dy * dy || 1)));
  return Math.hypot(x - a[0] - share * dx, y - a[1] - share * dy);
}
