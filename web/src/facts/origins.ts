/** Where a figure comes from: a small panel, opened beside what was asked about. */
import "./origins.css";

/** Wire what opens the panel; `address` is the doorway's. */
export function wireOrigins(address: string): void {
  const dialog = document.querySelector<HTMLDialogElement>("[data-origin-dialog]");
  const body = dialog?.querySelector<HTMLElement>("[data-origin-body]");
  if (!dialog || !body) return;
  let asked = "";
  document.addEventListener("click", (event) => {
    const url = event.target instanceof Element ? wanted(event.target, address) : null;
    if (!url || event.ctrlKey || event.metaKey) return;
    event.preventDefault();
    event.stopPropagation();
    asked = url;
    void open(dialog, body, url);
  });
  // The line that was asked about may have been written anew meanwhile.
  dialog.addEventListener("close", () => {
    // A browser may let the focus stay in what is no longer shown for a moment.
    const focused = document.activeElement;
    if (focused !== document.body && !dialog.contains(focused)) return;
    const every = document.querySelectorAll<HTMLElement>("a[data-origin], [data-origin-key]");
    [...every].find((one) => wanted(one, address) === asked)?.focus();
  });
  // A press beside the panel closes it, as Escape does.
  dialog.addEventListener("click", (event) => {
    if (event.target === dialog) dialog.close();
  });
}

function wanted(target: Element, address: string): string | null {
  const link = target.closest<HTMLAnchorElement>("a[data-origin]");
  if (link) return link.href;
  const key = target.closest<HTMLElement>("[data-origin-key]")?.dataset["originKey"];
  return key ? `${address}/origins?${new URLSearchParams({ key })}` : null;
}

async function open(dialog: HTMLDialogElement, body: HTMLElement, url: string): Promise<void> {
  body.replaceChildren();
  body.setAttribute("aria-busy", "true");
  dialog.showModal();
  try {
    const reply = await fetch(url, { headers: { "HX-Request": "true" }, credentials: "same-origin" });
    body.innerHTML = await reply.text();
  } catch {
    dialog.close();
    location.assign(url); // the page of the same, once there is a connection
  }
  body.removeAttribute("aria-busy");
  body.querySelector<HTMLElement>("h2")?.focus();
}
