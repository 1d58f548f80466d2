// Readers: a file field that reads the tags of a photo, on a page that does something with each name.

import { dashed, label } from "./names";

/**
 * every name on the photo, once; words: where to say what was read; at: what the page is at: where that is something else once the
 * photo is read, nothing is done with it, because somebody went on meanwhile
 */
export function readerOf(file: HTMLInputElement, words: HTMLElement, take: (names: string[]) => void, at: () => string = () => ""): void {
  file.addEventListener("change", () => void read(file, words, take, at));
}

async function read(file: HTMLInputElement, words: HTMLElement, take: (names: string[]) => void, at: () => string): Promise<void> {
  const [photo, before] = [file.files?.[0], at()];
  file.value = "";
  if (!photo) return;
  words.textContent = "Reading the tag ...";
  try {
    const { readTags } = await import("../qr.ts");
    const names = [...new Set((await readTags(photo)).map(label))].filter(Boolean);
    words.textContent = names.length ? "" : "No tag was read. Take the photo nearer, square to the tag and without glare, or type what stands on it.";
    if (names.length && at() === before) take(names);
    else if (names.length) words.textContent = `The photo shows ${names.map(dashed).join(", ")}. Look it up when this is done.`;
  } catch {
    words.textContent = "This browser cannot read a tag from a photo; type what stands on it.";
  }
}
