/**
 * Light or dark, metric or feet, which side is at the bottom: kept in cookies, as the
 * server writes the words and the drawings by them.
 */

const YEAR = 365 * 24 * 3600;

export interface Look {
  name: string;
  value: string;
}

/**
 * Listen to the switches, `input[data-look]`. The light changes at once. Another
 * switch sends `limen:look`; whoever renews the page's content by itself calls
 * `preventDefault()`, else the page is loaded anew.
 */
export function wireLook(root: Document): void {
  root.addEventListener("change", (event) => {
    const input = event.target;
    if (!(input instanceof HTMLInputElement) || !input.matches("[data-look]")) return;
    keep(input.name, input.value);
    if (input.name === "theme") lighten(input.value);
    else announce({ name: input.name, value: input.value });
  });
  wireLists(root);
}

function keep(name: string, value: string): void {
  document.cookie = `limen_${name}=${value}; Path=/; Max-Age=${YEAR}; SameSite=Strict`;
}

function lighten(value: string): void {
  const page = document.documentElement;
  if (value === "device") delete page.dataset["theme"];
  else page.dataset["theme"] = value;
}

function announce(detail: Look): void {
  const said = new CustomEvent<Look>("limen:look", { detail, cancelable: true });
  if (document.dispatchEvent(said)) location.reload();
}

/** An open list closes on Escape and on a press elsewhere. */
function wireLists(root: Document): void {
  const open = () => root.querySelector<HTMLDetailsElement>("details.look[open]");
  root.addEventListener("keydown", (event) => {
    const list = open();
    if (event.key !== "Escape" || !list) return;
    list.open = false;
    list.querySelector("summary")?.focus();
  });
  root.addEventListener("pointerdown", (event) => {
    const list = open();
    if (list && event.target instanceof Node && !list.contains(event.target)) list.open = false;
  });
}
