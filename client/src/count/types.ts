// Types of what a stock count holds: the same fields as waney.web.counting.

export interface Item {
  piece: string;
  name: string;
  words: string;
  expected: boolean;
  away: string;
  end: string;
  last: string;
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
  items: Item[];
  seen: TagRead[];
}
