// Page: a market day. What was sold and asked for is the commands, kept here until the book has answered; nothing needs a signal.

import { AwayPage, by, field, startAway } from "../away/page";
import { readerOf } from "../away/readers";
import { readyToAsk, button, tell } from "../mill/ask";
import { moment, newId } from "../mill/queue";
import { element } from "../mill/show";
import type { Act } from "../mill/types";
import { buyer, called, folded, known, pieceOf, refund, soldAway, sumOf, taxesOf, type Asked, type Day, type Line, type Sale } from "./fold";
import { cents, written } from "./money";
import { receipt, sendText } from "./receipt";
import type { Holds, Offered } from "./types";

const WAYS: Record<string, string> = { owed: "To be paid later" };
const NO_PRICE = "No price is asked for it yet.";
const NAME_ONLY = "This phone has its name alone; what it is, what is asked and whether it is free stands in the book.";
const NOT_MONEY = "Write the price agreed, for instance 80 or 79.50.";

const today = (): string => moment().slice(0, 10);
const capital = (word: string): string => word.charAt(0).toUpperCase() + word.slice(1);

class Market extends AwayPage<Holds> {
  private at: Offered | undefined;
  private lines: Line[] = [];

  protected prepare(): void {
    readyToAsk();
    by("look-up").addEventListener("submit", (event) => (event.preventDefault(), this.typed()));
    const meanwhile = (): string => [this.at?.piece ?? "", ...["price", "kept-for"].map((id) => field(id).value)].join("\n");
    readerOf(field("scan"), by("scanned"), (names) => this.find(names[0]!), meanwhile);
    by("sells").addEventListener("submit", (event) => (event.preventDefault(), this.add()));
    by("asks").addEventListener("submit", (event) => (event.preventDefault(), void this.ask()));
    by("close").addEventListener("click", () => this.goHome());
    for (const way of this.holds.ways) {
      by("ways").append(button(WAYS[way] ?? capital(way), () => void this.sell(way)));
    }
    this.offerNames();
    by("buyers").append(...this.holds.buyers.map(([, called]) => Object.assign(element("option", ""), { value: called })));
    field("hold-until").value = this.holds.hold_until;
  }

  /** What is not along is told once. */
  protected override renewed(fresh: Holds): Holds {
    return { ...fresh, more: this.holds.more, others: this.holds.others, names: this.holds.names };
  }

  protected override completed(): void {
    this.offerNames();
  }

  private offerNames(): void {
    by("names").replaceChildren(...known(this.holds).map((one) => Object.assign(element("option", ""), { value: one.name })));
  }

  private day(): Day {
    return folded(this.holds, this.pen.own);
  }

  /** The field is empty for the next name; one that nothing bears stays, to be mended. */
  private typed(): void {
    this.find(field("tag").value);
    if (this.at) field("tag").value = "";
  }

  private find(written_: string): void {
    const found = called(this.holds, written_);
    this.at = found;
    by("scanned").textContent = found ? "" : `${written_ || "Nothing"} is no piece that this phone knows; look at the tag again.`;
    field("price").value = found?.asked_cents ? (found.asked_cents / 100).toFixed(2).replace(/\.00$/, "") : "";
    this.show();
  }

  /** Into the sale that is going on. */
  private add(): void {
    const price = cents(field("price").value);
    by("price-wrong").textContent = price === null ? NOT_MONEY : "";
    if (price === null || !this.at) return;
    this.lines = [...this.lines.filter((line) => line.piece !== this.at!.piece), { piece: this.at.piece, cents: price }];
    this.done();
  }

  private done(): void {
    this.at = undefined;
    this.show();
  }

  private async sell(way: string): Promise<void> {
    if (!this.lines.length) return;
    const { person, acts } = buyer(this.holds, this.pen.own, field("sale-buyer").value, newId);
    const sale = newId();
    const lines = this.lines;
    this.lines = [];
    field("sale-buyer").value = "";
    await this.write(...acts, soldAway(this.holds, sale, lines, person, way, today()));
    this.receipt(this.day().sales.find((one) => one.sale === sale)!);
  }

  private receipt(sale: Sale): void {
    const text = receipt(this.holds, sale);
    tell("Receipt", [], [["Send it as text", () => void sendText(text)]]);
    by("ask-body").prepend(element("pre", "receipt", text));
  }

  private async ask(): Promise<void> {
    const called = field("kept-for").value.trim();
    by("kept-for-wrong").textContent = called ? "" : "Who is it kept for? What to call them is enough.";
    if (!called || !this.at) return;
    const { person, acts } = buyer(this.holds, this.pen.own, called, newId);
    const asked = { kind: "hold-asked", hold: newId(), person, pieces: [this.at.piece], until: field("hold-until").value || this.holds.hold_until };
    field("kept-for").value = "";
    this.done(); // before it is written down: what is typed from now on is the next one's
    await this.write(...acts, asked);
  }

  private back(sale: Sale, line: Line): void {
    const due = refund(this.holds, sale, line.piece);
    const act: Act = { kind: "returned", sale: sale.sale, pieces: [line.piece], refund_cents: due };
    const name = this.name(line.piece);
    tell(`${name} came back`, [due ? `Give back ${written(due, this.holds.money)}.` : "Nothing was paid for it yet."], [["It came back", () => void this.write(act)]]);
  }

  /** What comes home: what is not sold, unless somebody says that it is not here. */
  private goHome(): void {
    const here = this.day().here;
    tell("The day is over", [here.length ? "Tick what goes home with you; what is not here is looked for." : this.holds.along.length ? "All of it is sold." : "Nothing was with you."], [["That is how it stands", () => void this.close()]]);
    by("ask-body").prepend(
      element("ul", "plain", ...here.map((one) => {
        const box = Object.assign(element("input", ""), { type: "checkbox", value: one.piece, checked: true, name: "home" });
        return element("li", "", element("label", "", box, element("span", "", element("strong", "", one.name), element("span", "help", one.words))));
      })),
    ); // prettier-ignore
  }

  private async close(): Promise<void> {
    const home = [...document.querySelectorAll<HTMLInputElement>("#ask-body input[name=home]:checked")].map((box) => box.value);
    await this.write({ kind: "lease-closed", lease: this.holds.lease, home });
  }

  private name(piece: string): string {
    return pieceOf(this.holds, piece)?.name ?? "A piece";
  }

  protected show(): void {
    const day = this.day();
    this.showPiece(day);
    this.showSale();
    this.list("along", day.here.map((one) => this.hereRow(one)), day.closed ? "The day is over." : this.holds.along.length ? "All of it is sold." : "Nothing: pieces can be asked for.");
    this.list("sold", day.sales.map((sale) => this.saleRow(sale, day.closed)), "Nothing yet.");
    this.list("requests", day.asked.map((one) => this.askedRow(one)), "Nothing.");
    this.list("money", [...day.money].map(([way, amount]) => element("li", "", `${capital(way)} `, element("strong", "", written(amount, this.holds.money)))), "None yet.");
    by("close").hidden = day.closed || this.lines.length > 0; // what lies on the table is sold or taken out first
    by("selling").hidden = day.closed;
    by("over").hidden = !day.closed;
    by("home").textContent = day.closed ? this.homeWords(day) : "";
    by("kept").textContent = this.pen.words("go on selling", "write sales on paper too");
  }

  private homeWords(day: Day): string {
    const named = (pieces: string[]): string => pieces.map((piece) => this.name(piece)).join(", ") || "nothing";
    const missing = day.here.filter((one) => !day.home.includes(one.piece)).map((one) => one.piece);
    return day.home.length || !this.holds.closed ? `Home comes ${named(day.home)}.${missing.length ? ` To be looked for: ${named(missing)}.` : ""}` : "";
  }

  private showPiece(day: Day): void {
    const one = this.at;
    by("piece").hidden = !one;
    if (!one) return;
    const along = this.holds.along.some((other) => other.piece === one.piece);
    const sold = day.sold.has(one.piece);
    by("piece-name").textContent = one.name;
    by("words").textContent = one.words;
    by("asked").textContent = one.name_only ? NAME_ONLY : one.asked_cents === null ? NO_PRICE : `Asked: ${written(one.asked_cents, this.holds.money)} before tax.`;
    by("only").textContent = sold ? "It is sold." : along ? "" : `It is not with you: it can only be asked for.${one.promised ? ` It is ${one.promised}.` : ""}`;
    by("sells").hidden = !along || sold;
    by("asks").hidden = along;
  }

  private showSale(): void {
    by("sale").hidden = !this.lines.length;
    const rows = this.lines.map((line) =>
      element("li", "", `${this.name(line.piece)} `, element("strong", "", written(line.cents, this.holds.money)), " ",
        button("Take it out", () => ((this.lines = this.lines.filter((other) => other !== line)), this.show()), "plain")),
    ); // prettier-ignore
    const taxes = taxesOf(this.holds, this.lines);
    by("lines").replaceChildren(...rows, ...taxes.map((tax) => element("li", "", `${tax.name} ${written(tax.cents, this.holds.money)}`)));
    by("total").textContent = written(sumOf(this.lines, taxes), this.holds.money);
  }

  private list(id: string, rows: HTMLElement[], empty: string): void {
    by(id).replaceChildren(...(rows.length ? rows : [element("li", "", empty)]));
  }

  private hereRow(one: Offered): HTMLElement {
    const asked = one.asked_cents === null ? "" : written(one.asked_cents, this.holds.money);
    return element("li", "", button(one.name, () => (this.find(one.name), by("tag").scrollIntoView()), "plain"), ` ${one.words} `, element("strong", "", asked));
  }

  private saleRow(sale: Sale, closed: boolean): HTMLElement {
    const parts = sale.lines.map((line) => {
      const back = sale.back.includes(line.piece);
      const words = sale.gone.includes(line.piece) ? " It was not there any more: offer another, or give the money back." : back ? " came back" : "";
      const undo = back || closed ? [] : [" ", button("It came back", () => this.back(sale, line), "plain")];
      return element("div", "", `${this.name(line.piece)} ${written(line.cents, this.holds.money)}`, element("strong", "", words), ...undo);
    });
    const by_ = sale.by === "owed" ? "still to be paid" : sale.by;
    return element("li", "", ...parts, `${sale.buyer || "Nobody named"}, ${by_} `, button("Receipt", () => this.receipt(sale), "plain"));
  }

  private askedRow(one: Asked): HTMLElement {
    const came = { waits: "waits for the book", kept: `kept until ${one.until}` }[one.came] ?? one.came;
    return element("li", "", `${this.name(one.piece)} for ${one.buyer}: `, element("strong", "", came));
  }
}

export async function start(): Promise<void> {
  await startAway<Holds>("market", (holds) => `market/${holds.lease}`, (holds, pen) => new Market(holds, pen, `/api/market?lease=${holds.lease}`));
}
