// Frames: a list of commands as pictures of QR codes, for a phone that reaches nobody: `waney.yard.frames` puts them together again.
//
// The text in UTF-8 is cut into parts, each written as  WANEYLIST1:number/of:hash:part  in base64url. hash: the first twelve hex
// digits of FNV-1a (64 bits) of the whole, so that parts of two lists are never mixed; the book checks the commands themselves.

export const PART = 600;

export function fnv1a(bytes: Uint8Array): string {
  let hash = 0xcbf29ce484222325n;
  for (const byte of bytes) hash = ((hash ^ BigInt(byte)) * 0x100000001b3n) & 0xffffffffffffffffn;
  return hash.toString(16).padStart(16, "0").slice(0, 12);
}

function base64url(bytes: Uint8Array): string {
  let text = "";
  for (const byte of bytes) text += String.fromCharCode(byte);
  return btoa(text).replaceAll("+", "-").replaceAll("/", "_").replaceAll("=", "");
}

export function framesOf(text: string): string[] {
  const bytes = new TextEncoder().encode(text);
  const written = base64url(bytes);
  const many = Math.max(1, Math.ceil(written.length / PART));
  const hash = fnv1a(bytes);
  return Array.from({ length: many }, (_, i) => `WANEYLIST1:${i + 1}/${many}:${hash}:${written.slice(i * PART, (i + 1) * PART)}`);
}
