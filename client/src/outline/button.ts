// A second button: it does one small thing on the page.

export function button(words: string, pressed: () => void): HTMLButtonElement {
  const made = document.createElement("button");
  made.type = "button";
  made.className = "second";
  made.textContent = words;
  made.addEventListener("click", pressed);
  return made;
}
