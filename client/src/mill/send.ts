// Send: what waits goes to the book, in order, until each command is answered.

import type { Kept, Queue } from "./queue";

export type Reached = "sent" | "out of reach" | "sign in" | "turned away";

/** sentence: why the book turned all of it away. */
export interface Sending {
  reached: Reached;
  sentence: string;
}

const gone = (reached: Reached, sentence = ""): Sending => ({ reached, sentence });

/** Longer than this nobody waits for an answer in words: at the edge of the signal it may hang for ever. */
export const PATIENCE_MS = 20_000;
const SOON_MS = 3_000;

let token = "";

/** Waits for something, but not long: it goes on by itself. */
export async function notLong(does: Promise<void>): Promise<void> {
  await Promise.race([does, new Promise<void>((over) => setTimeout(over, SOON_MS))]);
}

function tokenNow(): string {
  return token || (document.querySelector<HTMLMetaElement>('meta[name="waney-token"]')?.content ?? "");
}

async function freshToken(): Promise<void> {
  const answer = await fetch("/api/token", { headers: { accept: "application/json" }, signal: AbortSignal.timeout(PATIENCE_MS) });
  if (answer.ok) token = ((await answer.json()) as { token: string }).token;
}

/** Posts with the token of this page, and once more with a fresh one where it has grown old; patience [ms]: 0 waits for ever. */
export async function tokened(address: string, body: BodyInit, type = "", patience = 0): Promise<Response> {
  const headers = (): Record<string, string> => ({ ...(type ? { "content-type": type } : {}), "x-waney-token": tokenNow() });
  const signal = (): AbortSignal | null => (patience ? AbortSignal.timeout(patience) : null);
  const post = (): Promise<Response> => fetch(address, { method: "POST", headers: headers(), body, signal: signal() });
  const answer = await post();
  if (answer.status !== 403) return answer;
  await freshToken();
  return post();
}

/** Commands as the book takes them in; indent: for what a person copies. */
export function listed(device: string, commands: Kept[], indent = 0): string {
  const list = commands.map(({ id, count, person, happened_at, act }) => ({ id, count, person, happened_at, act }));
  return JSON.stringify({ format: "waney-commands/1", device, commands: list }, null, indent);
}

interface Answered {
  commands: { id: string; came: string; sentence: string }[];
}

async function saidBy(answer: Response): Promise<string> {
  const told = (await answer.json().catch(() => ({}))) as { sentence?: string };
  return told.sentence ?? `it said ${answer.status}.`;
}

/** Sends everything that waits. Nothing is forgotten before the book has answered. */
export async function sendAll(device: string, queue: Queue): Promise<Sending> {
  const waiting = await queue.waiting();
  if (!waiting.length) return gone("sent");
  try {
    const answer = await tokened("/api/commands", listed(device, waiting), "application/json", PATIENCE_MS);
    if (answer.status === 401) return gone("sign in");
    if (answer.status >= 400 && answer.status < 500) return gone("turned away", await saidBy(answer));
    if (!answer.ok) return gone("out of reach");
    const told = (await answer.json()) as Answered;
    const byId = new Map(told.commands.map((each) => [each.id, each]));
    for (const kept of waiting) {
      const came = byId.get(kept.id);
      if (came) await queue.put({ ...kept, came: came.came, sentence: came.sentence });
    }
    return gone("sent");
  } catch {
    return gone("out of reach");
  }
}
