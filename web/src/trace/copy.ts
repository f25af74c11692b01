/** A button that puts a text of the page where everything that is copied goes. */

export function wireCopy(page: Document): void {
  page.querySelectorAll<HTMLElement>("[data-copy]").forEach((button) => {
    button.addEventListener("click", () => void copied(page, button));
  });
}

async function copied(page: Document, button: HTMLElement): Promise<void> {
  const text = page.getElementById(button.dataset["copy"] ?? "");
  const says = page.querySelector<HTMLElement>("[data-copy-says]");
  if (!text) return;
  try {
    await navigator.clipboard.writeText(text.textContent ?? "");
    if (says) says.textContent = button.dataset["copied"] ?? "";
  } catch {
    // Not allowed here: the text is shown and marked, to be copied by hand.
    text.closest("details")?.setAttribute("open", "");
    page.getSelection()?.selectAllChildren(text);
    text.focus();
  }
}
