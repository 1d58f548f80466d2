// Photos of faces taken at the mill: kept in the browser until the book has them; where it keeps nothing, sent at once or not taken.

import { openDB, type IDBPDatabase } from "idb";

import { newId } from "./queue";
import { tokened } from "./send";
import { element } from "./show";

/** What the book says of something that is no picture, or too large: it is no use to send it again. */
const NO_PICTURE = [400, 413, 422];
const NO_ROOM = "This browser had no room for the last photo: leave the page open until it is in the book.";

interface Waits {
  id: string;
  address: string;
  picture: Blob;
}

export class Photos {
  private waiting: Waits[] = [];
  private refused = "";
  private sending = false;

  constructor(
    private readonly address: string,
    private readonly db: IDBPDatabase | null,
  ) {}

  async begin(): Promise<this> {
    if (this.db) this.waiting = (await this.db.getAll("photos")) as Waits[];
    return this;
  }

  /** How many the book does not have yet. */
  waits(): number {
    return this.waiting.length;
  }

  /** What says how many wait. */
  words(): string {
    const count = this.waiting.length;
    return [this.refused, count ? `${count} ${count === 1 ? "photo" : "photos"} kept here, not in the book yet.` : ""].filter(Boolean).join(" ");
  }

  /** Opens the camera, or the pictures of the machine. */
  button(): HTMLElement {
    const file = element("input", "taken") as HTMLInputElement;
    file.type = "file";
    file.accept = "image/*";
    file.setAttribute("capture", "environment");
    file.addEventListener("change", () => {
      const picture = file.files?.[0];
      if (picture) void this.take(picture);
      file.value = "";
    });
    return element("label", "button second", "Photo of this face", file);
  }

  private async take(picture: Blob): Promise<void> {
    const id = newId();
    const waits = { id, address: `${this.address}/${id}`, picture };
    this.waiting.push(waits);
    await this.db?.put("photos", waits).catch(() => (this.refused = NO_ROOM));
    await this.send();
  }

  /** Sends what waits, each under an id of its own, so that twice writes once. */
  async send(): Promise<void> {
    if (this.sending) return;
    this.sending = true;
    try {
      for (const waits of [...this.waiting]) if (!(await this.sent(waits))) break;
    } finally {
      this.sending = false;
    }
  }

  private async sent(waits: Waits): Promise<boolean> {
    try {
      const form = new FormData();
      form.set("photo", waits.picture, "face");
      const answer = await tokened(waits.address, form);
      if (!answer.ok && !NO_PICTURE.includes(answer.status)) return false;
      this.refused = answer.ok ? "" : ((await answer.json()) as { sentence: string }).sentence;
    } catch {
      return false;
    }
    this.waiting = this.waiting.filter((each) => each.id !== waits.id);
    await this.db?.delete("photos", waits.id);
    return true;
  }
}

export async function openPhotos(day: string, log: string): Promise<Photos> {
  const address = `/api/day/${day}/at/${log}/photo`;
  try {
    const db = await openDB("waney-photos", 1, {
      upgrade(made) {
        made.createObjectStore("photos", { keyPath: "id" });
      },
    });
    return await new Photos(address, db).begin();
  } catch {
    return new Photos(address, null).begin();
  }
}
