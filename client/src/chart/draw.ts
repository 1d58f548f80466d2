// Draw: moisture by date on a canvas, in the page's own ink; the same lines as the drawing that came with the page.

import uPlot from "uplot";

/** Seconds since 1970, and 5, 50 and 95 % there. */
export type Curve = [number[], number[], number[], number[]];

export interface Charted {
  name: string;
  wanted: number;
  before: Curve | null;
  after: Curve;
  /** seconds, likely, low, high */
  points: [number, number, number, number][];
}

type Row = (number | null)[];
const NARROW_PX = 480;

/** Every moment of the curves and of the points, in order, with what is known there. */
export function rows(charted: Charted): [number[], ...Row[]] {
  const { before, after, points } = charted;
  const times = [...new Set([...after[0], ...(before?.[0] ?? []), ...points.map((one) => one[0])])].sort((a, b) => a - b);
  const read = new Map(points.map((one) => [one[0], one[1]]));
  const last = Math.max(after[0][after[0].length - 1]!, ...points.map((one) => one[0]));
  const kept = times.filter((time) => time <= last);
  const curve = (found: Curve): Row[] => [1, 2, 3].map((at) => kept.map((time) => between(found[0], found[at]!, time)));
  return [kept, ...curve(after), ...(before ? curve(before) : []), kept.map((time) => read.get(time) ?? null)];
}

/** By a straight line between known days; nothing beyond them. */
export function between(days: number[], values: number[], at: number): number | null {
  const after = days.findIndex((day) => day >= at);
  if (after < 0 || at < days[0]!) return null;
  if (days[after] === at || after === 0) return values[after]!;
  const share = (at - days[after - 1]!) / (days[after]! - days[after - 1]!);
  return values[after - 1]! + share * (values[after]! - values[after - 1]!);
}

function ink(name: string): string {
  return getComputedStyle(document.documentElement).getPropertyValue(name).trim() || "black";
}

const LETTERS = "16px system-ui, sans-serif";
const shown = (_: uPlot, value: number | null): string => (value === null || value === undefined ? "" : `${value.toFixed(0)} %`);

function options(charted: Charted, wide: number): uPlot.Options {
  const [own, faint, press] = [ink("--ink"), ink("--line"), ink("--press")];
  const axis = { stroke: own, grid: { stroke: faint, width: 0.5 }, ticks: { stroke: own, width: 1 }, font: LETTERS };
  const line = (label: string, width: number, more: Partial<uPlot.Series> = {}): uPlot.Series => ({
    label, stroke: own, width, points: { show: false }, value: shown, spanGaps: true, ...more,
  }); // prettier-ignore
  const dashed = { dash: [6, 5] };
  return {
    width: wide,
    height: Math.round(Math.min(420, Math.max(260, wide * 0.55))),
    scales: { y: { range: (_u, _low, high) => [0, Math.ceil(high / 10) * 10] } },
    axes: [{ ...axis, size: 60 }, { ...axis, size: 72, values: (_u, ticks) => ticks.map((tick) => `${tick} %`) }],
    series: [
      { label: "Date", value: (_u: uPlot, time: number | null) => (time === null ? "" : new Date(time * 1000).toISOString().slice(0, 10)) },
      line("one in twenty drier", 1),
      line("likely", 2.5),
      line("one in twenty wetter", 1),
      line("drier, before readings", 1, dashed),
      line("likely, before readings", 1, dashed),
      line("wetter, before readings", 1, dashed),
      { label: "read", stroke: own, width: 0, paths: () => null, points: { show: true, size: wide < NARROW_PX ? 9 : 11, fill: own, stroke: own }, value: shown },
    ].filter((_, at) => at < 4 || at > 6 || charted.before),
    bands: [{ series: [3, 1], fill: `${faint}66` }],
    hooks: { draw: [(plot) => marks(plot, charted, own, press)] },
    legend: { show: true, live: true },
    cursor: { drag: { x: false, y: false } },
  };
}

/** What is wanted, how far each reading may be off, and what the lines are. */
function marks(plot: uPlot, charted: Charted, own: string, press: string): void {
  const { ctx, bbox } = plot;
  ctx.save();
  ctx.lineWidth = 2 * devicePixelRatio;
  ctx.strokeStyle = press;
  const goal = plot.valToPos(charted.wanted, "y", true);
  stroke(ctx, [bbox.left, goal], [bbox.left + bbox.width, goal]);
  ctx.fillStyle = own;
  ctx.textAlign = "left";
  ctx.font = `${15 * devicePixelRatio}px sans-serif`;
  ctx.fillText(`wanted, ${Math.round(charted.wanted)} %`, bbox.left + 8 * devicePixelRatio, goal + 18 * devicePixelRatio);
  words(plot, charted);
  ctx.strokeStyle = own;
  ctx.lineWidth = 1.5 * devicePixelRatio;
  for (const [time, , low, high] of charted.points) {
    const x = plot.valToPos(time, "x", true);
    stroke(ctx, [x, plot.valToPos(low, "y", true)], [x, plot.valToPos(high, "y", true)]);
  }
  ctx.restore();
}

/** On the lines, where they lie far apart: at a third of the way. */
function words(plot: uPlot, { after }: Charted): void {
  const { ctx } = plot;
  ctx.strokeStyle = ink("--paper");
  ctx.lineWidth = 4 * devicePixelRatio;
  const write = (share: number, values: number[], text: string, up: boolean): void => {
    const at = Math.floor(after[0].length * share);
    const [x, y] = [plot.valToPos(after[0][at]!, "x", true), plot.valToPos(values[at]!, "y", true)];
    ctx.textAlign = up ? "left" : "right";
    const spot: [number, number] = [x + (up ? 4 : -4) * devicePixelRatio, y + (up ? -5 : 16) * devicePixelRatio];
    ctx.strokeText(text, ...spot); // the ground behind it is cleared
    ctx.fillText(text, ...spot);
  };
  write(1 / 3, after[3], "one in twenty is wetter", true);
  write(1 / 3, after[1], "one in twenty is drier", false);
  write(1 / 6, after[2], "likely", true);
}

function stroke(ctx: CanvasRenderingContext2D, from: [number, number], to: [number, number]): void {
  ctx.beginPath();
  ctx.moveTo(...from);
  ctx.lineTo(...to);
  ctx.stroke();
}

/** Takes the place of the plain drawing; where it cannot, that one stays. */
export function draw(figure: HTMLElement): void {
  const text = figure.querySelector("script")?.textContent;
  const plain = figure.querySelector<HTMLElement>(".plain");
  if (!text || !plain || figure.dataset["drawn"]) return;
  const charted = JSON.parse(text) as Charted;
  const place = document.createElement("div");
  plain.before(place);
  const plot = new uPlot(options(charted, figure.clientWidth), rows(charted) as uPlot.AlignedData, place);
  plain.hidden = true;
  figure.dataset["drawn"] = "yes";
  new ResizeObserver(() => plot.setSize({ width: figure.clientWidth, height: plot.height })).observe(figure);
}
