// Lists of points as tools: outlines that close, lines, spots.

import { placeFor } from "./geometry.ts";
import { line, stroke } from "./svg.ts";
import { type Kinds, LEAST_RING, type Tapped, added, moved, without } from "./tapped.ts";
import type { Drawn, Tool } from "./tool.ts";

/** Outlines take a point where it lengthens them least, once they go round; so a forgotten one can be put in. */
export function listTool<L extends string, S extends Tapped<L>>(kinds: Kinds<L>, list: L): Tool<S> {
  return {
    handles: (all) => all[list],
    put: (all, at) => {
      const points = all[list];
      const closed = kinds.rings.includes(list) && points.length >= LEAST_RING;
      if (!closed) return { ...all, ...added(all, list, at, kinds.most[list]) };
      const after = placeFor(points, at);
      return { ...all, [list]: [...points.slice(0, after + 1), at, ...points.slice(after + 1)] };
    },
    moved: (all, handle, to) => ({ ...all, ...moved(all, list, handle, to) }),
    shortened: (all) => ({ ...all, ...without(all, list, all[list].length - 1) }),
  };
}

export function drawnLists<L extends string>(kinds: Kinds<L>): Drawn<Tapped<L>> {
  return (all, px) => [
    ...[...kinds.lines, ...kinds.rings].flatMap((list) =>
      line(all[list], px, { closed: kinds.rings.includes(list) && all[list].length >= LEAST_RING, looks: list })),
    ...kinds.spots.flatMap((list) => all[list]).flatMap(([x, y]) => stroke("path", { d: `M${x - 9 * px} ${y}h${18 * px}M${x} ${y - 9 * px}v${18 * px}` }, px)),
  ];
}
