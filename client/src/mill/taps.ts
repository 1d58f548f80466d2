// Taps: what a tap writes, as an act and as what the page itself remembers of it. waney.web.mill.taps writes the same acts.

import { KEPT, stands, TAGGED } from "./fold";
import type { Act, Done, Holds, Step } from "./types";

export interface Tap {
  how: string;
  thickSteps: number;
}

const HAPPENED: Record<Step["kind"], string> = {
  "roll on": "laid on the bed",
  turn: "turned",
  edge: "edged",
  cut: "outside slab off",
  "left on the bed": "outside slab off",
};

const THINNEST_M = 0.0015875;

/** Numbers as they are written: a billionth of a metre is enough. */
function rounded(metres: number): number {
  return Math.round(metres * 1e9) / 1e9;
}

/** A thickness after misses; null where they leave no wood: then nobody knows how thick it is. */
function someWood(metres: number): number | null {
  return metres >= THINNEST_M ? rounded(metres) : null;
}

function offBy(holds: Holds, tap: Tap): number | null {
  return tap.thickSteps ? rounded(tap.thickSteps * holds.step_m) : null;
}

/** Leaves out what is not known. */
function act(kind: string, fields: Record<string, unknown>): Act {
  const told = Object.entries(fields).filter(([, value]) => value !== null && value !== undefined && value !== "");
  return { kind, ...Object.fromEntries(told) };
}

/** The next step of the plan was done; null when all was done. */
export function tapped(holds: Holds, done: Done[], names: string[], tap: Tap, piece: string): Act | null {
  const mill = holds.at_mill;
  if (!mill) return null;
  const now = stands(mill, done);
  if (now.step === null) return null;
  const step = mill.steps[now.step]!;
  const off = offBy(holds, tap);
  if (!step.comes?.kept) {
    return act("at-the-mill", { what: HAPPENED[step.kind], day: holds.day, log: holds.log, plan: holds.plan, step: now.step, off_by_m: off });
  }
  const comes = step.comes;
  const stood = now.height_steps === null ? null : Math.max(0, now.height_steps - tap.thickSteps);
  const thicker = rounded(rounded(now.comes_steps * holds.step_m) + (off ?? 0));
  return act("came-off", {
    piece,
    day: holds.day,
    log: holds.log,
    plan: holds.plan,
    name: names[0] ?? "",
    cut: step.number,
    order: holds.first_order + now.order + 1,
    how: tap.how,
    off_by_m: off,
    height_m: stood === null ? null : rounded(stood * holds.step_m),
    thickness_m: comes.thickness_m === null ? null : someWood(comes.thickness_m + thicker),
    length_m: comes.length_m,
    widths_m: comes.widths_m,
    at: comes.at.length ? comes.at : null,
    product: comes.product,
    spot: holds.spot,
  });
}

const AS_MEANT: Tap = { how: "as meant", thickSteps: 0 };

/** A piece where there is no plan, or one that the plan does not know. thicknessM: as it was meant. */
export function withoutPlan(holds: Holds, done: Done[], names: string[], thicknessM: number | null, piece: string, heightM: number | null, tap: Tap = AS_MEANT): Act {
  const order = holds.first_order + done.filter((each) => each.kind === "came-off").length + 1;
  const off = offBy(holds, tap);
  const told = { how: tap.how, off_by_m: off, height_m: heightM, thickness_m: thicknessM === null ? null : someWood(thicknessM + (off ?? 0)) };
  return act("came-off", { piece, day: holds.day, log: holds.log, name: names[0] ?? "", order, ...told, spot: holds.spot });
}

/** How thick the last piece off was meant to be; null where nobody told. */
export function lastMeant(holds: Holds, done: Done[]): number | null {
  const last = done.filter((each) => each.thickness_m !== null).at(-1);
  return last ? rounded(last.thickness_m! - last.thick_steps * holds.step_m) : null;
}

/** What lies on the bed is kept as it is, to be sawn another day. */
export function asACant(holds: Holds, done: Done[], names: string[], piece: string): Act {
  return withoutPlan(holds, done, names, null, piece, null, { how: KEPT, thickSteps: 0 });
}

export function happened(holds: Holds, what: string, more: Record<string, unknown> = {}): Act {
  return act("at-the-mill", { what, day: holds.day, log: holds.log, ...more });
}

/** A tag was stapled on a piece; about: its stream. */
export function stapledOn(about: string, name: string): Act {
  return act("tagged", { piece: about.slice("piece:".length), name });
}

export function takenBack(done: Done): Act {
  return act("taken-back", { command: done.command, about: done.about });
}

/** What the page remembers of a command of its own; null for one that only takes another back. */
export function doneOf(holds: Holds, id: string, written: Act): Done | null {
  const number = (field: string): number | null => (typeof written[field] === "number" ? (written[field] as number) : null);
  const steps = (metres: number | null): number | null => (metres === null ? null : Math.round(metres / holds.step_m));
  const pith = written["pith_m"] as number[] | undefined;
  const common = { command: id, kind: written.kind, thick_steps: steps(number("off_by_m")) ?? 0 };
  if (written.kind === "came-off") {
    return {
      ...common,
      what: String(written["how"] ?? "as meant"),
      about: `piece:${written["piece"]}`,
      cut: number("cut"),
      step: null,
      pith_steps: null,
      name: String(written["name"] ?? ""),
      thickness_m: number("thickness_m"),
      height_steps: steps(number("height_m")),
    };
  }
  const neither = { cut: null, thickness_m: null, height_steps: null };
  if (written.kind === "tagged") {
    const [about, name] = [`piece:${written["piece"]}`, String(written["name"])];
    return { ...common, ...neither, what: TAGGED, about, name, step: null, pith_steps: null };
  }
  if (written.kind !== "at-the-mill") return null;
  return {
    ...common,
    ...neither,
    what: String(written["what"]),
    about: `day:${written["day"]}`,
    step: number("step"),
    pith_steps: pith && pith.length === 2 ? [steps(pith[0]!)!, steps(pith[1]!)!] : null,
    name: "",
  };
}
