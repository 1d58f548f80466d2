// Fold: how a stock count stands, from what should be there, what the book has heard, and the commands of this phone alone.
// waney.yard.services.counting tells a count the same way.

import { bearing, dashed, label } from "../away/names";
import { counting } from "../away/pen";
import type { Kept } from "../mill/queue";
import type { Act } from "../mill/types";
import type { Holds, Item } from "./types";

export interface Told {
  counted: Item[];
  missing: Item[];
  elsewhere: Item[];
  away: Item[];
  unknown: string[];
  ended: boolean;
  /** what was put right from here, by piece */
  righted: Map<string, string>;
}

export function folded(holds: Holds, own: Kept[]): Told {
  const acts = counting(own).map((each) => each.act);
  const tags = [...holds.seen, ...acts.filter((act) => act.kind === "tag-seen").map((act) => ({ name: act["name"] as string, piece: (act["piece"] as string | undefined) ?? "" }))];
  const found = new Set(tags.map((tag) => tag.piece).filter(Boolean));
  const righted = put(own);
  const here = holds.items.filter((item) => found.has(item.piece));
  const away = here.filter((item) => item.away && !righted.has(item.piece));
  const elsewhere = here.filter((item) => !item.away && !item.expected && !righted.has(item.piece));
  const apart = new Set([...away, ...elsewhere].map((item) => item.piece));
  return {
    counted: here.filter((item) => !apart.has(item.piece)),
    missing: holds.items.filter((item) => item.expected && !found.has(item.piece) && !righted.has(item.piece)),
    elsewhere,
    away,
    unknown: [...new Set(tags.filter((tag) => !tag.piece).map((tag) => tag.name))],
    ended: holds.ended || acts.some((act) => act.kind === "count-ended"),
    righted,
  };
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
  const item = bearing(holds.items, name);
  const told = folded(holds, own);
  const known = item ? [...told.counted, ...told.away, ...told.elsewhere].includes(item) : told.unknown.some((one) => label(one) === label(name));
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
