// Types of what a market day holds: the same fields as waney.web.market_day.

import type { Run } from "../away/runs";

export interface Offered {
  piece: string;
  name: string;
  words: string;
  asked_cents: number | null;
  promised: string;
  /** nothing but its name is on this phone */
  name_only?: boolean;
}

export interface TaxRule {
  words: string;
  over: number;
  under: number;
  each_line: boolean;
  rounding: "half up" | "half to even" | "up" | "down";
}

export interface SoldLine {
  sale: string;
  piece: string;
  cents: number;
  gone: boolean;
  returned: boolean;
}

export interface Request {
  hold: string;
  refused: string;
}

export interface Holds {
  format: string;
  today: string;
  device: string;
  person: string;
  yard: string;
  lease: string;
  closed: boolean;
  until: string;
  where: string;
  money: string;
  taxes: TaxRule[];
  ways: string[];
  buyers: [string, string][];
  hold_until: string;
  more: string;
  along: Offered[];
  others: Offered[];
  names: Run[];
  sold: SoldLine[];
  requests: Request[];
  mind: string[];
}
