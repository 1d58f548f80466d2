// Elements of a drawing, and how what is tapped is drawn over a photograph: white on a darker line, so that it is seen on any wood.

import type { Point } from "./geometry.ts";

const SVG = "http://www.w3.org/2000/svg";

export function svg<K extends keyof SVGElementTagNameMap>(tag: K, attributes: Record<string, string | number>, words = ""): SVGElementTagNameMap[K] {
  const made = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, String(value));
  if (words) made.textContent = words;
  return made;
}

/** px: pixels of the picture for one on the screen, so that lines are as thick at every size. */
export function stroke(tag: "polygon" | "polyline" | "path" | "circle", attributes: Record<string, string | number>, px: number, looks = ""): SVGElement[] {
  return (["under", "line"] as const).map((layer) =>
    svg(tag, { ...attributes, class: `${layer} ${looks}`, "stroke-width": (layer === "under" ? 5 : 2.5) * px }));
}

export function line(points: readonly Point[], px: number, { closed = false, looks = "" } = {}): SVGElement[] {
  return stroke(closed ? "polygon" : "polyline", { points: points.map((point) => point.join(",")).join(" ") }, px, looks);
}
