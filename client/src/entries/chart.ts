// Chart: moisture by date, on whatever page carries one.

import { draw } from "../chart/draw.ts";

const all = (): void => document.querySelectorAll<HTMLElement>("[data-chart]").forEach(draw);

all();
document.addEventListener("htmx:after:swap", all);
