// Tags: which name somebody means who read a tag or typed its last characters, and what is in its way. The server does the same
// (waney.yard.known_tags); a test holds the two against each other.

import { dashed, label, nameOf, partsOf } from "../away/names";
import type { Called, KnownTags, TagRun } from "./types";

/** So many characters from the end of a tag are enough where they fit one alone; its check character is the last of them. */
const ENOUGH = 4;
const OF_LOG = 0;

/** A name as it is printed, or what to do. */
export type Meant = { name: string } | { sentence: string };

const holds = (runs: TagRun[], name: string): boolean => {
  const [code, number] = partsOf(name) ?? ["", 0];
  return runs.some((run) => run.code === code && run.first <= number && number <= run.last);
};

function ending(runs: TagRun[], characters: string): string[] {
  if (characters.length < ENOUGH) return [];
  const found: string[] = [];
  for (const { code, first, last } of runs) {
    for (let number = first; number <= last; number += 1) {
      if (`${code}${number}`.endsWith(characters.slice(0, -1)) && nameOf(code, number).endsWith(characters)) found.push(dashed(nameOf(code, number)));
    }
  }
  return found;
}

function inOrder(one: string, other: string): number {
  const [[code, number], [otherCode, otherNumber]] = [partsOf(one)!, partsOf(other)!];
  return code === otherCode ? number - otherNumber : code < otherCode ? -1 : 1;
}

/** The name that is meant: all of it was written, or at least four characters from its end. */
export function meant(known: KnownTags, written: string): Meant {
  const characters = label(written);
  const whole = partsOf(characters) ? dashed(characters) : "";
  if (whole && holds(known.free, whole)) return { name: whole };
  const fit = new Set([...ending(known.free, characters), ...(whole ? [whole] : [])]);
  const names = [...(fit.size ? fit : new Set(ending(known.taken, characters)))].sort(inOrder);
  if (!names.length) return { sentence: `"${written}" fits no tag that is known here: too short, or a character is wrong or swapped. Look at the tag again.` };
  return names.length === 1 ? { name: names[0]! } : { sentence: `"${written}" may be ${names.join(" or ")}; type all of it.` };
}

/** Why a tag cannot go on a piece, as a sentence; empty where it can. */
export function inTheWay(known: KnownTags, name: string, own: string): string {
  if (partsOf(name)?.[1] === OF_LOG) return `${name} is the tag of a log. Take a tag for a piece.`;
  return name !== own && holds(known.taken, name) ? `${name} stands on another piece already. Look at the tag again, or take another.` : "";
}

const alone = (name: string): TagRun[] => {
  const [code, number] = partsOf(name) ?? ["", 0];
  return code ? [{ code, first: number, last: number }] : [];
};

/** Whether a tag goes on a piece, by what the book told and by what this page did since then. stapled: every tag it told of. */
export function goesOn(told: KnownTags, pieces: Called[], stapled: string[], piece: Called, written: string): Meant {
  const on = pieces.map((one) => one.name);
  const off = stapled.filter((name) => !on.includes(name)); // taken back: free again, whatever the book said before
  const known = { free: [...told.free, ...off.flatMap(alone)], taken: [...told.taken, ...on.flatMap(alone)] };
  const read = meant(known, written);
  if ("sentence" in read || off.includes(read.name)) return read;
  const sentence = inTheWay(known, read.name, piece.name);
  return sentence ? { sentence } : read;
}
