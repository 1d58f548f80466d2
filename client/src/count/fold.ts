// Fold: how a stock count stands, from what should be there, what the book has heard, and the commands of this phone alone.
// waney.yard.services.counting tells a count the same way.

import { bearing, dashed, label } from "../away/names";
import { counting } from "../away/pen";
import { bearing as runsBearing, every, withId, type Named } from "../away/runs";
import type { Kept } from "../mill/queue";
import type { Act } from "../mill/types";
import type { Holds, Item, NamesOnly } from "./types";

export interface Told {
  counted: Item[];
  /** some of those that were not found */
  missing: Item[];
  /** how many were not found */
  toFind: number;
  elsewhere: Item[];
  away: Item[];
  unknown: string[];
  ended: boolean;
  /** what was put right from here, by piece */
  righted: Map<string, string>;
}

/** lines of a list that a phone shows at once */
export const MOST_LINES = 100;
const DIGITS = 4;

export function folded(holds: Holds, own: Kept[]): Told {
  const acts = counting(own).map((each) => each.act);
  const tags = [...holds.seen, ...acts.filter((act) => act.kind === "tag-seen").map((act) => ({ name: act["name"] as string, piece: (act["piece"] as string | undefined) ?? "" }))];
  const found = new Set(tags.map((tag) => tag.piece).filter(Boolean));
  const righted = put(own);
  const named = namesOnly(holds, found);
  const here = [...holds.items.filter((item) => found.has(item.piece)), ...named];
  const away = here.filter((item) => item.away && !righted.has(item.piece));
  const elsewhere = here.filter((item) => !item.away && !item.expected && !righted.has(item.piece));
  const apart = new Set([...away, ...elsewhere].map((item) => item.piece));
  return {
    counted: here.filter((item) => !apart.has(item.piece)),
    ...notFound(holds, found, righted, named),
    elsewhere,
    away,
    unknown: [...new Set(tags.filter((tag) => !tag.piece).map((tag) => tag.name))],
    ended: holds.ended || acts.some((act) => act.kind === "count-ended"),
    righted,
  };
}

/** As long as the rest is not here, the book's own number less what was read since. */
function notFound(holds: Holds, found: Set<string>, righted: Map<string, string>, named: Item[]): { missing: Item[]; toFind: number } {
  const missing = holds.items.filter((item) => item.expected && !found.has(item.piece) && !righted.has(item.piece));
  const known = new Set(holds.seen.map((tag) => tag.piece));
  if (holds.more) return { missing, toFind: Math.max(holds.missing - [...found].filter((piece) => !known.has(piece)).length, 0) };
  const put = new Set([...righted.keys()].filter((piece) => !found.has(piece)));
  const done = [...named, ...namesOnly(holds, put)].filter((item) => item.expected).length;
  const toFind = missing.length + lookedFor(holds.others) - done;
  for (const named of every(holds.others.names)) {
    if (missing.length >= Math.min(toFind, MOST_LINES)) break;
    const item = itemOf(holds.others, named);
    if (item.expected && !found.has(item.piece) && !righted.has(item.piece)) missing.push(item);
  }
  return { missing, toFind };
}

function namesOnly(holds: Holds, pieces: Set<string>): Item[] {
  const whole = new Set(holds.items.map((item) => item.piece));
  const found = [...pieces].filter((piece) => !whole.has(piece)).map((piece) => withId(holds.others.names, piece));
  return found.filter((named) => named !== undefined).map((named) => itemOf(holds.others, named));
}

function itemOf(others: NamesOnly, { piece, name, place }: Named): Item {
  const at = others.places[parseInt(others.at.slice(place * DIGITS, (place + 1) * DIGITS), 16)]!;
  return { piece, name, words: "", expected: at.expected, away: at.away, end: "", last: at.where };
}

const counts = new WeakMap<NamesOnly, number>();

/** How many of these are looked for; counted once. */
function lookedFor(others: NamesOnly): number {
  let count = counts.get(others);
  if (count === undefined) {
    count = (others.at.match(/..../g) ?? []).filter((at) => others.places[parseInt(at, 16)]!.expected).length;
    counts.set(others, count);
  }
  return count;
}

/** Pieces that were told to be lost, moved, or to be here after all. */
function put(own: Kept[]): Map<string, string> {
  const righted = new Map<string, string>();
  for (const { act } of own) {
    if (act.kind === "piece-ended") righted.set(act["piece"] as string, "lost");
    const about = String(act["what"] ?? act["about"] ?? "");
    if ((act.kind === "moved" || act.kind === "taken-back") && about.startsWith("piece:")) righted.set(about.slice("piece:".length), "here");
  }
  return righted;
}

/** A tag that was read: the act, and the piece it stands on; nothing where it was counted already. */
export function read(holds: Holds, own: Kept[], name: string): { act: Act | null; item: Item | undefined } {
  const named = runsBearing(holds.others.names, name);
  const item = bearing(holds.items, name) ?? (named && itemOf(holds.others, named));
  const told = folded(holds, own);
  const known = item ? [...told.counted, ...told.away, ...told.elsewhere].some((one) => one.piece === item.piece) : told.unknown.some((one) => label(one) === label(name));
  const act: Act = { kind: "tag-seen", count: holds.count, name: item?.name ?? dashed(name) };
  return { act: known ? null : item ? { ...act, piece: item.piece } : act, item };
}

/** The last tag that was read here, as what takes it back. */
export function slip(own: Kept[], count: string): { act: Act; name: string } | null {
  const last = counting(own).filter((each) => each.act.kind === "tag-seen").at(-1);
  return last ? { act: { kind: "taken-back", command: last.id, about: `count:${count}` }, name: last.act["name"] as string } : null;
}

/** What a press on a line of the answer writes. */
export function lost(holds: Holds, item: Item): Act[] {
  return [{ kind: "piece-ended", piece: item.piece, how: "lost", words: holds.not_found }];
}

export function isHere(holds: Holds, item: Item): Act[] {
  const about = `piece:${item.piece}`;
  const back: Act[] = item.end ? [{ kind: "taken-back", command: item.end, about, words: "found at the stock count" }] : [];
  return holds.spot ? [...back, { kind: "moved", what: about, spot: holds.spot }] : back;
}
