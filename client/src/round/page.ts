// Page: the weighing round. What was weighed is the commands, kept here until the book has answered; nothing needs a signal.

import { readyToAsk, tell } from "../mill/ask";
import { keepAwake } from "../mill/awake";
import { AwayPage, by, startAway } from "../away/page";
import { counting } from "../away/pen";
import type { Kept } from "../mill/queue";
import { element } from "../mill/show";
import type { Act } from "../mill/types";
import type { Holds, Item } from "./types";
import { kilograms, NOTHING, pressed, said, sentences, weighed, type Typed } from "./weight";

const DAY_MS = 86_400_000;
const LOOKS = 24;
const PAGE = "round";
const KEPT_MARK = "waney-mark";
const LABELS: Record<keyof Typed, string> = { weight: "Weight", other: "The other end", tare: "Sling, stickers, blocks", mark: "Between two marks" };

class Round extends AwayPage<Holds> {
  private typed: Typed = { ...NOTHING, mark: keptMark() };
  private field: keyof Typed = "weight";
  private at = "";
  private skipped: string[] = [];
  private looks = LOOKS;

  protected prepare(): void {
    readyToAsk();
    this.buttons();
    keepAwake(by("awake"));
    this.next();
  }

  private buttons(): void {
    by("keypad").querySelectorAll("button").forEach((key) => key.addEventListener("click", () => this.press(key.value)));
    document.addEventListener("keydown", (event) => this.key(event));
    by("weighed").addEventListener("click", () => this.weigh());
    by("other").addEventListener("click", () => this.turn("other"));
    by("tare").addEventListener("click", () => this.turn("tare"));
    by("mark").addEventListener("click", () => this.turn("mark"));
    by("skip").addEventListener("click", () => {
      this.skipped.push(this.at);
      this.next();
    });
    by("undo").addEventListener("click", () => void this.takeBack());
  }

  private key(event: KeyboardEvent): void {
    const dialog = document.getElementById("ask") as HTMLDialogElement;
    if (dialog.open || event.ctrlKey || event.metaKey || event.altKey) return;
    const key = event.key === "Backspace" ? "back" : event.key === "," ? "." : event.key;
    if (/^[0-9.]$|^back$/.test(key)) {
      event.preventDefault();
      this.press(key);
    }
  }

  private press(key: string): void {
    this.typed[this.field] = pressed(this.typed[this.field], key);
    this.show();
  }

  /** Which figure the keys write; pressed again, the weight. */
  private turn(field: keyof Typed): void {
    this.field = this.field === field ? "weight" : field;
    this.show();
  }

  private item(): Item | undefined {
    return this.holds.items.find((one) => one.piece === this.at);
  }

  /** Those of this page that count: not taken back, of these days. */
  private mine(): Kept[] {
    const since = Date.now() - this.holds.again_after * DAY_MS;
    return counting(this.pen.own).filter((each) => each.act.kind === "weighed" && Date.parse(each.happened_at) > since);
  }

  private done(item: Item): Kept | undefined {
    return this.mine().filter((each) => each.act["what"] === `piece:${item.piece}`).at(-1);
  }

  /** Told by the book as weighed in these days, and not taken back here. */
  private told(item: Item): boolean {
    return item.this_week && !this.pen.own.some((each) => each.act.kind === "taken-back" && each.act["command"] === item.command);
  }

  private left(): Item[] {
    return this.holds.items.filter((one) => !this.told(one) && !this.done(one));
  }

  /** just: a weighing that is being written down. */
  private next(just: Act | null = null): void {
    const left = this.left().filter((one) => `piece:${one.piece}` !== just?.["what"]);
    const to = left.find((one) => !this.skipped.includes(one.piece)) ?? left[0];
    if (!to || !left.some((one) => !this.skipped.includes(one.piece))) this.skipped = [];
    this.go(to?.piece ?? "", just);
  }

  private go(piece: string, just: Act | null = null): void {
    this.at = piece;
    this.typed = { ...NOTHING, mark: this.typed.mark, tare: this.tare(just) };
    this.field = "weight";
    this.show();
  }

  /** What sling and stickers weighed when it was told last at this spot: on this round, else in the book. */
  private tare(just: Act | null): string {
    const item = this.item();
    const here = new Set(this.holds.items.filter((one) => one.spot === item?.spot).map((one) => `piece:${one.piece}`));
    const acts = [...this.mine().map((each) => each.act), ...(just ? [just] : [])];
    const told = acts.filter((act) => here.has(act["what"] as string) && typeof act["tare_kg"] === "number").at(-1);
    return told ? String(Math.round((100 * (told["tare_kg"] as number)) / this.holds.unit_kg) / 100) : (item?.tare ?? "");
  }

  private weigh(): void {
    const item = this.item();
    const act = item && weighed(this.holds, item, this.typed);
    if (!item || !act) return tell("Nothing to write down", ["Type what the weighing scale says; sling and stickers weigh less than all of it."], [["Go on", () => undefined]]);
    const write = (): void => {
      keepMark(this.typed.mark);
      void this.write(act);
      this.next(act); // at once: what is typed from now on is the next piece's
    };
    const mark = kilograms(this.holds, this.typed.mark) ?? this.holds.mark_kg;
    const asked = sentences(this.holds, item, act["mass_kg"] as number, mark);
    if (!asked.length) return write();
    tell(`${item.name}: ${said(this.holds, act["mass_kg"] as number)}`, asked, [["It is so", write], ["Weigh again", () => this.go(item.piece)]]);
  }

  private async takeBack(): Promise<void> {
    const last = this.mine().at(-1);
    if (!last) return;
    const about = last.act["what"] as string;
    await this.write({ kind: "taken-back", command: last.id, about });
    this.go(about.slice("piece:".length));
  }

  /** What to expect may be worked out yet: looked for a few times. */
  protected override asksAgain(): boolean {
    return this.holds.items.some((one) => !one.expected.length) && this.looks-- > 0;
  }

  protected show(): void {
    const item = this.item();
    by("where").textContent = item ? `${item.spot}: ${item.where}` : "All of this week's pieces are weighed.";
    by("name").textContent = item?.name ?? "";
    by("wood").textContent = item?.wood ?? "";
    by("last").textContent = item ? `Last: ${item.last}.` : "";
    by("expected").textContent = item ? this.expects(item) : "";
    by("typing").textContent = item ? `${LABELS[this.field]}, ${this.holds.unit}` : "";
    by("reading").textContent = this.typed[this.field];
    by("parts").textContent = this.parts();
    by("keypad").hidden = !item;
    (by("weighed") as HTMLButtonElement).disabled = !item;
    for (const field of ["other", "tare", "mark"] as const) by(field).setAttribute("aria-pressed", String(this.field === field));
    this.list();
    const last = this.mine().at(-1);
    by("lately").textContent = last ? `Last: ${this.nameOf(last)} ${said(this.holds, last.act["mass_kg"] as number)}` : "Nothing weighed yet.";
    (by("undo") as HTMLButtonElement).disabled = !last;
    by("kept").textContent = this.pen.words("go on weighing", "write the weights on paper too");
  }

  private expects(item: Item): string {
    const ahead = Math.max(0, Math.floor((Date.now() - Date.parse(`${this.holds.today}T00:00`)) / DAY_MS));
    const now = item.expected[Math.min(ahead, item.expected.length - 1)];
    return now ? `Expected: ${said(this.holds, now[0])} to ${said(this.holds, now[2])}.` : "What to expect is not known.";
  }

  /** What was typed beside the figure that is shown. */
  private parts(): string {
    const others = (Object.keys(LABELS) as (keyof Typed)[]).filter((field) => field !== this.field && this.typed[field]);
    return others.map((field) => `${LABELS[field]} ${this.typed[field]} ${this.holds.unit}`).join("; ");
  }

  private nameOf(kept: Kept): string {
    return this.holds.items.find((one) => `piece:${one.piece}` === kept.act["what"])?.name ?? "";
  }

  private list(): void {
    const rows = this.holds.items.map((one) => {
      const kept = this.done(one);
      const now = kept ? said(this.holds, kept.act["mass_kg"] as number) : this.told(one) ? one.last : "to be weighed";
      const go = element("button", "plain", one.name) as HTMLButtonElement;
      go.type = "button";
      go.addEventListener("click", () => this.go(one.piece));
      return element("li", "", go, ` ${one.spot}: ${one.where}. `, element("strong", "", now));
    });
    by("list").replaceChildren(...rows);
  }
}

/** The weighing scale is the same next week. */
function keptMark(): string {
  try {
    return localStorage.getItem(KEPT_MARK) ?? "";
  } catch {
    return "";
  }
}

function keepMark(mark: string): void {
  try {
    localStorage.setItem(KEPT_MARK, mark);
  } catch {
    // typed again next time
  }
}

export async function start(): Promise<void> {
  await startAway<Holds>("round", () => PAGE, (holds, pen) => new Round(holds, pen, "/api/round"));
}
