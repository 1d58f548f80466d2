// Elements made by hand.

export function element<K extends keyof HTMLElementTagNameMap>(tag: K, looks: string, text = ""): HTMLElementTagNameMap[K] {
  const made = document.createElement(tag);
  if (looks) made.className = looks;
  if (text) made.textContent = text;
  return made;
}

export function button(text: string, pressed: () => void): HTMLButtonElement {
  const made = element("button", "second", text);
  made.type = "button";
  made.addEventListener("click", pressed);
  return made;
}
