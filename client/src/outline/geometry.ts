// Geometry of a traced end: points of a picture, x to the right and y down, in the picture's own pixels.

export type Point = readonly [number, number];

export function apart(a: Point, b: Point): number {
  return Math.hypot(b[0] - a[0], b[1] - a[1]);
}

/** What an outline encloses, above zero when it runs clockwise on the picture (y down). */
export function area(points: readonly Point[]): number {
  let twice = 0;
  points.forEach((here, i) => {
    const next = points[(i + 1) % points.length] ?? here;
    twice += here[0] * next[1] - next[0] * here[1];
  });
  return twice / 2;
}

/** The nearest of the points within reach; -1: none. */
export function nearest(points: readonly Point[], to: Point, reach: number): number {
  let best = -1;
  let least = reach;
  points.forEach((point, i) => {
    const far = apart(point, to);
    if (far <= least) [best, least] = [i, far];
  });
  return best;
}

function side(a: Point, b: Point, c: Point): number {
  return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
}

/** Where two stretches cross; null: nowhere. */
export function crossing(a: Point, b: Point, c: Point, d: Point): Point | null {
  if (!cross(a, b, c, d)) return null;
  const [from, to] = [side(c, d, a), side(c, d, b)];
  const share = from / (from - to);
  return [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])];
}

function cross(a: Point, b: Point, c: Point, d: Point): boolean {
  return side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0;
}

/** Whether a closed outline runs over itself. */
export function crossesItself(points: readonly Point[]): boolean {
  const at = (i: number): Point => points[i % points.length] as Point;
  for (let i = 0; i < points.length; i++)
    for (let j = i + 2; j < points.length; j++) {
      if (i === 0 && j === points.length - 1) continue; // neighbours round the corner
      if (cross(at(i), at(i + 1), at(j), at(j + 1))) return true;
    }
  return false;
}

export function inside(points: readonly Point[], [x, y]: Point): boolean {
  let odd = false;
  points.forEach((a, i) => {
    const b = points[(i + 1) % points.length] ?? a;
    if (a[1] > y !== b[1] > y && x < a[0] + ((y - a[1]) / (b[1] - a[1])) * (b[0] - a[0])) odd = !odd;
  });
  return odd;
}

/** Where a new point belongs so that the outline grows least: after point i (the number that is returned). */
export function placeFor(points: readonly Point[], added: Point): number {
  let best = points.length - 1;
  let least = Infinity;
  points.forEach((here, i) => {
    const next = points[(i + 1) % points.length] ?? here;
    const longer = apart(here, added) + apart(added, next) - apart(here, next);
    if (longer < least) [best, least] = [i, longer];
  });
  return best;
}
