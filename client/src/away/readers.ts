// Readers: a file field that reads the tags of a photo, on a page that does something with each name.

import { label } from "./names";

/** every name on the photo, once; words: where to say what was read */
export function readerOf(file: HTMLInputElement, words: HTMLElement, take: (names: string[]) => void): void {
  file.addEventListener("change", () => void read(file, words, take));
}

async function read(file: HTMLInputElement, words: HTMLElement, take: (names: string[]) => void): Promise<void> {
  const photo = file.files?.[0];
  file.value = "";
  if (!photo) return;
  words.textContent = "Reading the tag ...";
  try {
    const { readTags } = await import("../qr.ts");
    const names = [...new Set((await readTags(photo)).map(label))].filter(Boolean);
    words.textContent = names.length ? "" : "No tag was read. Take the photo nearer, square to the tag and without glare, or type what stands on it.";
    if (names.length) take(names);
  } catch {
    words.textContent = "This browser cannot read a tag from a photo; type what stands on it.";
  }
}
