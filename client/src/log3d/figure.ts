// <figure data-log3d> with the log's figures in a <script type="application/json"> and each lie flat in <div class="flats" hidden>:
// gets a drawing that can be turned, and a slider that takes it and the flat ones apart, state by state. Without WebGL the flat ones
// step alone.

import { type Solid, readSolid } from "./figures.ts";
import { Flats } from "./flats.ts";
import { button, element } from "./made.ts";
import { Stage } from "./stage.ts";
import { type Step, stepsOf } from "./steps.ts";

const NEAR = "400px";
const KEYS: Record<string, number> = { PageDown: 1, PageUp: -1 };

function stageOf(solid: Solid): Stage | null {
  try {
    return new Stage(solid);
  } catch (fault) {
    console.warn("No drawing in three dimensions here; the flat drawings step alone.", fault);
    return null;
  }
}

class LogFigure {
  private readonly says = element("output", "says");
  private readonly slider = element("input", "");
  private readonly steps: Step[];
  private readonly flats: Flats;
  private readonly stage: Stage | null;
  private readonly calm = matchMedia("(prefers-reduced-motion: reduce)");

  constructor(private readonly root: HTMLElement, solid: Solid) {
    this.steps = stepsOf(solid);
    const flats = root.querySelector<HTMLElement>(".flats");
    this.flats = new Flats(flats, solid);
    this.stage = stageOf(solid);
    const beside = element("div", "beside");
    root.prepend(...(this.steps.length > 1 ? [this.apart()] : []), beside, ...(this.stage ? [this.stage.views] : []));
    beside.append(...(this.stage ? [this.stage.element] : []), ...(flats ? [flats] : []));
    root.addEventListener("keydown", (event) => this.key(event));
    this.show(true);
    root.dataset["drawn"] = this.stage ? "3d" : "flat";
  }

  private apart(): HTMLElement {
    const { slider, says } = this;
    const row = element("div", "apart");
    const label = element("label", "", "Taken apart, cut by cut");
    slider.id = `cuts-${Math.random().toString(36).slice(2)}`;
    label.htmlFor = slider.id;
    Object.assign(slider, { type: "range", min: "0", max: String(this.steps.length - 1), step: "1", value: "0" });
    slider.addEventListener("input", () => this.show(this.calm.matches));
    says.htmlFor.add(slider.id);
    row.append(label, button("One step back", () => this.go(-1)), slider, button("Next step", () => this.go(1)), says);
    return row;
  }

  private go(by: number): void {
    this.slider.valueAsNumber += by;
    this.show(this.calm.matches);
  }

  private key(event: KeyboardEvent): void {
    const by = KEYS[event.key];
    if (!by || this.steps.length < 2) return;
    event.preventDefault();
    this.go(by);
  }

  private show(atOnce: boolean): void {
    const step = this.steps[this.steps.length > 1 ? this.slider.valueAsNumber : 0] as Step;
    this.flats.show(step);
    this.stage?.show(step, atOnce);
    this.says.textContent = step.words;
    this.slider.setAttribute("aria-valuetext", step.words);
    Object.assign(this.root.dataset, { cuts: String(step.made), lie: String(step.lie) });
  }
}

function start(root: HTMLElement): void {
  const text = root.querySelector("script[type='application/json']")?.textContent;
  if (text && !root.dataset["drawn"]) new LogFigure(root, readSolid(text));
}

/** Each log begins when it is about to be seen: several at once make a phone wait. */
export function startLogs(within: ParentNode): void {
  const coming = new IntersectionObserver(
    (seen) => {
      for (const { isIntersecting, target } of seen) {
        if (!isIntersecting) continue;
        coming.unobserve(target);
        start(target as HTMLElement);
      }
    },
    { rootMargin: NEAR },
  );
  for (const root of within.querySelectorAll<HTMLElement>("figure[data-log3d]:not([data-drawn])")) coming.observe(root);
}
