// Pen: what somebody writes on a page that needs no signal: commands of this page, kept here until the book has answered each.

import { moment, newId, type Kept, type Queue } from "../mill/queue";
import { sendAll, type Reached } from "../mill/send";
import type { Act } from "../mill/types";

export const REFUSED = ["refused", "cannot be read"];

/** Those that count: not refused, not taken back by a later one. */
export function counting(own: Kept[]): Kept[] {
  const back = new Set(own.filter((each) => each.act.kind === "taken-back").map((each) => each.act["command"]));
  return own.filter((each) => each.act.kind !== "taken-back" && !back.has(each.id) && !REFUSED.includes(each.came));
}

export class Pen {
  own: Kept[] = [];
  reached: Reached = "sent";

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

  /** Written down in this order; sending is another matter. */
  async write(...acts: Act[]): Promise<Kept[]> {
    const written: Kept[] = [];
    for (const act of acts) {
      const count = await this.queue.nextCount();
      const kept: Kept = { id: newId(), count, person: this.person, happened_at: moment(), act, page: this.page, came: "", sentence: "" };
      await this.queue.put(kept);
      this.own.push(kept);
      written.push(kept);
    }
    return written;
  }

  /** Sends what waits, of every page; whether the book has answered something. */
  async send(): Promise<boolean> {
    const waited = (await this.queue.waiting()).length;
    this.reached = await sendAll(this.device, this.queue);
    if (this.reached !== "sent" || !waited) return false;
    this.own = await this.queue.all(this.page);
    return true;
  }

  waiting(): number {
    return this.own.filter((each) => each.came === "").length;
  }

  /** How it stands with the book; goOn, paper: what to do out of reach, and where the browser keeps nothing. */
  words(goOn: string, paper: string): string {
    const waiting = this.waiting();
    const lines = [
      waiting ? `${waiting} kept here, not in the book yet.` : "All of it is in the book.",
      this.reached === "out of reach" && waiting ? `The book is out of reach; ${goOn}.` : "",
      this.reached === "sign in" ? "Sign in again to send it; nothing is lost." : "",
      this.queue.lasting ? "" : `This browser keeps nothing when the page is closed: ${paper}.`,
      ...this.own.filter((each) => REFUSED.includes(each.came)).map((each) => each.sentence),
    ];
    document.documentElement.dataset["waiting"] = String(waiting);
    return lines.filter(Boolean).join(" ");
  }
}
