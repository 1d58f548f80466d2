// Queue: the commands of this device, kept in the browser until the book has answered each; where the browser keeps nothing,
// in memory, and the page says so.

import { openDB, type IDBPDatabase } from "idb";

import type { Command } from "./types";

export interface Kept extends Command {
  /** the day and log it belongs to */
  page: string;
  /** empty: not sent yet; else what became of it */
  came: string;
  sentence: string;
}

export interface Queue {
  readonly lasting: boolean;
  all(page: string): Promise<Kept[]>;
  waiting(): Promise<Kept[]>;
  put(kept: Kept): Promise<void>;
  nextCount(): Promise<number>;
}

class InBrowser implements Queue {
  readonly lasting = true;
  constructor(private readonly db: IDBPDatabase) {}

  async all(page: string): Promise<Kept[]> {
    const found = (await this.db.getAll("commands")) as Kept[];
    return found.filter((each) => each.page === page).sort((a, b) => a.count - b.count);
  }

  async waiting(): Promise<Kept[]> {
    const found = (await this.db.getAll("commands")) as Kept[];
    return found.filter((each) => each.came === "").sort((a, b) => a.count - b.count);
  }

  async put(kept: Kept): Promise<void> {
    const writing = this.db.transaction("commands", "readwrite", { durability: "strict" });
    await writing.store.put(kept);
    await writing.done;
  }

  async nextCount(): Promise<number> {
    const writing = this.db.transaction("meta", "readwrite", { durability: "strict" });
    const count = (((await writing.store.get("count")) as number | undefined) ?? 0) + 1;
    await writing.store.put(count, "count");
    await writing.done;
    return count;
  }
}

class InMemory implements Queue {
  readonly lasting = false;
  private readonly kept = new Map<string, Kept>();
  private count = 0;

  async all(page: string): Promise<Kept[]> {
    return [...this.kept.values()].filter((each) => each.page === page);
  }

  async waiting(): Promise<Kept[]> {
    return [...this.kept.values()].filter((each) => each.came === "");
  }

  async put(kept: Kept): Promise<void> {
    this.kept.set(kept.id, kept);
  }

  async nextCount(): Promise<number> {
    return ++this.count;
  }
}

export async function openQueue(name: string): Promise<Queue> {
  try {
    const db = await openDB(name, 1, {
      upgrade(made) {
        made.createObjectStore("commands", { keyPath: "id" });
        made.createObjectStore("meta");
      },
    });
    // asked, not needed: a phone that runs short of room then clears something else first
    void navigator.storage?.persist?.().catch(() => false);
    return new InBrowser(db);
  } catch {
    return new InMemory();
  }
}

/** A random id, also where the page is not on a secure origin. */
export function newId(): string {
  if (typeof crypto.randomUUID === "function") return crypto.randomUUID();
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  bytes[6] = (bytes[6]! & 0x0f) | 0x40;
  bytes[8] = (bytes[8]! & 0x3f) | 0x80;
  const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join("-");
}

/** This moment by the device's clock, with its distance from UTC. */
export function moment(now: Date = new Date()): string {
  const minutes = -now.getTimezoneOffset();
  const shifted = new Date(now.getTime() + minutes * 60_000).toISOString().slice(0, 19);
  const two = (n: number): string => String(Math.floor(Math.abs(n))).padStart(2, "0");
  return `${shifted}${minutes < 0 ? "-" : "+"}${two(minutes / 60)}:${two(minutes % 60)}`;
}
