// Page: a stock count. What was read is the commands, kept here until the book has answered; nothing needs a signal.

import { keepPage } from "../away/keep";
import { dashed, isName } from "../away/names";
import { Pen } from "../away/pen";
import { readerOf } from "../away/readers";
import { button } from "../mill/ask";
import { openQueue } from "../mill/queue";
import { element } from "../mill/show";
import type { Act } from "../mill/types";
import { folded, isHere, lost, read, slip, type Told } from "./fold";
import type { Holds, Item } from "./types";

const SEND_EVERY_MS = 5000;

const by = (id: string): HTMLElement => document.getElementById(id)!;
const field = (id: string): HTMLInputElement => by(id) as HTMLInputElement;

class Count {
  private stale = false;

  constructor(private holds: Holds, private readonly pen: Pen) {}

  async begin(): Promise<void> {
    by("count").hidden = false;
    by("plain").hidden = true;
    readerOf(field("scan"), by("scanned"), (names) => void this.see(names));
    by("look-up").addEventListener("submit", (event) => (event.preventDefault(), void this.see([field("tag").value])));
    by("undo").addEventListener("click", () => void this.takeBack());
    by("end").addEventListener("click", () => void this.write({ kind: "count-ended", count: this.holds.count }));
    void keepPage(by("opens"));
    this.show();
    window.addEventListener("online", () => void this.send());
    window.setInterval(() => void this.send(), SEND_EVERY_MS);
    await this.send();
  }

  /** Tags that were read, one after the other. */
  private async see(names: string[]): Promise<void> {
    for (const name of names.filter((one) => one.trim())) {
      if (!isName(name)) {
        by("scanned").textContent = `${name} is no name of a piece: a character is wrong or swapped. Look at the tag again.`;
        continue;
      }
      by("scanned").textContent = "";
      const { act, item } = read(this.holds, this.pen.own, name);
      by("piece-name").textContent = item?.name ?? dashed(name);
      by("words").textContent = item?.words ?? "";
      by("says").textContent = act ? says(item) : "It was counted already.";
      if (act) await this.write(act);
    }
    field("tag").value = "";
  }

  private async takeBack(): Promise<void> {
    const last = slip(this.pen.own, this.holds.count);
    if (!last) return;
    for (const id of ["piece-name", "words", "says"]) by(id).textContent = "";
    await this.write(last.act);
  }

  private async write(...acts: Act[]): Promise<void> {
    await this.pen.write(...acts);
    this.show();
    void this.send();
  }

  private async send(): Promise<void> {
    if (await this.pen.send()) this.stale = true;
    if (this.stale && this.pen.reached === "sent") await this.refresh();
    this.show();
  }

  private async refresh(): Promise<void> {
    try {
      const answer = await fetch(`/api/stock-count/${this.holds.count}`);
      if (!answer.ok) return;
      this.holds = (await answer.json()) as Holds;
      this.stale = false;
    } catch {
      // it stays as it was, and is asked for again
    }
  }

  private show(): void {
    const told = folded(this.holds, this.pen.own);
    const all = told.counted.length + told.missing.length;
    by("progress").textContent = told.ended ? "" : `${told.counted.length} of ${all} counted`;
    by("looking").hidden = told.ended;
    by("end").hidden = told.ended;
    const last = slip(this.pen.own, this.holds.count);
    by("lately").textContent = last ? `Last: ${last.name}` : "Nothing read yet.";
    (by("undo") as HTMLButtonElement).disabled = !last;
    by("told").replaceChildren(...this.lists(told));
    by("kept").textContent = this.pen.words("go on counting", "write the names on paper too");
  }

  private lists(told: Told): HTMLElement[] {
    return [
      ...(told.ended ? [element("p", "lead", `${told.counted.length} counted, ${told.missing.length} not found.`)] : []),
      ...this.list("Found, and should not be there", told.away, (item) => [`By the book it is ${item.away}. `, ...this.after(item)]),
      ...this.list("Found, and told to stand elsewhere", told.elsewhere, (item) => [`Last: ${item.last}. `, this.press(item, "It stands here now", isHere)]),
      ...(told.unknown.length ? [element("h2", "", `Tags that stand on nothing in the book: ${told.unknown.length}`), element("ul", "plain", ...told.unknown.map((name) => element("li", "", name)))] : []),
      ...this.list(told.ended ? "Not found" : "To be found", told.missing, (item) => [`Last seen: ${item.last}. `, ...(told.ended ? [this.press(item, "It is lost", lost)] : [])]),
      ...this.list("Counted", told.counted, () => []),
    ];
  }

  private after(item: Item): HTMLElement[] {
    if (item.end) return [this.press(item, "It is here after all", isHere)];
    return item.away === "sold" && this.holds.spot ? [this.press(item, "It waits here to be fetched", isHere)] : [];
  }

  private press(item: Item, words: string, acts: (holds: Holds, item: Item) => Act[]): HTMLElement {
    const made = button(words, () => void this.write(...acts(this.holds, item)));
    made.setAttribute("aria-label", `${item.name}: ${words}`);
    return made;
  }

  private list(words: string, items: Item[], more: (item: Item) => (HTMLElement | string)[]): HTMLElement[] {
    if (!items.length) return [];
    const rows = items.map((item) => element("li", "", element("strong", "", item.name), ` ${item.words}. `, ...more(item)));
    return [element("h2", "", `${words}: ${items.length}`), element("ul", "plain", ...rows)];
  }
}

function says(item: Item | undefined): string {
  if (!item) return "This tag stands on nothing that this phone knows; it is kept.";
  if (item.away) return `Mind: by the book it is ${item.away}.`;
  return item.expected ? "Counted." : `Counted. It is told to stand elsewhere: ${item.last}.`;
}

export async function start(): Promise<void> {
  const text = document.getElementById("holds")?.textContent;
  if (!text || !document.getElementById("count")) return;
  const holds = JSON.parse(text) as Holds;
  await new Count(holds, await new Pen(await openQueue("waney"), `count/${holds.count}`, holds.device, holds.person).begin()).begin();
  document.documentElement.dataset["ready"] = "yes";
}
