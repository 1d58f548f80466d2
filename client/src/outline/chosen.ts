// The picture that was chosen in a file field, shown before it is sent.

export function chosenPhoto(root: HTMLElement, image: HTMLImageElement): void {
  const input = document.querySelector<HTMLInputElement>(root.dataset["photoFrom"] ?? "none");
  input?.addEventListener("change", () => {
    const file = input.files?.[0];
    if (!file) return;
    image.src = URL.createObjectURL(file);
    root.hidden = false;
  });
}
