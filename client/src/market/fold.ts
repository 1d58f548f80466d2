// Fold: how a market day stands, from what was taken along, what the book has heard, and the commands of this phone alone.

import { bearing } from "../away/names";
import { counting, REFUSED } from "../away/pen";
import * as runs from "../away/runs";
import type { Kept } from "../mill/queue";
import type { Act } from "../mill/types";
import { taxed } from "./money";
import type { Holds, Offered } from "./types";

export interface Line {
  piece: string;
  cents: number;
}

export interface Tax {
  name: string;
  cents: number;
}

export interface Sale {
  sale: string;
  lines: Line[];
  taxes: Tax[];
  buyer: string;
  by: string;
  total: number;
  on: string;
  /** pieces of it that came back to the stall */
  back: string[];
  /** pieces that were somebody else's, as the book says */
  gone: string[];
}

export interface Asked {
  hold: string;
  piece: string;
  buyer: string;
  until: string;
  /** "waits", "kept" or why not */
  came: string;
}

export interface Day {
  sales: Sale[];
  sold: Map<string, string>;
  here: Offered[];
  asked: Asked[];
  money: Map<string, number>;
  closed: boolean;
  home: string[];
}

export function folded(holds: Holds, own: Kept[]): Day {
  const acts = counting(own).map((each) => each.act);
  const called = new Map(holds.buyers);
  for (const act of acts) if (act.kind === "person-added") called.set(act["person"] as string, act["called"] as string);
  const sales = acts.filter((act) => act.kind === "sold-away").map((act) => saleOf(holds, act, acts, called));
  const sold = new Map<string, string>();
  for (const line of holds.sold) if (!line.returned) sold.set(line.piece, line.sale);
  for (const sale of sales) for (const line of sale.lines) if (!sale.back.includes(line.piece)) sold.set(line.piece, sale.sale);
  for (const sale of sales) for (const piece of sale.back) if (sold.get(piece) === sale.sale) sold.delete(piece);
  const closing = acts.find((act) => act.kind === "lease-closed");
  return {
    sales,
    sold,
    here: holds.along.filter((one) => !sold.has(one.piece)),
    asked: own.filter((each) => each.act.kind === "hold-asked").map((each) => askedOf(holds, each, called)),
    money: moneyOf(acts),
    closed: holds.closed || closing !== undefined,
    home: (closing?.["home"] as string[] | undefined) ?? [],
  };
}

function saleOf(holds: Holds, act: Act, acts: Act[], called: Map<string, string>): Sale {
  const lines = act["pieces"] as Line[];
  const taxes = (act["taxes"] as Tax[] | undefined) ?? [];
  const sale = act["sale"] as string;
  const told = holds.sold.filter((one) => one.sale === sale);
  const here = acts.filter((one) => one.kind === "returned" && one["sale"] === sale).flatMap((one) => one["pieces"] as string[]);
  return {
    sale,
    lines,
    taxes,
    buyer: called.get((act["person"] as string | undefined) ?? "") ?? "",
    by: act["paid_by"] as string,
    total: sumOf(lines, taxes),
    on: act["on"] as string,
    back: [...new Set([...here, ...told.filter((one) => one.returned).map((one) => one.piece)])],
    gone: told.filter((one) => one.gone && !one.returned).map((one) => one.piece),
  };
}

/** What is taxed on lines by the rules that hold now. */
export function taxesOf(holds: Holds, lines: Line[]): Tax[] {
  const prices = lines.map((line) => line.cents);
  return holds.taxes.map((rule) => ({ name: rule.words, cents: taxed(prices, rule) }));
}

export function sumOf(lines: Line[], taxes: Tax[]): number {
  return [...lines, ...taxes].reduce((sum, one) => sum + one.cents, 0);
}

/** What goes back for a piece: so much less the rest of the sale costs, so that all of it back is all that was paid. */
export function refund(holds: Holds, sale: Sale, piece: string): number {
  const cost = (lines: Line[]): number => (lines.length === sale.lines.length ? sale.total : sumOf(lines, taxesOf(holds, lines)));
  const left = sale.lines.filter((line) => !sale.back.includes(line.piece));
  return sale.by === "owed" ? 0 : cost(left) - cost(left.filter((line) => line.piece !== piece));
}

function askedOf(holds: Holds, kept: Kept, called: Map<string, string>): Asked {
  const hold = kept.act["hold"] as string;
  const told = holds.requests.find((one) => one.hold === hold);
  const came = REFUSED.includes(kept.came) ? kept.sentence : !told ? "waits" : told.refused || "kept";
  return { hold, piece: (kept.act["pieces"] as string[])[0]!, buyer: called.get(kept.act["person"] as string) ?? "", until: kept.act["until"] as string, came };
}

function moneyOf(acts: Act[]): Map<string, number> {
  const money = new Map<string, number>();
  const add = (way: string, amount: number): void => void (amount && money.set(way, (money.get(way) ?? 0) + amount));
  for (const act of acts) {
    if (act.kind === "sold-away") add(act["paid_by"] as string, act["paid_cents"] as number);
    if (act.kind === "returned") add("given back", -(act["refund_cents"] as number));
  }
  return money;
}

function nameOnly(named: runs.Named | undefined): Offered | undefined {
  return named && { piece: named.piece, name: named.name, words: "", asked_cents: null, promised: "", name_only: true };
}

/** A piece by its id. */
export function pieceOf(holds: Holds, piece: string): Offered | undefined {
  return known(holds).find((one) => one.piece === piece) ?? nameOnly(runs.withId(holds.names, piece));
}

/** The piece that bears a name, along or not. */
export function called(holds: Holds, written: string): Offered | undefined {
  return bearing(known(holds), written) ?? nameOnly(runs.bearing(holds.names, written));
}

/** All pieces of which this phone knows more than the name. */
export function known(holds: Holds): Offered[] {
  return [...holds.along, ...holds.others];
}

/** Who it is: somebody the shop knows by this name, or somebody new with the acts that say so; nobody for an empty name. */
export function buyer(holds: Holds, own: Kept[], called: string, newId: () => string): { person: string; acts: Act[] } {
  const name = called.trim();
  const same = (other: string): boolean => other.toLowerCase() === name.toLowerCase();
  const known = holds.buyers.find(([, other]) => same(other))?.[0];
  const added = own.find((each) => each.act.kind === "person-added" && same(each.act["called"] as string))?.act["person"] as string | undefined;
  if (!name || known || added) return { person: name ? (known ?? added!) : "", acts: [] };
  const person = newId();
  return { person, acts: [{ kind: "person-added", person, called: name }, { kind: "buys-here", person }] };
}

/** A sale, paid in full unless it is owed. */
export function soldAway(holds: Holds, sale: string, lines: Line[], person: string, by: string, on: string): Act {
  const taxes = taxesOf(holds, lines);
  return {
    kind: "sold-away", sale, pieces: lines, on, person, paid_cents: by === "owed" ? 0 : sumOf(lines, taxes), paid_by: by, taxes, lease: holds.lease,
  }; // prettier-ignore
}
