// Names: pieces that are not along and of which the page knows the name alone, so that they can be asked for.

import { dashed, nameOf, partsOf } from "../away/names";
import type { Offered, Run } from "./types";

const ID_LENGTH = 22;

function idOf(short: string): string {
  const bytes = atob(short.replace(/-/g, "+").replace(/_/g, "/"));
  const hex = [...bytes].map((byte) => byte.charCodeAt(0).toString(16).padStart(2, "0")).join("");
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join("-");
}

function shortOf(id: string): string {
  const bytes = (id.replace(/-/g, "").match(/../g) ?? []).map((two) => String.fromCharCode(parseInt(two, 16)));
  return btoa(bytes.join("")).replace(/\+/g, "-").replace(/\//g, "_").slice(0, ID_LENGTH);
}

function only(run: Run, place: number): Offered {
  const name = dashed(nameOf(run.code, run.first + place));
  return { piece: idOf(run.ids.slice(place * ID_LENGTH, (place + 1) * ID_LENGTH)), name, words: "", asked_cents: null, promised: "", name_only: true };
}

/** The one that bears a name. */
export function bearing(runs: Run[], written: string): Offered | undefined {
  const [code, number] = partsOf(written) ?? ["", 0];
  const run = runs.find((one) => one.code === code && number >= one.first && number < one.first + one.ids.length / ID_LENGTH);
  return run && only(run, number - run.first);
}

/** The one of an id. */
export function withId(runs: Run[], piece: string): Offered | undefined {
  const short = shortOf(piece);
  for (const run of short.length === ID_LENGTH ? runs : []) {
    let at = run.ids.indexOf(short);
    while (at % ID_LENGTH > 0) at = run.ids.indexOf(short, at + 1); // it may lie across two by chance
    if (at >= 0) return only(run, at / ID_LENGTH);
  }
  return undefined;
}
