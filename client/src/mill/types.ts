// Types of what the page at the mill holds: the same fields as waney.web.mill.holds and waney.papers.mill_steps.

export interface Comes {
  in_plan: string;
  kept: boolean;
  words: string;
  product: string;
  thickness_m: number | null;
  length_m: number | null;
  widths_m: number[];
  at: number[];
}

export interface Step {
  kind: "roll on" | "cut" | "turn" | "left on the bed" | "edge";
  lie: number;
  words: string;
  number: number;
  height_steps: number;
  comes: Comes | null;
  weight: string;
  heavy: boolean;
  stop: string[];
  before: string[];
  stops_steps: number;
  lower_stops: boolean;
}

export type Printed = [string, string, string, string];

export interface AtMill {
  log: string;
  species: string;
  step_m: number;
  kerf_m: number;
  eighth_steps: number;
  printed: Printed[];
  pith_steps: [number, number][];
  steps: Step[];
  cautions: [string, string][];
}

/** Names that follow each other, from code-first to code-last. */
export interface TagRun {
  code: string;
  first: number;
  last: number;
}

/** free: names to be stapled on; taken: those of pieces. */
export interface KnownTags {
  free: TagRun[];
  taken: TagRun[];
}

/** A piece that came off, and what it is called now. */
export interface Called {
  about: string;
  name: string;
  tagged: boolean;
}

export interface Done {
  command: string;
  kind: string;
  what: string;
  about: string;
  cut: number | null;
  step: number | null;
  thick_steps: number;
  pith_steps: [number, number] | null;
  name: string;
  thickness_m: number | null;
  height_steps: number | null;
}

export interface Holds {
  format: string;
  day: string;
  on: string;
  log: string;
  log_name: string;
  wood: string;
  device: string;
  person: string;
  plan: string;
  at_mill: AtMill | null;
  step_m: number;
  kerf_m: number;
  names: string[];
  done: Done[];
  thicknesses: number[];
  thickness_words: string[];
  first_order: number;
  printed: Printed[];
  spot: string;
  spot_called: string;
  eighths: string[];
  along: [number, string][];
  size_m: number;
  sizes: Printed[];
  tags: KnownTags;
}

/** An act as it stands in a list of commands. */
export type Act = { kind: string } & Record<string, unknown>;

export interface Command {
  id: string;
  count: number;
  person: string;
  happened_at: string;
  act: Act;
}
