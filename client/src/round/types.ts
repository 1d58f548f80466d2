// Types of what the weighing round holds: the same fields as waney.web.walking.

export interface Before {
  last_kg: number | null;
  last_on: string;
  gain_above_kg: number | null;
  least_kg: number | null;
  dry_kg: number | null;
}

export interface Item {
  piece: string;
  name: string;
  wood: string;
  spot: string;
  where: string;
  last: string;
  known: Before;
  expected: [number, number, number][];
  this_week: boolean;
  command: string;
  tare: string;
}

export interface Holds {
  format: string;
  today: string;
  device: string;
  person: string;
  unit: string;
  unit_kg: number;
  mark_kg: number;
  again_after: number;
  gained: string;
  light: string;
  items: Item[];
}
