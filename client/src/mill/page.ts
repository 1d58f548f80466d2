// Page: the sawing of one log on one day. What was done is the commands; everything shown is computed from them.

import { keepPage } from "../away/keep";
import { askBeforeLeaving } from "../away/leave";
import { counting, Pen, turnedDown } from "../away/pen";
import { readyToAsk, button, choose, heights, tell } from "./ask";
import { askTag } from "./ask_tag";
import { keepAwake } from "./awake";
import { called, CLAMPED, stands, thicknessOf, type Stands } from "./fold";
import { openPhotos, type Photos } from "./photos";
import { keysPressOnce, pressed, tapsLeaveNoFocus } from "./press";
import { newId, openQueue } from "./queue";
import { notLong, PATIENCE_MS } from "./send";
import { lastWords, plainFigure, printedAt, showNext, sizeOf } from "./show";
import { goesOn } from "./tags";
import { asACant, doneOf, happened, lastMeant, stapledOn, takenBack, tapped, withoutPlan, type Tap } from "./taps";
import type { Act, Done, Holds, Printed } from "./types";

const EIGHTHS = [1, 2, 3, 4];
const CLOCK = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12];
const SEND_EVERY_MS = 5000;
const MOST_PIECES = 6;
const AS_MEANT: Tap = { how: "as meant", thickSteps: 0 };
const NO_ROOM = "Not kept: this browser has no room. Tap it again.";
const PAPER = "send or write down the tally before";

const by = (id: string): HTMLElement | null => document.getElementById(id);

export class Page {
  private heightSteps: number | null = null;
  private told: () => void = () => undefined;

  constructor(
    private holds: Holds,
    private readonly pen: Pen,
    private readonly alone = false,
    private readonly photos: Photos | null = null,
  ) {}

  async begin(): Promise<void> {
    readyToAsk();
    this.targets();
    this.elses();
    keepAwake(by("awake"));
    this.sayOnce();
    this.show();
    if (this.alone) return;
    this.waitForPlan();
    if (!by("job")?.hasAttribute("hx-get")) void keepPage(by("opens")).then(decoderAtHand);
    askBeforeLeaving(() => this.pen.waiting() + (this.photos?.waits() ?? 0));
    window.addEventListener("online", () => void this.send());
    window.setInterval(() => void this.send(), SEND_EVERY_MS);
    await notLong(this.send());
  }

  /** The list of commands of this page, as the book takes it in. */
  list(): string {
    return this.pen.list();
  }

  lasting(): boolean {
    return this.pen.lasting();
  }

  count(): number {
    return this.pen.own.length;
  }

  onChange(told: () => void): void {
    this.told = told;
  }

  /** Server and own commands in one row; what was taken back is gone. */
  done(): Done[] {
    const back = new Set(this.pen.own.filter((each) => each.act.kind === "taken-back").map((each) => each.act["command"]));
    const told = new Set(this.holds.done.map((each) => each.command));
    const mine = this.pen.own
      .filter((each) => !told.has(each.id) && !turnedDown(each))
      .map((each) => doneOf(this.holds, each.id, each.act))
      .filter((each): each is Done => each !== null);
    return [...this.holds.done, ...mine].filter((each) => !back.has(each.command));
  }

  /** What is shown as last, and what Undo takes back: also a tag that the book turned down, until something is told after it. */
  private last(): Done | undefined {
    const own = counting(this.pen.own).at(-1);
    const tag = own && turnedDown(own) ? doneOf(this.holds, own.id, own.act) : null;
    return tag ? { ...tag, what: "tag turned down" } : this.done().at(-1);
  }

  private names(): string[] {
    const used = new Set(this.done().map((each) => each.name));
    return this.holds.names.filter((name) => !used.has(name));
  }

  private now(): Stands | null {
    return this.holds.at_mill ? stands(this.holds.at_mill, this.done()) : null;
  }

  /** build: what a press tells, made once all before it is written; where it could not be kept the page says so and stands as it stood. */
  private async write(build: () => Act | null, kept?: () => void): Promise<void> {
    try {
      await this.pen.write(() => [build()].filter((act) => act !== null), kept);
    } catch (fault) {
      console.error("It was not kept.", fault);
      return this.show();
    }
    this.show();
    if (!this.alone) void this.send();
  }

  private sawn(tap: Tap): void {
    if (!this.holds.at_mill) return this.thicknessOf(tap);
    void this.write(() => tapped(this.holds, this.done(), this.names(), tap, newId()));
  }

  private targets(): void {
    const sawn = by("sawn") as HTMLButtonElement | null;
    if (sawn) {
      sawn.type = "button";
      pressed(sawn, () => {
        const again = this.again();
        if (again) this.thickness(again.thick);
        else this.sawn(AS_MEANT);
      });
      keysPressOnce();
      tapsLeaveNoFocus(sawn, by("ask") as HTMLDialogElement);
    }
    by("came-off")?.addEventListener("click", () => this.cameOff());
    by("stop")?.addEventListener("click", () => this.stopAndLook());
    by("tag-on")?.addEventListener("click", () => this.tagOn());
    (by("undo")?.closest("form") as HTMLFormElement | null)?.addEventListener("submit", (event) => {
      event.preventDefault();
      void this.write(() => {
        const last = this.last();
        return last ? takenBack(last) : null;
      });
    });
    by("taps")?.addEventListener("submit", (event) => event.preventDefault());
    by("thicknesses")?.querySelectorAll("button").forEach((one) => {
      one.type = "button";
      one.addEventListener("click", () => this.thickness(Number(one.value)));
    });
  }

  private cameOff(): void {
    const eighth = this.holds.at_mill?.eighth_steps ?? 2;
    const off = (how: string, sign: number): [string, () => void][] =>
      EIGHTHS.map((n, i) => [`${this.holds.eighths[i]} ${how}`, () => this.sawn({ how, thickSteps: sign * n * eighth })]);
    const plainly: [string, () => void][] = ["wedge", "short", "spoiled"].map((how) => [
      how.charAt(0).toUpperCase() + how.slice(1),
      () => this.sawn({ how, thickSteps: 0 }),
    ]);
    choose("It came off ...", [["Too thick by", off("thick", 1)], ["Too thin by", off("thin", -1)], ["Otherwise", plainly]], this.countedFrom());
  }

  /** What a miss is counted from, where that is not as planned. */
  private countedFrom(): string {
    const now = this.now();
    const thick = now && thicknessOf(this.holds.at_mill!, now);
    return thick === null ? "" : `Counted from ${plainFigure(sizeOf(this.holds, thick))}, as it was to come off. As thick as that? Go back and press Sawn.`;
  }

  private tagOn(): void {
    const pieces = called(this.done());
    const own = this.pen.own.filter((each) => !turnedDown(each)).map((each) => doneOf(this.holds, each.id, each.act)); // one that was turned down was on no piece
    const stapled = [...this.holds.done, ...own].flatMap((each) => (each?.kind === "tagged" ? [each.name] : []));
    askTag(
      pieces.slice(-MOST_PIECES).reverse(),
      (piece, written) => goesOn(this.holds.tags, pieces, stapled, piece, written),
      (piece, name) => void this.write(() => stapledOn(piece.about, name)),
    );
  }

  private stopAndLook(): void {
    const now = this.now();
    const step = now && now.step !== null ? this.holds.at_mill?.steps[now.step] : undefined;
    tell("Stop the band", step?.stop.length ? step.stop : ["Blade stopped, head back: look at the face."], [
      ["Saw on", () => undefined],
      ["Found metal", () => this.found("found metal")],
      ["Found rot", () => this.found("found rot")],
    ]);
  }

  private elses(): void {
    const plainly = (what: string): HTMLButtonElement => button(what.charAt(0).toUpperCase() + what.slice(1), () => void this.write(() => happened(this.holds, what)));
    const here = by("elses");
    here?.replaceChildren(
      plainly("turned"),
      button("Moved or clamped again", () => this.clamped()),
      button("Found metal", () => this.found("found metal")),
      button("Found rot", () => this.found("found rot")),
      plainly("blade wandered"),
      plainly("blade changed"),
      button("Kept as a cant", () => this.cant()),
      ...(this.photos ? [this.photos.button()] : []),
      ...(this.holds.at_mill ? [button("Another piece", () => this.another())] : [button("Set the bed height", () => this.setHeight())]),
    );
  }

  /** Two pith heights are read again, and all heights of this lie follow. */
  private clamped(): void {
    const mill = this.holds.at_mill;
    const now = this.now();
    if (!mill || !now) return void this.write(() => happened(this.holds, CLAMPED));
    const lie = mill.steps[now.step ?? mill.steps.length - 1]!.lie;
    heights("Where is the pith now?", ["Butt", "Top"], mill.pith_steps[lie]!, mill.printed, mill.eighth_steps, this.holds.eighths, (steps) =>
      void this.write(() => happened(this.holds, CLAMPED, { pith_m: steps.map((n) => Math.round(n * this.holds.step_m * 1e9) / 1e9) })),
    );
  }

  /** Metal or rot: two taps say where; either may be left open. */
  private found(what: string): void {
    const write = (more: Record<string, unknown>): void => void this.write(() => happened(this.holds, what, more));
    const clocks = (along: Record<string, unknown>): void => {
      const hours = CLOCK.map((clock): [string, () => void] => [String(clock), () => write({ ...along, clock })]);
      choose("Where on the clock of the butt?", [["", [...hours, ["Not known", () => write(along)]]]]);
    };
    const places = this.holds.along.map(([along_m, words]): [string, () => void] => [words, () => clocks({ along_m })]);
    choose(`${what.charAt(0).toUpperCase() + what.slice(1)}: how far from the butt?`, [["", [...places, ["Not known", () => clocks({})]]]]);
  }

  private cant(): void {
    void this.write(() => asACant(this.holds, this.done(), this.names(), newId()));
  }

  /** A piece that the plan does not know. */
  private another(): void {
    this.thicknessOf(AS_MEANT);
  }

  private thicknessOf(tap: Tap): void {
    const choices = this.holds.thicknesses.map((thick, i): [string, () => void] => [this.holds.thickness_words[i] ?? "", () => this.thickness(thick, tap)]);
    const title = tap.thickSteps ? "How thick was it meant to be?" : "How thick is it?";
    choose(title, [["", [...choices, ["Not known", () => this.thickness(null, tap)]]]]);
  }

  private printed(): Printed[] {
    return this.holds.at_mill?.printed ?? this.holds.printed;
  }

  private setHeight(): void {
    heights("Bed height of the blade now", ["Blade"], [this.heightSteps ?? Math.floor(this.printed().length / 2)], this.printed(), 2, this.holds.eighths, ([steps]) => {
      this.heightSteps = steps ?? null;
      this.show();
    });
  }

  private thickness(thick: number | null, tap: Tap = AS_MEANT): void {
    const { step_m, kerf_m } = this.holds;
    let next: number | null = null;
    const piece = (): Act => {
      const unknown = this.heightSteps === null || thick === null; // then nobody knows how low the blade came
      next = unknown ? null : Math.max(0, this.heightSteps! - tap.thickSteps - Math.ceil((thick + kerf_m) / step_m - 1e-9));
      const height = next === null ? null : Math.round(next * step_m * 1e9) / 1e9;
      return withoutPlan(this.holds, this.done(), this.names(), thick, newId(), height, tap);
    };
    void this.write(piece, () => (this.heightSteps = next));
  }

  private async send(): Promise<void> {
    const answered = await this.pen.send();
    if (this.pen.reached === "sent") await this.photos?.send();
    if (answered) await this.refresh();
    this.show();
  }

  /** While the steps of the plan are worked out, the page looks for them. */
  private waitForPlan(): void {
    if (!by("job")) return;
    const again = window.setInterval(() => {
      void this.refresh().then(() => {
        if (!this.holds.at_mill) return;
        window.clearInterval(again);
        window.location.reload();
      });
    }, 1500);
  }

  /** What others did meanwhile, and more names. */
  private async refresh(): Promise<void> {
    try {
      const answer = await fetch(`/api/day/${this.holds.day}/at/${this.holds.log}`, { signal: AbortSignal.timeout(PATIENCE_MS) });
      if (!answer.ok) return;
      const fresh = (await answer.json()) as Holds;
      if (fresh.at_mill || !this.holds.at_mill) this.holds = fresh;
    } catch {
      // it stays as it was
    }
  }

  private show(): void {
    const now = this.now();
    const height = this.heightSteps === null ? null : printedAt(this.printed(), this.heightSteps);
    showNext(by("next")!, this.holds, now, this.names(), height);
    const done = this.done();
    const last = this.last();
    by("last")!.textContent = this.pen.lost ? NO_ROOM : lastWords(last);
    const undo = by("undo") as HTMLButtonElement | null;
    if (undo) undo.disabled = !last;
    const step = now && now.step !== null ? this.holds.at_mill?.steps[now.step] : undefined;
    const targets = by("targets");
    if (targets && this.holds.at_mill) targets.hidden = !step;
    const sawn = by("sawn");
    if (sawn?.firstChild && step) sawn.firstChild.textContent = step.kind === "cut" ? "Sawn" : "Done";
    const again = by("again");
    if (again) again.textContent = this.again()?.words ?? "";
    const cameOff = by("came-off") as HTMLButtonElement | null;
    if (cameOff) cameOff.disabled = this.holds.at_mill !== null && step?.kind !== "cut";
    const tagOn = by("tag-on") as HTMLButtonElement | null;
    if (tagOn) tagOn.disabled = !called(done).length;
    this.sayKept();
    this.told();
  }

  /** Where there is no plan: as thick as the last piece was meant, told by one press; null before the first. */
  private again(): { thick: number; words: string } | null {
    const { at_mill, thicknesses, thickness_words, step_m } = this.holds;
    const last = at_mill ? null : lastMeant(this.holds, this.done());
    const at = thicknesses.findIndex((each) => last !== null && Math.abs(each - last) < step_m / 2);
    return at < 0 ? null : { thick: thicknesses[at]!, words: thickness_words[at] ?? "" };
  }

  private sayKept(): void {
    const first = this.alone ? `${this.count()} kept in this page.` : "";
    by("kept")!.textContent = this.pen.words("go on sawing", PAPER, this.photos?.words() ?? "", first);
  }

  /** Once a day: the phone and the blade. */
  private sayOnce(): void {
    const words = by("phone");
    if (!words?.textContent) return;
    const today = new Date().toDateString();
    try {
      if (localStorage.getItem("phone-said") === today) {
        words.hidden = true;
        return;
      }
      words.append(" ", button("Seen", () => {
        localStorage.setItem("phone-said", today);
        words.hidden = true;
      }));
    } catch {
      // nothing is kept here; it stays on the page
    }
  }
}

/** Where no worker keeps the reader of tags, it is brought into the page while the yard is in reach. */
async function decoderAtHand(): Promise<void> {
  if (navigator.serviceWorker?.controller) return;
  await import("../qr.ts").then(({ atHand }) => atHand()).catch(() => undefined);
}

export async function start(alone = false): Promise<Page | null> {
  const text = by("holds")?.textContent;
  if (!text || !by("taps")) return null;
  const holds = JSON.parse(text) as Holds;
  const queue = await openQueue(alone ? `waney-along-${holds.device}` : "waney");
  const pen = await new Pen(queue, `${holds.day} ${holds.log}`, holds.device, holds.person).begin();
  const page = new Page(holds, pen, alone, alone ? null : await openPhotos(holds.day, holds.log));
  await page.begin();
  document.documentElement.dataset["ready"] = "yes";
  return page;
}
