// The cheapest way over a grid from one cell to another (Dijkstra 1959), over eight neighbours, costs in whole numbers: cells wait in a
// ring of buckets, one for each cost that a step may still add (Dial 1969).

/** Eight ways to step: to the right, down, how long. */
export const RIGHT = Int8Array.of(1, 1, 0, -1, -1, -1, 0, 1);
export const DOWN = Int8Array.of(0, 1, 1, 1, 0, -1, -1, -1);
export const LONG = Float64Array.from({ length: 8 }, (_, k) => (k % 2 ? Math.SQRT2 : 1));

/** The step that leads from one cell to its neighbour. */
export function stepTo(right: number, down: number): number {
  return RIGHT.findIndex((each, k) => each === right && DOWN[k] === down);
}

export interface Grid {
  readonly wide: number;
  readonly tall: number;
  /** whether a way may lead over a cell */
  readonly open: Uint8Array;
  /** what step k from a cell to another costs, 1 to `most` */
  readonly cost: (from: number, to: number, step: number) => number;
  readonly most: number;
}

/** The cells from start to end, both with it; empty where none leads there. */
export function cheapest(grid: Grid, start: number, end: number): number[] {
  const { wide, tall, open, most } = grid;
  const spent = new Int32Array(wide * tall).fill(-1);
  const came = new Int32Array(wide * tall).fill(-1);
  const settled = new Uint8Array(wide * tall);
  const buckets: number[][] = Array.from({ length: most + 1 }, () => []);
  spent[start] = 0;
  buckets[0]?.push(start);
  let waiting = 1;
  for (let now = 0; waiting > 0; now++) {
    const bucket = buckets[now % buckets.length] as number[];
    for (let here = bucket.pop(); here !== undefined; here = bucket.pop()) {
      waiting--;
      if (settled[here] || spent[here] !== now) continue;
      settled[here] = 1;
      if (here === end) return back(came, end);
      const x = here % wide;
      const y = (here - x) / wide;
      for (let k = 0; k < 8; k++) {
        const right = x + (RIGHT[k] as number);
        const down = y + (DOWN[k] as number);
        if (right < 0 || right >= wide || down < 0 || down >= tall) continue;
        const next = down * wide + right;
        if (!open[next] || settled[next]) continue;
        const cost = now + grid.cost(here, next, k);
        if (spent[next] !== -1 && (spent[next] as number) <= cost) continue;
        spent[next] = cost;
        came[next] = here;
        (buckets[cost % buckets.length] as number[]).push(next);
        waiting++;
      }
    }
  }
  return [];
}

function back(came: Int32Array, end: number): number[] {
  const cells = [];
  for (let cell = end; cell !== -1; cell = came[cell] as number) cells.push(cell);
  return cells.reverse();
}
