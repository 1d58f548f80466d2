// The states that a log goes through: whole, cut by cut, turned, and last all of it at once, with the boards edged.

import type { Solid } from "./figures.ts";

export interface Step {
  /** cuts made */
  made: number;
  /** how it lies: the number of turns made */
  lie: number;
  /** all lies at once, what is edged without its edges */
  all: boolean;
  words: string;
}

export function isEdged(solid: Solid): boolean {
  return solid.pieces.some(({ name, sawn_edges }) => sawn_edges.some(Boolean) && solid.parts.some((part) => part.name === name));
}

function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}

export function stepsOf(solid: Solid): Step[] {
  const count = solid.cuts.length;
  const steps: Step[] = [{ made: 0, lie: 0, all: false, words: count ? `Whole: ${count} cuts to come` : solid.log }];
  let lie = 0;
  solid.cuts.forEach((cut, i) => {
    for (; lie < cut.lie; lie++) steps.push({ made: i, lie: lie + 1, all: false, words: `Turned: ${solid.turns?.[lie] ?? "onto another face"}` });
    const words = `Cut ${i + 1} of ${count}: ${cut.words}; off comes ${solid.parts[i]?.words ?? ""}`;
    steps.push({ made: i + 1, lie, all: false, words });
  });
  const edged = isEdged(solid);
  if (count && (edged || lie > 0)) steps.push({ made: count, lie, all: true, words: capital(`all cut${edged ? ", and the boards edged" : ""}`) });
  return steps;
}
