// A length as people write it in a field, counted in the form's own unit: 8' 6 1/2", 102, 2.6 m, 4,20 m. The server reads it in full
// (waney.units.length); a drawing only needs to know where on the log a finger is.

const METRES: Record<string, number> = { in: 0.0254, inch: 0.0254, inches: 0.0254, '"': 0.0254, "''": 0.0254, ft: 0.3048, foot: 0.3048, feet: 0.3048, "'": 0.3048, mm: 0.001, cm: 0.01, m: 1 };
const ONE = /^\s*(\d+\s+\d+\/\d+|\d+\/\d+|\d+(?:[.,]\d+)?)\s*(inches|inch|in|feet|foot|ft|mm|cm|m|''|'|")?\.?\s*[,-]?/i;

function number(text: string): number {
  return text
    .replace(",", ".")
    .split(/\s+/)
    .map((part) => part.split("/"))
    .reduce((sum, [over, under]) => sum + Number(over) / Number(under ?? 1), 0);
}

/** Counted in a unit; null for what is no length. A bare number counts in that unit, after feet in inches. */
export function inUnit(text: string, unit: string): number | null {
  let rest = text.replace(/[′’]/g, "'").replace(/[″”]/g, '"').trim();
  let metres = 0;
  let bare = unit;
  if (!rest) return null;
  while (rest) {
    const found = ONE.exec(rest);
    if (!found) return null;
    const named = (found[2] ?? bare).toLowerCase();
    metres += number(found[1] as string) * (METRES[named] as number);
    if (METRES[named] === METRES["ft"]) bare = "in";
    rest = rest.slice(found[0].length).trim();
  }
  return metres / (METRES[unit] as number);
}
