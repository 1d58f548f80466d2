// How the line round a piece and the marks on its faces are drawn over its photo.

import { drawnLists } from "../outline/lists.ts";
import { line, svg } from "../outline/svg.ts";
import type { Drawn } from "../outline/tool.ts";
import { type EdgeLine, stretches } from "./edge_line.ts";
import type { Follower } from "./follower.ts";
import { type Mark, ringOfMark } from "./marks.ts";
import { PIECE, type Whole } from "./taps.ts";

const LETTERS_PX = 16;

export function drawnWhole(follower: Follower): Drawn<Whole> {
  const lists = drawnLists(PIECE);
  return (all, px, moving) => [...lists(all, px, moving), ...drawnLine(all.edge, follower, px, moving), ...all.marks.flatMap((mark, i) => drawnMark(mark, i === all.chosen, px))];
}

/** Where it is straight it is drawn in dashes. */
function drawnLine(edge: EdgeLine, follower: Follower, px: number, moving: boolean): SVGElement[] {
  const found = stretches(edge, moving ? follower.knownBetween : follower.between);
  return found.flatMap(({ points, straight }) => line(points, px, { looks: straight ? "edge straight" : "edge" }));
}

function drawnMark(mark: Mark, chosen: boolean, px: number): SVGElement[] {
  const ring = ringOfMark(mark);
  const [x, y] = [Math.max(...ring.map(([u]) => u)) + 6 * px, Math.min(...ring.map(([, v]) => v))];
  const words = svg("text", { x, y, "font-size": LETTERS_PX * px, "stroke-width": 4 * px, class: "letters" }, `${mark.kind} ${mark.face}`);
  return [...line(ring, px, { closed: mark.whole || mark.shape === "crack", looks: chosen ? "mark chosen" : "mark" }), words];
}
