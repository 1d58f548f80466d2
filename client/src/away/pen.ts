// Pen: what somebody writes on a page that needs no signal: commands of this page, kept here until the book has answered each.

import { moment, newId, type Kept, type Queue } from "../mill/queue";
import { listed, sendAll, type Reached } from "../mill/send";
import type { Act } from "../mill/types";

export const REFUSED = ["refused", "cannot be read"];
const NOT_KEPT = "This browser had no room for what was told last: it is not kept. Make room on the phone and tell it again, or write it on paper.";

/** The book did not take it in: it counts for nothing. A tag that it answered with a sentence is on no piece. */
export function turnedDown(own: Kept): boolean {
  return REFUSED.includes(own.came) || (own.act.kind === "tagged" && own.sentence !== "");
}

/** Those that count: not refused, not taken back by a later one. */
export function counting(own: Kept[]): Kept[] {
  const back = new Set(own.filter((each) => each.act.kind === "taken-back").map((each) => each.act["command"]));
  return own.filter((each) => each.act.kind !== "taken-back" && !back.has(each.id) && !REFUSED.includes(each.came));
}

export class Pen {
  own: Kept[] = [];
  reached: Reached = "sent";
  /** why the book turned all of it away */
  private said = "";
  /** what was told last is not kept */
  lost = false;
  private turn: Promise<unknown> = Promise.resolve();

  constructor(
    private readonly queue: Queue,
    private readonly page: string,
    private readonly device: string,
    private readonly person: string,
  ) {}

  async begin(): Promise<this> {
    this.own = await this.queue.all(this.page);
    return this;
  }

  /**
   * Written down in this order; sending is another matter. build: made once all before it is written, so that two quick presses
   * are two different acts; kept: what changes with them, before the next is made. Fails where the browser has no room; what is
   * told next is written all the same.
   */
  write(build: () => Act[], kept = (): void => undefined): Promise<void> {
    return this.inTurn(async () => {
      try {
        for (const act of build()) await this.put(act);
        this.lost = false;
        kept();
      } catch (fault) {
        this.lost = true;
        throw fault;
      }
    });
  }

  private async put(act: Act): Promise<void> {
    const count = await this.queue.nextCount();
    const kept: Kept = { id: newId(), count, person: this.person, happened_at: moment(), act, page: this.page, came: "", sentence: "" };
    await this.queue.put(kept);
    this.own.push(kept);
  }

  /** One after another, whether or not the one before it went well. */
  private inTurn<T>(does: () => Promise<T>): Promise<T> {
    const done = this.turn.then(does);
    this.turn = done.catch(() => undefined);
    return done;
  }

  /** Sends what waits, of every page; whether the book has answered something: also to another page of this browser. */
  async send(): Promise<boolean> {
    const waited = this.waiting() + (await this.queue.waiting()).length;
    const sent = await sendAll(this.device, this.queue);
    this.reached = sent.reached;
    this.said = sent.sentence;
    if (this.reached !== "sent" || !waited) return false;
    await this.inTurn(async () => void (this.own = await this.queue.all(this.page)));
    return true;
  }

  /** How many commands of this page the book has not answered. */
  waiting(): number {
    return this.own.filter((each) => each.came === "").length;
  }

  /** The list of commands of this page, as the book takes it in. */
  list(): string {
    return listed(this.device, this.own, 1);
  }

  lasting(): boolean {
    return this.queue.lasting;
  }

  /**
   * How it stands with the book; goOn, paper: what to do out of reach, and where the browser keeps nothing; more: what else is
   * kept; first: in place of how much waits
   */
  words(goOn: string, paper: string, more = "", first = ""): string {
    const waiting = this.waiting();
    const back = new Set(this.own.filter((each) => each.act.kind === "taken-back").map((each) => each.act["command"]));
    const lines = [
      this.lost ? NOT_KEPT : "",
      first || (waiting ? `${waiting} kept here, not in the book yet.` : "All of it is in the book."),
      more,
      this.reached === "out of reach" && waiting ? `The book is out of reach; ${goOn}.` : "",
      this.reached === "turned away" ? `The book is there and took nothing in: ${this.said} Nothing is lost; ${goOn}.` : "",
      this.reached === "sign in" ? "Sign in again to send it; nothing is lost." : "",
      this.queue.lasting ? "" : `This browser keeps nothing when the page is closed: ${paper}.`,
      ...this.own.filter((each) => !back.has(each.id)).map((each) => each.sentence),
    ];
    document.documentElement.dataset["waiting"] = String(waiting);
    return lines.filter(Boolean).join(" ");
  }
}
