// Ask: one question at a time over the page, answered by big buttons; nothing is typed but what stands on a tag.

import { element, figure, printedAt } from "./show";
import type { Printed } from "./types";

const dialog = (): HTMLDialogElement => document.getElementById("ask") as HTMLDialogElement;

export function open(title: string, ...body: HTMLElement[]): void {
  document.getElementById("ask-title")!.textContent = title;
  document.getElementById("ask-body")!.replaceChildren(...body);
  dialog().showModal();
}

export function close(): void {
  dialog().close();
}

export function readyToAsk(): void {
  document.getElementById("ask-back")!.addEventListener("click", () => dialog().close());
}

export function button(words: string, act: () => void, className = "second"): HTMLButtonElement {
  const made = element("button", className, words) as HTMLButtonElement;
  made.type = "button";
  made.addEventListener("click", act);
  return made;
}

/** One of several; note: a sentence before them. */
export function choose(title: string, groups: [string, [string, () => void][]][], note = ""): void {
  const body = groups.flatMap(([head, choices]) => [
    ...(head ? [element("h3", "", head)] : []),
    element("div", "choices", ...choices.map(([words, act]) => button(words, () => (dialog().close(), act())))),
  ]);
  open(title, ...(note ? [element("p", "stop", note)] : []), ...body);
}

/** Something to read, then what to do. */
export function tell(title: string, lines: string[], choices: [string, () => void][]): void {
  const said = lines.map((line) => element("p", "stop", line));
  open(title, ...said, element("div", "choices", ...choices.map(([words, act]) => button(words, () => (dialog().close(), act())))));
}

/** Heights on the bed scale, moved up and down by buttons. */
export function heights(title: string, names: string[], from: number[], table: Printed[], eighth: number, words: string[], act: (steps: number[]) => void): void {
  const steps = [...from];
  const rows = names.map((name, i) => {
    const shown = element("p", "what");
    const set = (by: number): void => {
      steps[i] = Math.max(0, steps[i]! + by);
      shown.replaceChildren(`${name} `, figure(printedAt(table, steps[i]!)));
    };
    set(0);
    const buttons = ([[`\u2212 ${words[4]}`, -8 * eighth], [`\u2212 ${words[0]}`, -eighth], [`+ ${words[0]}`, eighth], [`+ ${words[4]}`, 8 * eighth]] as [string, number][]).map(
      ([words, by]) => button(words, () => set(by)),
    );
    buttons.forEach((one) => one.setAttribute("aria-label", `${name} ${one.textContent}`));
    return element("div", "", shown, element("div", "choices", ...buttons));
  });
  open(title, ...rows, element("p", "", button("That is how it stands", () => (dialog().close(), act(steps)), "main")));
}
