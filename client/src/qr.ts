// Qr: the tag on a photograph. <div data-qr data-into="#field"> round a file field: choosing a photo reads its QR tag and
// writes it into the field (data-qr="if any": without a word where none can be read); data-many: every tag on it, below what stands
// there. It works on every origin, because nothing but a file is asked of the browser.

import { prepareZXingModule, readBarcodes } from "zxing-wasm/reader";
import { MARK } from "./away/names.ts";
import wasm from "zxing-wasm/reader/zxing_reader.wasm";

/** Photos are made smaller first: a tag that needs more pixels than this cannot be read by eye either. */
const LONGEST_PX = 2400;

/** Its address; in a page that is one file, what is in it. */
const READER = wasm as unknown as string | Uint8Array;

let prepared = false;

/** Where the reader lies. */
function overrides(): object {
  if (typeof READER !== "string") return { wasmBinary: READER.buffer };
  const address = new URL(READER, import.meta.url).href;
  return { locateFile: (path: string, prefix: string) => (path.endsWith(".wasm") ? address : prefix + path) };
}

function prepare(): void {
  if (prepared) return;
  prepared = true;
  prepareZXingModule({ overrides: overrides() });
}

/** Brings the reader now, for when nobody can be asked for it any more. */
export async function atHand(): Promise<void> {
  prepared = true;
  await prepareZXingModule({ overrides: overrides(), fireImmediately: true });
}

async function pixels(photo: Blob): Promise<ImageData> {
  const picture = await createImageBitmap(photo);
  const scale = Math.min(1, LONGEST_PX / Math.max(picture.width, picture.height));
  const canvas = document.createElement("canvas");
  [canvas.width, canvas.height] = [Math.round(picture.width * scale), Math.round(picture.height * scale)];
  const pen = canvas.getContext("2d", { willReadFrequently: true });
  if (!pen) throw new Error("This browser gives no pixels of a picture.");
  pen.drawImage(picture, 0, 0, canvas.width, canvas.height);
  return pen.getImageData(0, 0, canvas.width, canvas.height);
}

/** What the QR codes on a photo say, in no order; of ours the name alone. */
export async function readTags(photo: Blob): Promise<string[]> {
  prepare();
  const found = await readBarcodes(await pixels(photo), { formats: ["QRCode"], tryHarder: true });
  return found.filter((one) => one.isValid).map(({ text }) => (text.startsWith(MARK) ? text.slice(MARK.length) : text));
}

async function chosen(root: HTMLElement, input: HTMLInputElement, says: HTMLElement): Promise<void> {
  const photo = input.files?.[0];
  const into = document.querySelector<HTMLInputElement>(root.dataset["into"] ?? "none");
  if (!photo || !into) return;
  const ifAny = root.dataset["qr"] === "if any"; // the photo is of something else; it may show a tag
  if (!ifAny) says.textContent = "Reading the tag ...";
  const tags = await readTags(photo).catch(() => []);
  const tag = tags[0];
  if (tag !== undefined && root.dataset["many"] !== undefined) {
    into.value = [into.value.trim(), ...tags].filter(Boolean).join("\n");
    says.textContent = `Read: ${tags.join(", ")}`;
    return;
  }
  if (tag === undefined && ifAny) says.textContent = "";
  else if (tag === undefined) says.textContent = "No tag was read. Take the photo nearer, square to the tag and without glare, or type what stands on it.";
  else if (tags.length > 1) says.textContent = `Several tags: ${tags.join(", ")}. Take the photo of one, or type it.`;
  else {
    into.value = tag;
    into.dispatchEvent(new Event("input", { bubbles: true }));
    into.dispatchEvent(new Event("change", { bubbles: true }));
    says.textContent = `Read: ${tag}`;
  }
}

export function startReaders(within: ParentNode): void {
  for (const root of within.querySelectorAll<HTMLElement>("[data-qr]:not([data-started])")) {
    const input = root.querySelector<HTMLInputElement>("input[type=file]");
    if (!input) continue;
    root.dataset["started"] = "yes";
    const says = document.createElement("p");
    says.setAttribute("role", "status");
    root.append(says);
    input.addEventListener("change", () => void chosen(root, input, says));
  }
}
