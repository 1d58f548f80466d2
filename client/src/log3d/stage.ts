// The stage on which the log is drawn in three dimensions, turned by hand or by keys. Throws where there is no WebGL.

import type { Solid } from "./figures.ts";
import { button, element } from "./made.ts";
import { BUTT, CORNER, SIDE, TOP, type View, byKey, watch } from "./orbit.ts";
import { type Label, LogScene } from "./scene.ts";
import type { Step } from "./steps.ts";

export class Stage {
  readonly element = element("div", "stage");
  readonly views = element("div", "views");
  private readonly canvas = element("canvas", "");
  private readonly names = element("div", "names");
  private readonly scene: LogScene;
  private readonly tags: HTMLElement[];
  private view: View = CORNER;

  constructor(solid: Solid) {
    this.scene = new LogScene(solid, this.canvas);
    this.tags = solid.parts.map((part) => element("span", "name", part.kept ? part.short : ""));
    this.names.append(...this.tags);
    this.names.setAttribute("aria-hidden", "true");
    this.element.append(this.canvas, this.names);
    this.scene.onDrawn = (labels) => this.name(labels);
    this.prepare(solid.log);
    const ways: [string, View][] = [["From the butt", BUTT], ["From the side", SIDE], ["From the top end", TOP], ["From a corner", CORNER]];
    this.views.append(...ways.map(([words, view]) => button(words, () => this.look(view))));
    new ResizeObserver(() => this.fit()).observe(this.element);
    this.scene.look(this.view);
  }

  show(step: Step, atOnce: boolean): void {
    this.fit();
    this.scene.show(step, atOnce);
  }

  private prepare(log: string): void {
    const { element: stage } = this;
    stage.tabIndex = 0;
    stage.setAttribute("role", "application");
    const keys = "Arrow keys turn it, plus and minus bring it nearer and farther, Home sets it back, Page Down makes the next cut, Page Up takes it back.";
    stage.setAttribute("aria-label", `${log} in three dimensions. ${keys} The flat drawing beside it shows the same.`);
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

  private fit(): void {
    const { clientWidth: width, clientHeight: height } = this.element;
    if (width && height) this.scene.size(width, height);
  }

  private name(labels: readonly Label[]): void {
    const taken: [number, number][] = [];
    for (const { part, at } of labels) {
      const tag = this.tags[part] as HTMLElement;
      const place: [number, number] = [(at?.[0] ?? 0) * this.element.clientWidth, (at?.[1] ?? 0) * this.element.clientHeight];
      tag.hidden = !at || !tag.textContent || taken.some(([x, y]) => Math.abs(x - place[0]) < 18 && Math.abs(y - place[1]) < 15);
      if (!tag.hidden) taken.push(place);
      if (at) tag.style.transform = `translate(${place[0]}px, ${place[1]}px) translate(-50%, -50%)`;
    }
  }
}
