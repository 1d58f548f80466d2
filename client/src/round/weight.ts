// Weight: what was typed as an act, and what it is asked about first. waney.web.weighing asks about the same.

import type { Act } from "../mill/types";
import type { Before, Holds, Item } from "./types";

export type Doubt = "gain" | "light" | "coarse";

/** All that was typed of one piece; figures in the page's unit, empty for nothing. */
export interface Typed {
  weight: string;
  other: string;
  tare: string;
  mark: string;
}

export const NOTHING: Typed = { weight: "", other: "", tare: "", mark: "" };
const LEAST_MC = 0.01;

export function kilograms(holds: Holds, text: string): number | null {
  const count = Number(text);
  return text === "" || !Number.isFinite(count) ? null : count * holds.unit_kg;
}

const rounded = (kg: number): number => Math.round(kg * 1e6) / 1e6;

/** The wood alone; null where nothing was typed or where the tare is as heavy as all. */
export function weighed(holds: Holds, item: Item, typed: Typed): Act | null {
  const [first, other, tare, mark] = [typed.weight, typed.other, typed.tare, typed.mark].map((text) => kilograms(holds, text));
  if (!first) return null;
  const ends = other ? [rounded(first), rounded(other)] : [];
  const wood = rounded((ends.length ? ends[0]! + ends[1]! : first) - (tare ? rounded(tare) : 0));
  if (wood <= 0) return null;
  const act: Act = { kind: "weighed", what: `piece:${item.piece}`, mass_kg: wood };
  if (ends.length) act["ends_kg"] = ends;
  if (tare) act["tare_kg"] = rounded(tare);
  if (mark) act["mark_kg"] = rounded(mark);
  return act;
}

export function doubts(massKg: number, markKg: number, known: Before): Doubt[] {
  const found: Doubt[] = [];
  if (known.last_kg !== null && known.gain_above_kg !== null && massKg > known.gain_above_kg) found.push("gain");
  if (known.least_kg !== null && massKg < known.least_kg) found.push("light");
  if (known.dry_kg !== null && markKg / known.dry_kg > LEAST_MC) found.push("coarse");
  return found;
}

/** A weight in the page's unit: as fine as a mark of the weighing scale. */
export function said(holds: Holds, kg: number): string {
  const places = holds.mark_kg / holds.unit_kg < 0.09 ? 2 : 1;
  return `${(kg / holds.unit_kg).toFixed(places)} ${holds.unit}`;
}

export function sentences(holds: Holds, item: Item, massKg: number, markKg: number): string[] {
  const known = item.known;
  const of: Record<Doubt, () => string> = {
    gain: () => holds.gained.replace("{last}", said(holds, known.last_kg!)).replace("{on}", known.last_on),
    light: () => holds.light.replace("{least}", said(holds, known.least_kg!)),
    coarse: () => `One mark of this weighing scale is ${((100 * markKg) / known.dry_kg!).toFixed(1)} % moisture for this piece: only large changes can be told by it.`,
  };
  return doubts(massKg, markKg, known).map((one) => of[one]());
}

/** A figure more, or one less. */
export function pressed(text: string, key: string): string {
  if (key === "back") return text.slice(0, -1);
  if (key === "." && text.includes(".")) return text;
  const next = text === "0" && key !== "." ? key : text + key;
  return next.length > 8 ? text : next;
}
