// Types of what a stock count holds: the same fields as waney.web.counting.

import type { Run } from "../away/runs";

export interface Item {
  piece: string;
  name: string;
  words: string;
  expected: boolean;
  away: string;
  end: string;
  last: string;
}

/** How pieces stand of which this phone has the name alone. */
export interface Place {
  expected: boolean;
  away: string;
  where: string;
}

/** at: for each, in their order, four hexadecimal digits: which of the places is its. */
export interface NamesOnly {
  places: Place[];
  names: Run[];
  at: string;
}

export interface TagRead {
  name: string;
  piece: string;
}

export interface Holds {
  format: string;
  device: string;
  person: string;
  count: string;
  ended: boolean;
  spot: string;
  where: string;
  not_found: string;
  /** how many the book misses, without what was read here since */
  missing: number;
  more: string;
  items: Item[];
  others: NamesOnly;
  seen: TagRead[];
}
