// Fold: what comes next, from the steps of a plan and what was done. The server does the same (waney.web.mill.fold, and
// waney.sawing.missed for the rules); a test holds the two against each other.

import type { AtMill, Called, Done } from "./types";

export interface Stands {
  step: number | null;
  height_steps: number | null;
  shift_steps: number;
  off_steps: number;
  order: number;
  /** backstops and clamps below this; null where they stand right already */
  stops_steps: number | null;
  /** by so many marks what comes off next is thicker than planned, because cuts before it were missed */
  comes_steps: number;
  /** the piece before came off as a wedge, so that its face is out of true */
  wedge: boolean;
}

/** A face that a cut left: how many marks above its place in the plan, and whether a wedge came off it. */
interface Face {
  at: number;
  wedge: boolean;
}

export const CLAMPED = "moved or clamped again";
export const KEPT = "kept as a cant";
export const TAGGED = "tag stapled on";
const WEDGE = "wedge";
const STEPS = ["laid on the bed", "turned", "outside slab off", "edged"];
const SEEN_STEPS = 1;

/** By how many steps later heights are lowered after a piece that is too thick by so many. */
export function lowerBy(thickSteps: number): number {
  return thickSteps > SEEN_STEPS ? thickSteps : 0;
}

/** Where the face lies that a cut leaves; shift: of its own height. */
export function faceAfter(shift: number, thickSteps: number): number {
  return shift - thickSteps;
}

/** By how many marks the piece between a face and the next cut comes thicker than planned; shift: of that cut's height. */
export function comesBy(face: number, shift: number): number {
  return face - shift;
}

/** The log was moved: by how much all heights move, and by how much the top end stands off then. */
export function movedBy(wanted: [number, number], read: [number, number]): [number, number] {
  const [butt, top] = [read[0] - wanted[0], read[1] - wanted[1]];
  return [Math.floor((butt + top) / 2), top - butt];
}

function indexOf(mill: AtMill, done: Done): number | null {
  if (done.kind === "came-off" && done.cut !== null) {
    const found = mill.steps.findIndex((step) => step.number === done.cut);
    return found < 0 ? null : found;
  }
  return STEPS.includes(done.what) && done.step !== null && done.step < mill.steps.length ? done.step : null;
}

/** What lay on the bed was kept as a cant: nothing is sawn off it any more; what came off before may still be edged. */
function bedIsEmpty(done: Done): boolean {
  return done.kind === "came-off" && done.what === KEPT && done.cut === null;
}

/** Pieces in the order they came off, each by its last tag. */
export function called(done: Done[]): Called[] {
  const tags = new Map(done.filter((each) => each.kind === "tagged").map((each) => [each.about, each.name]));
  const off = done.filter((each) => each.kind === "came-off");
  return off.map(({ about, name }) => ({ about, name: tags.get(about) ?? name, tagged: tags.has(about) }));
}

function lieNow(mill: AtMill, finished: Set<number>): number {
  const left = mill.steps.find((_, index) => !finished.has(index)) ?? mill.steps[mill.steps.length - 1];
  return left ? left.lie : 0;
}

/** The face that was sawn last above what a step takes off; none where it is bark, where nobody told, and for no piece. */
function faceAbove(mill: AtMill, faces: Map<number, Face>, index: number): Face | undefined {
  const step = mill.steps[index]!;
  if (step.kind !== "cut" && step.kind !== "left on the bed") return undefined;
  for (let i = index - 1; i >= 0; i -= 1) {
    if (mill.steps[i]!.kind === "cut" && mill.steps[i]!.lie === step.lie) return faces.get(i);
  }
  return undefined;
}

/** How thick the next piece is to come off [m], where that is not as planned; null where it is. */
export function thicknessOf(mill: AtMill, now: Stands): number | null {
  const comes = now.step === null ? null : mill.steps[now.step]!.comes;
  if (!comes?.kept || comes.thickness_m === null || !now.comes_steps) return null;
  return Math.max(0, Math.round((comes.thickness_m + now.comes_steps * mill.step_m) * 1e9) / 1e9);
}

export function stands(mill: AtMill, done: Done[]): Stands {
  const finished = new Set<number>();
  const faces = new Map<number, Face>();
  const missed = mill.pith_steps.map(() => 0);
  const moved = mill.pith_steps.map(() => 0);
  const off = mill.pith_steps.map(() => 0);
  for (const each of done) {
    const index = indexOf(mill, each);
    if (index !== null) {
      finished.add(index);
      const lie = mill.steps[index]!.lie;
      const shift = missed[lie] ?? 0;
      faces.set(index, { at: faceAfter(shift, each.thick_steps), wedge: each.what === WEDGE });
      missed[lie] = shift - lowerBy(each.thick_steps);
    } else if (each.what === CLAMPED && each.pith_steps) {
      const lie = lieNow(mill, finished);
      const wanted = mill.pith_steps[lie];
      if (wanted) [moved[lie], off[lie]] = movedBy(wanted, each.pith_steps);
    }
  }
  const order = done.filter((each) => each.kind === "came-off").length;
  const gone = done.some(bedIsEmpty);
  const next = mill.steps.findIndex((step, index) => !finished.has(index) && !(gone && step.kind !== "edge"));
  const step = mill.steps[next];
  if (!step) return { step: null, height_steps: null, shift_steps: 0, off_steps: 0, order, stops_steps: null, comes_steps: 0, wedge: false };
  const shift = (missed[step.lie] ?? 0) + (moved[step.lie] ?? 0); // a log that was clamped again keeps what a missed cut took off it
  const height = step.height_steps ? Math.max(0, step.height_steps + shift) : null;
  const lowered = Math.min(0, shift);
  const stops = step.stops_steps && (step.lower_stops || lowered) ? Math.max(0, step.stops_steps + lowered) : null;
  const above = faceAbove(mill, faces, next);
  const comes = above ? comesBy(above.at, step.kind === "cut" ? missed[step.lie] ?? 0 : 0) : 0;
  const there = { step: next, height_steps: height, shift_steps: shift, off_steps: off[step.lie] ?? 0, order, stops_steps: stops };
  return { ...there, comes_steps: comes, wedge: above?.wedge ?? false };
}
