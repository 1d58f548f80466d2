// <figure data-log3d> with the log's figures in a <script type="application/json"> and flat drawings for everybody: gets a
// drawing that can be turned, and a slider that takes it apart cut by cut. Without WebGL everything stays as it came.

import { type Solid, readSolid } from "./figures.ts";
import { BUTT, CORNER, SIDE, TOP, type View, byKey, watch } from "./orbit.ts";
import { type Label, LogScene } from "./scene.ts";

function element<K extends keyof HTMLElementTagNameMap>(tag: K, looks: string, text = ""): HTMLElementTagNameMap[K] {
  const made = document.createElement(tag);
  if (looks) made.className = looks;
  if (text) made.textContent = text;
  return made;
}

function button(text: string, pressed: () => void): HTMLButtonElement {
  const made = element("button", "second", text);
  made.type = "button";
  made.addEventListener("click", pressed);
  return made;
}

/** What the slider says. */
export function saying(solid: Solid, made: number): string {
  const all = solid.cuts.length;
  if (made === 0) return all ? `Whole: ${all} cuts to come` : solid.log;
  if (made > all) return "All cut, and the boards edged";
  const cut = solid.cuts[made - 1];
  const part = solid.parts[made - 1];
  const turned = made > 1 && cut?.lie !== solid.cuts[made - 2]?.lie ? "turned, then " : "";
  return `Cut ${made} of ${all}: ${turned}${cut?.words ?? ""}; off comes ${part?.words ?? ""}`;
}

class LogFigure {
  private readonly stage = element("div", "stage");
  private readonly canvas = element("canvas", "");
  private readonly names = element("div", "names");
  private readonly says = element("output", "says");
  private readonly slider = element("input", "");
  private readonly scene: LogScene;
  private readonly calm = matchMedia("(prefers-reduced-motion: reduce)");
  private readonly tags: HTMLElement[];
  private view: View = CORNER;

  constructor(private readonly root: HTMLElement, private readonly solid: Solid) {
    this.scene = new LogScene(solid, this.canvas);
    this.tags = solid.parts.map((part) => element("span", "name", part.kept ? part.short : ""));
    this.names.append(...this.tags);
    this.stage.append(this.canvas, this.names);
    this.scene.onDrawn = (labels) => this.name(labels);
    this.prepareStage();
    root.prepend(this.stage, ...(solid.cuts.length ? [this.apart()] : []), this.views());
    new ResizeObserver(() => this.fit()).observe(this.stage);
    this.fit();
    this.scene.look(this.view);
    this.scene.show(0, true);
    root.dataset["drawn"] = "3d";
  }

  private prepareStage(): void {
    const { stage } = this;
    stage.tabIndex = 0;
    stage.setAttribute("role", "application");
    const keys = "Arrow keys turn it, plus and minus bring it nearer and farther, Home sets it back.";
    stage.setAttribute("aria-label", `${this.solid.log} in three dimensions. ${keys} The flat drawings show the same.`);
    this.names.setAttribute("aria-hidden", "true");
    watch(stage, (how) => this.look(how(this.view)));
    stage.addEventListener("keydown", (event) => {
      const how = byKey(event.key);
      if (!how) return;
      event.preventDefault();
      this.look(how(this.view));
    });
  }

  private look(view: View): void {
    this.view = view;
    this.scene.look(view);
  }

  private apart(): HTMLElement {
    const { slider, says, solid } = this;
    const row = element("div", "apart");
    const label = element("label", "", "Taken apart, cut by cut");
    slider.id = `cuts-${Math.random().toString(36).slice(2)}`;
    label.htmlFor = slider.id;
    Object.assign(slider, { type: "range", min: "0", max: String(solid.cuts.length + (this.scene.canBeEdged ? 1 : 0)), step: "1", value: "0" });
    slider.addEventListener("input", () => this.taken());
    const step = (by: number) => (): void => {
      slider.valueAsNumber += by;
      this.taken();
    };
    says.htmlFor.add(slider.id);
    row.append(label, button("One cut back", step(-1)), slider, button("Next cut", step(1)), says);
    this.say();
    return row;
  }

  private taken(): void {
    this.scene.show(this.slider.valueAsNumber, this.calm.matches);
    this.say();
  }

  private say(): void {
    const text = saying(this.solid, this.slider.valueAsNumber);
    this.says.textContent = text;
    this.slider.setAttribute("aria-valuetext", text);
    this.root.dataset["cuts"] = this.slider.value;
  }

  private views(): HTMLElement {
    const row = element("div", "views");
    const ways: [string, View][] = [["From the butt", BUTT], ["From the side", SIDE], ["From the top end", TOP], ["From a corner", CORNER]];
    row.append(...ways.map(([words, view]) => button(words, () => this.look(view))));
    return row;
  }

  private fit(): void {
    const width = this.stage.clientWidth;
    const height = this.stage.clientHeight;
    if (width && height) this.scene.size(width, height);
  }

  private name(labels: readonly Label[]): void {
    const taken: [number, number][] = [];
    for (const { part, at } of labels) {
      const tag = this.tags[part] as HTMLElement;
      const place: [number, number] = [(at?.[0] ?? 0) * this.stage.clientWidth, (at?.[1] ?? 0) * this.stage.clientHeight];
      tag.hidden = !at || !tag.textContent || taken.some(([x, y]) => Math.abs(x - place[0]) < 18 && Math.abs(y - place[1]) < 15);
      if (!tag.hidden) taken.push(place);
      if (at) tag.style.transform = `translate(${place[0]}px, ${place[1]}px) translate(-50%, -50%)`;
    }
  }
}

export function startLogs(within: ParentNode): void {
  for (const root of within.querySelectorAll<HTMLElement>("figure[data-log3d]:not([data-drawn])")) {
    const text = root.querySelector("script[type='application/json']")?.textContent;
    if (!text) continue;
    try {
      new LogFigure(root, readSolid(text));
    } catch (fault) {
      root.dataset["drawn"] = "flat";
      console.warn("No drawing in three dimensions here; the flat drawings stay.", fault);
    }
  }
}
