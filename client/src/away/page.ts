// Page: what pages that need no signal share: they write down, send, and ask the book how things stand now.

import type { Act } from "../mill/types";
import { openQueue } from "../mill/queue";
import { notLong, PATIENCE_MS } from "../mill/send";
import { keepPage } from "./keep";
import { askBeforeLeaving } from "./leave";
import { Pen } from "./pen";

const SEND_EVERY_MS = 5000;

export const by = (id: string): HTMLElement => document.getElementById(id)!;
export const field = (id: string): HTMLInputElement => by(id) as HTMLInputElement;

/** What each of them holds, beside what is its own. */
export interface Held {
  format: string;
  device: string;
  person: string;
  /** where the rest of what it holds is asked for, once it is there; empty or missing where it holds all */
  more?: string;
}

const LACKS = "The names of the other pieces are not on this phone yet; it asks for them when it is in reach.";

export abstract class AwayPage<H extends Held> {
  /** the book has heard something since it was asked how things stand */
  private stale = false;
  /** the rest of what it holds is being asked for */
  private asking = false;

  constructor(
    protected holds: H,
    protected readonly pen: Pen,
    private readonly address: string,
  ) {}

  /** Its buttons and forms. */
  protected abstract prepare(): void;

  /** All of it, as it stands. It never writes into a field: somebody may be typing there. */
  protected abstract show(): void;

  /** Whether the book is asked again though it has heard nothing. */
  protected asksAgain(): boolean {
    return false;
  }

  /** The rest has come. */
  protected completed(): void {}

  /** What the page holds once the book has told how things stand; some is told with the page alone. */
  protected renewed(fresh: H): H {
    return fresh;
  }

  async begin(id: string): Promise<void> {
    by(id).hidden = false;
    by("plain").hidden = true;
    this.prepare();
    void this.keep();
    askBeforeLeaving(() => this.pen.waiting());
    this.show();
    window.addEventListener("online", () => void this.send());
    window.setInterval(() => void this.send(), SEND_EVERY_MS);
    await notLong(this.send());
  }

  /** The page and the rest of what it holds are kept for when nobody answers. */
  private async keep(): Promise<void> {
    this.asking = true;
    const { more } = this.holds;
    const rest = await keepPage(by("opens"), more).finally(() => (this.asking = false));
    if (!more) return;
    if (rest) {
      this.holds = { ...this.holds, ...rest, more: "" };
      this.completed();
      this.show();
    } else {
      by("opens").textContent = LACKS;
    }
  }

  protected async write(...acts: Act[]): Promise<void> {
    try {
      await this.pen.write(() => acts);
    } finally {
      this.show(); // also that it was not kept
    }
    void this.send();
  }

  /** What waits goes to the book. The page stays as it is where nothing changed: a button that is made anew loses a press. */
  private async send(): Promise<void> {
    const before = this.pen.reached;
    const answered = await this.pen.send();
    if (this.holds.more && !this.asking && this.pen.reached === "sent") void this.keep();
    this.stale ||= answered;
    const fresh = this.pen.reached === "sent" && (this.stale || this.asksAgain()) && (await this.refresh());
    if (answered || fresh || this.pen.reached !== before) this.show();
  }

  private async refresh(): Promise<boolean> {
    try {
      const answer = await fetch(this.address, { signal: AbortSignal.timeout(PATIENCE_MS) });
      if (!answer.ok) return false;
      const fresh = (await answer.json()) as H;
      if (fresh.format !== this.holds.format) return false; // another program answers; what is here is loaded anew with its page
      this.holds = this.renewed(fresh);
      this.stale = false;
      return true;
    } catch {
      return false; // it stays as it was, and is asked for again
    }
  }
}

/** Begins the page in the element `id`; called: what its commands are kept under. */
export async function startAway<H extends Held>(id: string, called: (holds: H) => string, make: (holds: H, pen: Pen) => AwayPage<H>): Promise<void> {
  const text = document.getElementById("holds")?.textContent;
  if (!text || !document.getElementById(id)) return;
  const holds = JSON.parse(text) as H;
  const pen = await new Pen(await openQueue("waney"), called(holds), holds.device, holds.person).begin();
  await make(holds, pen).begin(id);
  document.documentElement.dataset["ready"] = "yes";
}
