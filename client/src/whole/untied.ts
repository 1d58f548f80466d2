// Small loops out of a line: where two stretches of an edge meet, one may run a little past the tap and the other back over it.

import { type Point, apart, crossing } from "../outline/geometry.ts";

/** A loop of more points, or longer than such a share of the whole line, is no knot: somebody tapped in a wrong order. */
const MOST = 24;
const SHARE = 0.03;

/** A closed ring with its small loops cut off where they cross; large ones stay and are told. */
export function untied(ring: readonly Point[]): Point[] {
  const most = SHARE * longOf([...ring, ...ring.slice(0, 1)]);
  let points = [...ring];
  for (let i = 0; i < points.length; ) {
    const cut = loopAt(points, i, most);
    if (cut) points = cut;
    else i++;
  }
  return points;
}

/** The ring without the loop that begins on the stretch from point i on; null: there is none. */
function loopAt(points: readonly Point[], i: number, most: number): Point[] | null {
  const count = points.length;
  const at = (k: number): Point => points[k % count] as Point;
  for (let k = Math.min(MOST, count - 3); k >= 2; k--) {
    const meets = crossing(at(i), at(i + 1), at(i + k), at(i + k + 1));
    if (!meets) continue;
    const loop = Array.from({ length: k }, (_, n) => at(i + 1 + n));
    if (longOf([meets, ...loop, meets]) > most) continue;
    const gone = new Set(loop.map((_, n) => (i + 1 + n) % count));
    return points.flatMap((point, n) => (n === i ? [point, meets] : gone.has(n) ? [] : [point]));
  }
  return null;
}

function longOf(line: readonly Point[]): number {
  return line.slice(1).reduce((sum, point, i) => sum + apart(line[i] as Point, point), 0);
}
