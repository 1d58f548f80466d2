// Ask tag: which tag was stapled on, read off a photo or typed, and on which of the last pieces.

import { readerOf } from "../away/readers";
import { button, close, open } from "./ask";
import { element } from "./show";
import type { Meant } from "./tags";
import type { Called } from "./types";

/** pieces: the last off first; read: what a written name means for a piece; act: it is stapled on. */
export function askTag(pieces: Called[], read: (piece: Called, written: string) => Meant, act: (piece: Called, name: string) => void): void {
  const says = element("p", "stop");
  says.setAttribute("role", "alert");
  let chosen = 0;
  const buttons = pieces.map((piece, i) => button(piece.tagged ? `${piece.name}, has a tag` : piece.name || "No name yet", () => choose(i)));
  const choose = (i: number): void => {
    chosen = i;
    buttons.forEach((one, n) => one.setAttribute("aria-pressed", String(n === i)));
  };
  choose(0);
  const take = (written: string): void => {
    const meant = read(pieces[chosen]!, written);
    says.textContent = "sentence" in meant ? meant.sentence : "";
    if ("sentence" in meant) return;
    close();
    act(pieces[chosen]!, meant.name);
  };
  const which = element("div", "choices", ...buttons);
  which.setAttribute("role", "group");
  which.setAttribute("aria-label", "On which piece");
  open("Tag stapled on", element("h3", "", "On which piece"), which, says, typed(take)); // what is wrong stands beside the field, in sight over a keyboard
  readerOf(document.getElementById("tag-photo") as HTMLInputElement, says, (names) => {
    if (names.length === 1) take(names[0]!);
    else says.textContent = "The photo shows more than one tag. Take it nearer, or type what stands on the one that is meant.";
  });
}

function typed(take: (written: string) => void): HTMLElement {
  const field = element("input", "") as HTMLInputElement;
  Object.assign(field, { type: "text", id: "tag-name", autocomplete: "off", autocapitalize: "characters", enterKeyHint: "done" });
  const label = element("label", "", "Characters on the tag") as HTMLLabelElement;
  label.htmlFor = field.id;
  const help = element("span", "help", "The last four are enough.");
  const photo = element("input", "taken") as HTMLInputElement;
  Object.assign(photo, { type: "file", id: "tag-photo", accept: "image/*" });
  photo.setAttribute("capture", "environment");
  const on = element("button", "", "It is stapled on") as HTMLButtonElement;
  const form = element("form", "", element("p", "field", label, field, help), element("div", "choices", on, element("label", "button second", "Photo of the tag", photo))) as HTMLFormElement;
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    take(field.value);
  });
  return form;
}
