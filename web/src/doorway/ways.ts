/** Other ways: asked for when they are opened, and again only if there was no answer. */

/** Wire every "other ways" below a root, those that are written later too. */
export function wireWays(root: HTMLElement): void {
  root.addEventListener("toggle", (event) => void opened(event.target), true);
}

async function opened(target: EventTarget | null): Promise<void> {
  if (!(target instanceof HTMLDetailsElement) || !target.open || "told" in target.dataset) return;
  const url = target.dataset["ways"];
  const place = target.querySelector<HTMLElement>("[data-ways-told]");
  if (!url || !place) return;
  target.dataset["told"] = "";
  place.setAttribute("aria-busy", "true");
  place.textContent = target.dataset["wordWaits"] ?? "";
  try {
    const reply = await fetch(url, { headers: { "HX-Request": "true" }, credentials: "same-origin" });
    place.innerHTML = await reply.text();
  } catch {
    delete target.dataset["told"];
    place.textContent = target.dataset["wordUnanswered"] ?? "";
  }
  place.removeAttribute("aria-busy");
}
