// Page: a stock count. What was read is the commands, kept here until the book has answered; nothing needs a signal.

import { dashed, isName } from "../away/names";
import { AwayPage, by, field, startAway } from "../away/page";
import { readerOf } from "../away/readers";
import { button } from "../mill/ask";
import { element } from "../mill/show";
import type { Act } from "../mill/types";
import { folded, isHere, lost, MOST_LINES, read, slip, type Told } from "./fold";
import type { Holds, Item } from "./types";

class Count extends AwayPage<Holds> {
  protected prepare(): void {
    readerOf(field("scan"), by("scanned"), (names) => void this.see(names));
    by("look-up").addEventListener("submit", (event) => (event.preventDefault(), this.typed()));
    by("undo").addEventListener("click", () => void this.takeBack());
    by("end").addEventListener("click", () => void this.write({ kind: "count-ended", count: this.holds.count }));
  }

  /** What is looked for is told once. */
  protected override renewed(fresh: Holds): Holds {
    return { ...fresh, more: this.holds.more, items: this.holds.items, others: this.holds.others };
  }

  /** The field is empty for the next name before this one is written down; a name that is none stays, to be mended. */
  private typed(): void {
    const name = field("tag").value;
    if (isName(name)) field("tag").value = "";
    void this.see([name]);
  }

  /** Tags that were read, one after the other. */
  private async see(names: string[]): Promise<void> {
    const wrong = names.filter((one) => one.trim() && !isName(one));
    by("scanned").textContent = wrong.map((name) => `${name} is no name of a piece: a character is wrong or swapped. Look at the tag again.`).join(" ");
    for (const name of names.filter(isName)) {
      const { act, item } = read(this.holds, this.pen.own, name);
      by("piece-name").textContent = item?.name ?? dashed(name);
      by("words").textContent = item?.words ?? "";
      by("says").textContent = "";
      if (act) await this.write(act); // said to be counted once it is kept: only then can it be taken back
      by("says").textContent = act ? says(item) : "It was counted already.";
    }
  }

  private async takeBack(): Promise<void> {
    const last = slip(this.pen.own, this.holds.count);
    if (!last) return;
    for (const id of ["piece-name", "words", "says"]) by(id).textContent = "";
    await this.write(last.act);
  }

  protected show(): void {
    const told = folded(this.holds, this.pen.own);
    const all = told.counted.length + told.toFind;
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
      ...(told.ended ? [element("p", "lead", `${told.counted.length} counted, ${told.toFind} not found.`)] : []),
      ...this.list("Found, and should not be there", told.away, (item) => [`By the book it is ${item.away}. `, ...this.after(item)]),
      ...this.list("Found, and told to stand elsewhere", told.elsewhere, (item) => [`Last: ${item.last}. `, this.press(item, "It stands here now", isHere)]),
      ...(told.unknown.length ? [element("h2", "", `Tags that stand on nothing in the book: ${told.unknown.length}`), element("ul", "plain", ...told.unknown.map((name) => element("li", "", name)))] : []),
      ...this.list(told.ended ? "Not found" : "To be found", told.missing, (item) => [`Last seen: ${item.last}. `, ...(told.ended ? [this.press(item, "It is lost", lost)] : [])], told.toFind),
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

  private list(words: string, items: Item[], more: (item: Item) => (HTMLElement | string)[], count = items.length): HTMLElement[] {
    if (!count) return [];
    const rows = items.slice(0, MOST_LINES).map((item) => element("li", "", element("strong", "", item.name), item.words ? ` ${item.words}. ` : " ", ...more(item)));
    const rest = count - rows.length;
    return [element("h2", "", `${words}: ${count}`), element("ul", "plain", ...rows, ...(rest && rows.length ? [element("li", "", `and ${rest} more`)] : []))];
  }
}

function says(item: Item | undefined): string {
  if (!item) return "This tag stands on nothing that this phone knows; it is kept.";
  if (item.away) return `Mind: by the book it is ${item.away}.`;
  return item.expected ? "Counted." : `Counted. It is told to stand elsewhere: ${item.last}.`;
}

export async function start(): Promise<void> {
  await startAway<Holds>("count", (holds) => `count/${holds.count}`, (holds, pen) => new Count(holds, pen, `/api/stock-count/${holds.count}`));
}
