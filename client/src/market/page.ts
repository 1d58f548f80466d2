// Page: a market day. What was sold and asked for is the commands, kept here until the book has answered; nothing needs a signal.

import { keepPage } from "../away/keep";
import { bearing } from "../away/names";
import { Pen } from "../away/pen";
import { readerOf } from "../away/readers";
import { readyToAsk, button, tell } from "../mill/ask";
import { moment, newId, openQueue } from "../mill/queue";
import { element } from "../mill/show";
import type { Act } from "../mill/types";
import { buyer, folded, soldAway, type Asked, type Day, type Line, type Sale } from "./fold";
import { cents, taxed, written } from "./money";
import { receipt, sendText } from "./receipt";
import type { Holds, Offered } from "./types";

const SEND_EVERY_MS = 5000;
const WAYS: Record<string, string> = { owed: "To be paid later" };
const NOT_MONEY = "Write the price agreed, for instance 80 or 79.50.";

const by = (id: string): HTMLElement => document.getElementById(id)!;
const field = (id: string): HTMLInputElement => by(id) as HTMLInputElement;
const today = (): string => moment().slice(0, 10);
const capital = (word: string): string => word.charAt(0).toUpperCase() + word.slice(1);

class Market {
  private at: Offered | undefined;
  private lines: Line[] = [];
  /** the book has heard something since it was asked how things stand */
  private stale = false;

  constructor(private holds: Holds, private readonly pen: Pen) {}

  async begin(): Promise<void> {
    by("market").hidden = false;
    by("plain").hidden = true;
    readyToAsk();
    this.buttons();
    void keepPage(by("opens"));
    this.show();
    window.addEventListener("online", () => void this.send());
    window.setInterval(() => void this.send(), SEND_EVERY_MS);
    await this.send();
  }

  private buttons(): void {
    by("look-up").addEventListener("submit", (event) => (event.preventDefault(), this.find(field("tag").value)));
    readerOf(field("scan"), by("scanned"), (names) => this.find(names[0]!));
    by("sells").addEventListener("submit", (event) => (event.preventDefault(), this.add()));
    by("asks").addEventListener("submit", (event) => (event.preventDefault(), void this.ask()));
    by("close").addEventListener("click", () => this.goHome());
    for (const way of this.holds.ways) {
      by("ways").append(button(WAYS[way] ?? capital(way), () => void this.sell(way)));
    }
    by("names").append(...[...this.holds.along, ...this.holds.others].map((one) => Object.assign(element("option", ""), { value: one.name })));
    by("buyers").append(...this.holds.buyers.map(([, called]) => Object.assign(element("option", ""), { value: called })));
    field("hold-until").value = this.holds.hold_until;
  }

  private day(): Day {
    return folded(this.holds, this.pen.own);
  }

  private find(written_: string): void {
    const found = bearing([...this.holds.along, ...this.holds.others], written_);
    this.at = found;
    by("scanned").textContent = found ? "" : `${written_ || "Nothing"} is no piece that this phone knows; look at the tag again.`;
    field("price").value = found?.asked_cents ? String((found.asked_cents / 100).toFixed(2)).replace(/\.00$/, "") : "";
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
    field("tag").value = "";
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
    const until = field("hold-until").value || this.holds.hold_until;
    await this.write(...acts, { kind: "hold-asked", hold: newId(), person, pieces: [this.at.piece], until });
    field("kept-for").value = "";
    this.done();
  }

  private back(sale: Sale, line: Line): void {
    const price = [line.cents];
    const due = sale.by === "owed" ? 0 : sale.lines.length === 1 ? sale.total : line.cents + this.holds.taxes.reduce((sum, rule) => sum + taxed(price, rule), 0);
    const act: Act = { kind: "returned", sale: sale.sale, pieces: [line.piece], refund_cents: due };
    const name = this.name(line.piece);
    tell(`${name} came back`, [due ? `Give back ${written(due, this.holds.money)}.` : "Nothing was paid for it yet."], [["It came back", () => void this.write(act)]]);
  }

  /** What comes home: what is not sold, unless somebody says that it is not here. */
  private goHome(): void {
    const here = this.day().here;
    tell("The day is over", [here.length ? "Tick what goes home with you; what is not here is looked for." : "All of it is sold."], [["That is how it stands", () => void this.close()]]);
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
      const answer = await fetch(`/api/market?lease=${this.holds.lease}`);
      if (!answer.ok) return;
      this.holds = (await answer.json()) as Holds;
      this.stale = false;
    } catch {
      // it stays as it was, and is asked for again
    }
  }

  private name(piece: string): string {
    return [...this.holds.along, ...this.holds.others].find((one) => one.piece === piece)?.name ?? "A piece";
  }

  private show(): void {
    const day = this.day();
    this.showPiece(day);
    this.showSale();
    this.list("along", day.here.map((one) => this.hereRow(one)), day.closed ? "The day is over." : "All of it is sold.");
    this.list("sold", day.sales.map((sale) => this.saleRow(sale, day.closed)), "Nothing yet.");
    this.list("requests", day.asked.map((one) => this.askedRow(one)), "Nothing.");
    this.list("money", [...day.money].map(([way, amount]) => element("li", "", `${capital(way)} `, element("strong", "", written(amount, this.holds.money)))), "None yet.");
    by("close").hidden = day.closed;
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
    by("asked").textContent = one.asked_cents === null ? "No price is asked for it yet." : `Asked: ${written(one.asked_cents, this.holds.money)} before tax.`;
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
    const prices = this.lines.map((line) => line.cents);
    const taxes = this.holds.taxes.map((rule) => [rule.words, taxed(prices, rule)] as const);
    const total = [...prices, ...taxes.map(([, amount]) => amount)].reduce((sum, one) => sum + one, 0);
    by("lines").replaceChildren(...rows, ...taxes.map(([words, amount]) => element("li", "", `${words} ${written(amount, this.holds.money)}`)));
    by("total").textContent = written(total, this.holds.money);
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
  const text = document.getElementById("holds")?.textContent;
  if (!text || !document.getElementById("market")) return;
  const holds = JSON.parse(text) as Holds;
  await new Market(holds, await new Pen(await openQueue("waney"), `market/${holds.lease}`, holds.device, holds.person).begin()).begin();
  document.documentElement.dataset["ready"] = "yes";
}
