/**
 * A form that got no answer, or an answer that the server could not do it now. The form
 * stays as it is, with what was typed; what the server said, if anything, stands above.
 */

type Failed = CustomEvent<{ xhr?: XMLHttpRequest; requestConfig?: { verb: string } }>;

export function wireUnanswered(root: Document): void {
  const place = root.querySelector<HTMLElement>("[data-unanswered]");
  if (!place) return;
  const usual = place.textContent ?? "";
  for (const failed of ["htmx:sendError", "htmx:responseError"]) {
    root.addEventListener(failed, (event) => {
      place.textContent = said((event as Failed).detail.xhr) ?? usual;
      place.hidden = false;
      place.scrollIntoView({ block: "nearest" });
    });
  }
  root.addEventListener("htmx:afterOnLoad", (event) => {
    if (((event as Failed).detail.xhr?.status ?? 0) < 400) place.hidden = true;
  });
}

/** The lines of a refusal; an answer of another form says nothing to people. */
function said(answer: XMLHttpRequest | undefined): string | null {
  if (!answer?.responseText) return null;
  const page = new DOMParser().parseFromString(answer.responseText, "text/html");
  const lines = [...page.querySelectorAll(".faults li")].map((line) => line.textContent?.trim());
  return lines.length ? lines.join(" ") : null;
}
