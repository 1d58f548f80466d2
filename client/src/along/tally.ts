// Tally: the way back from a page that was taken along: text to copy, a file, or pictures of QR codes.

import qrcode from "qrcode-generator";

import { askBeforeLeaving } from "../away/leave";
import { element } from "../mill/show";
import type { Page } from "../mill/page";
import { framesOf } from "./frames";

function code(text: string, number: number, of: number): HTMLElement {
  const qr = qrcode(0, "M");
  qr.addData(text, "Byte");
  qr.make();
  const holder = element("figure", "code");
  holder.innerHTML = qr.createSvgTag({ cellSize: 4, margin: 16, scalable: true });
  holder.querySelector("svg")?.setAttribute("aria-label", `Code ${number} of ${of}`);
  holder.append(element("figcaption", "", `${number} of ${of}`));
  return holder;
}

export function tallyOut(page: Page): void {
  const out = document.getElementById("tally") as HTMLTextAreaElement | null;
  const codes = document.getElementById("codes");
  const to = document.getElementById("to-tally"); // in sight beside the last cut, wherever the page is scrolled to
  if (!out || !codes) return;
  const fresh = (): void => {
    out.value = page.list();
    if (to) to.textContent = `Tally: ${page.count()} kept here`;
  };
  page.onChange(fresh);
  fresh();
  document.getElementById("save")?.addEventListener("click", () => {
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([page.list()], { type: "application/json" }));
    link.download = `tally-${document.body.dataset["log"] ?? "day"}.json`;
    link.click();
  });
  document.getElementById("show-codes")?.addEventListener("click", () => {
    const frames = framesOf(page.list());
    codes.replaceChildren(...frames.map((frame, i) => code(frame, i + 1, frames.length)));
  });
  if (page.lasting()) return;
  const details = out.closest("details");
  if (details) details.open = true; // nothing is kept here: the tally stands on the page after every cut
  askBeforeLeaving(() => page.count());
}
