// Runs: pieces of which a page that is away knows the name and the id, as waney.web.names_along packs them.

import { dashed, nameOf, partsOf } from "./names";

const ID_LENGTH = 22;

/** Pieces whose names follow each other, from code-first on; ids: 22 characters each, a UUID in base 64. */
export interface Run {
  code: string;
  first: number;
  ids: string;
}

/** place: how many of all runs stand before it. */
export interface Named {
  piece: string;
  name: string;
  place: number;
}

function idOf(short: string): string {
  const bytes = atob(short.replace(/-/g, "+").replace(/_/g, "/"));
  const hex = [...bytes].map((byte) => byte.charCodeAt(0).toString(16).padStart(2, "0")).join("");
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join("-");
}

function shortOf(id: string): string {
  const bytes = (id.replace(/-/g, "").match(/../g) ?? []).map((two) => String.fromCharCode(parseInt(two, 16)));
  return btoa(bytes.join("")).replace(/\+/g, "-").replace(/\//g, "_").slice(0, ID_LENGTH);
}

const length = (run: Run): number => run.ids.length / ID_LENGTH;

function only(run: Run, place: number, before: number): Named {
  const name = dashed(nameOf(run.code, run.first + place));
  return { piece: idOf(run.ids.slice(place * ID_LENGTH, (place + 1) * ID_LENGTH)), name, place: before + place };
}

/** All of them, in order; made as they are asked for. */
export function* every(runs: Run[]): Generator<Named> {
  let before = 0;
  for (const run of runs) {
    for (let place = 0; place < length(run); place += 1) yield only(run, place, before);
    before += length(run);
  }
}

/** The one that bears a name. */
export function bearing(runs: Run[], written: string): Named | undefined {
  const [code, number] = partsOf(written) ?? ["", 0];
  let before = 0;
  for (const run of runs) {
    if (run.code === code && number >= run.first && number < run.first + length(run)) return only(run, number - run.first, before);
    before += length(run);
  }
  return undefined;
}

const places = new WeakMap<Run[], Map<string, [Run, number, number]>>();

/** Run, place in it and how many stand before it, by the short form of the id; made once for all that are looked for. */
function placesOf(runs: Run[]): Map<string, [Run, number, number]> {
  let found = places.get(runs);
  if (!found) {
    found = new Map();
    let before = 0;
    for (const run of runs) {
      for (let place = 0; place < length(run); place += 1) found.set(run.ids.slice(place * ID_LENGTH, (place + 1) * ID_LENGTH), [run, place, before]);
      before += length(run);
    }
    places.set(runs, found);
  }
  return found;
}

/** The one of an id. */
export function withId(runs: Run[], piece: string): Named | undefined {
  const found = placesOf(runs).get(shortOf(piece));
  return found && only(...found);
}
