// Where on a log a finger points, on two drawings: the log's outside unrolled, and an end. Clock positions are the butt's.
//
// Unrolled: seen from outside with the butt on the left, 12 o'clock along the upper edge and the hours running down to 12
// again (seen from the 3 o'clock side, the top end is on the right, 12 above and 6 below).

export type End = "butt" | "top";

/** Share from left and top, 0..1, of a distance from the butt and a clock position; and back. */
export function ontoUnrolled(distance: number, clock: number, length: number): [number, number] {
  return [distance / length, (clock % 12) / 12];
}

export function fromUnrolled(right: number, down: number, length: number): { distance: number; clock: number } {
  return { distance: right * length, clock: hours(down * 12) };
}

/** 0 < clock <= 12 */
export function hours(clock: number): number {
  const turned = ((clock % 12) + 12) % 12;
  return turned === 0 ? 12 : turned;
}

/** Right and up of the middle on the drawing of an end. At the top end 3 o'clock is on the left. */
export function ontoEnd(clock: number, fromMiddle: number, end: End): [number, number] {
  const angle = (clock / 12) * 2 * Math.PI;
  const right = fromMiddle * Math.sin(angle);
  return [end === "butt" ? right : -right, fromMiddle * Math.cos(angle)];
}

export function fromEnd(right: number, up: number, end: End): { clock: number; fromMiddle: number } {
  const angle = Math.atan2(end === "butt" ? right : -right, up);
  return { clock: hours((angle / (2 * Math.PI)) * 12), fromMiddle: Math.hypot(right, up) };
}

/** To what a finger can mean: a quarter of an hour, a whole inch or centimetre. */
export function nearestTo(value: number, grain: number): number {
  return Math.round(value / grain) * grain;
}
