// What each cut takes off, and how far it has slid away when so many cuts are made.

import { type Cut, type Placing, type Solid, type Spot, type Vec, dot } from "./figures.ts";
import { type Polyhedron, above, below, logOf } from "./polyhedron.ts";

export interface Level {
  up: Vec;
  blade: number;
  above: number;
}

/** A cut as planes of the log frame: up · p. Heights above the bed count up · p + shift. */
export function levelOf(cut: Cut, lies: readonly Placing[]): Level {
  const lie = lies[cut.lie] as Placing;
  return { up: lie.turn[1], blade: cut.blade_m - lie.shift[1], above: cut.above_m - lie.shift[1] };
}

export interface TakenApart {
  /** what each cut takes off, in order, and what stays last */
  parts: Polyhedron[];
  /** what is left before the first cut, after the first, ... after the last */
  left: Polyhedron[];
}

export function takenApart(solid: Solid): TakenApart {
  const left = [logOf(solid.shape)];
  const parts: Polyhedron[] = [];
  for (const cut of solid.cuts) {
    const { up, blade, above: top } = levelOf(cut, solid.lies);
    const whole = left.at(-1) as Polyhedron;
    parts.push(above(whole, up, top));
    left.push(below(whole, up, blade));
  }
  return { parts: [...parts, left.at(-1) as Polyhedron], left };
}

/**
 * How far each part has moved after `made` cuts: every cut pushes what came off before it in the same lie one gap further.
 * What is not yet cut stays where it is.
 */
export function shiftsOf(solid: Solid, made: number, gap: number): Vec[] {
  const done = solid.cuts.slice(0, made);
  const shifts = done.map((cut, i): Vec => {
    const later = done.slice(i).filter((other) => other.lie === cut.lie).length;
    const { up } = levelOf(cut, solid.lies);
    return [up[0] * gap * later, up[1] * gap * later, up[2] * gap * later];
  });
  while (shifts.length < solid.cuts.length + 1) shifts.push([0, 0, 0]);
  return shifts;
}

/** Which part holds the middle of a spot. */
export function holderOf(solid: Solid, spot: Spot): number {
  const middle: Vec = [spot.x_m, spot.y_m, (spot.from_m + spot.to_m) / 2];
  const found = solid.cuts.findIndex((cut) => {
    const { up, above: top } = levelOf(cut, solid.lies);
    return dot(up, middle) >= top;
  });
  return found < 0 ? solid.cuts.length : found;
}
