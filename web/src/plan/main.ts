/** A pin put on a floor plan: tapped, or moved with arrow keys and set with Enter. */
import { written } from "../numbers.ts";

import { heldWithin, moved, type Place } from "./place.ts";
import { upright } from "./upright.ts";

const FIELD = "[data-plan-field]";

function form(): HTMLFormElement | null {
  return document.querySelector<HTMLFormElement>("[data-plan-form]");
}

function entry(name: "x" | "y"): HTMLInputElement | null {
  return form()?.querySelector<HTMLInputElement>(`[name=${name}]`) ?? null;
}

function typed(): Place {
  const [x, y] = (["x", "y"] as const).map((name) => {
    const value = parseFloat((entry(name)?.value ?? "").replace(",", "."));
    return Number.isFinite(value) ? value : 50;
  }) as [number, number];
  return heldWithin({ x, y });
}

/** Show where the pin would be, in the fields and on the plan. */
function show(place: Place): void {
  for (const name of ["x", "y"] as const) {
    const field = entry(name);
    if (field) field.value = written(String(place[name]));
  }
  const pin = document.querySelector<SVGElement>("[data-plan-chosen]");
  pin?.setAttribute("x", `${place.x}%`);
  pin?.setAttribute("y", `${place.y}%`);
  pin?.setAttribute("visibility", "visible");
}

document.addEventListener("click", (event) => {
  const field = (event.target as Element).closest<HTMLElement>(FIELD);
  if (!field) return;
  const box = field.getBoundingClientRect();
  show(
    heldWithin({
      x: (100 * (event.clientX - box.left)) / box.width,
      y: (100 * (event.clientY - box.top)) / box.height,
    }),
  );
  form()?.requestSubmit();
});

document.addEventListener("keydown", (event) => {
  if (!(event.target as Element).matches(FIELD)) return;
  if (event.key === "Enter") {
    event.preventDefault();
    show(typed());
    form()?.requestSubmit();
    return;
  }
  const place = moved(typed(), event.key, event.shiftKey);
  if (!place) return;
  event.preventDefault();
  show(place);
});

document.addEventListener("input", (event) => {
  if ((event.target as Element).closest("[data-plan-form]")) {
    const text = [entry("x")?.value, entry("y")?.value];
    if (text.every(Boolean)) {
      const place = typed();
      const pin = document.querySelector<SVGElement>("[data-plan-chosen]");
      pin?.setAttribute("x", `${place.x}%`);
      pin?.setAttribute("y", `${place.y}%`);
      pin?.setAttribute("visibility", "visible");
    }
  }
});

// A file that was chosen is kept while something else in its form is refused.
let chosenFiles: [string, FileList][] = [];
let shownBefore: string | undefined;

function plan(): HTMLElement | null {
  return document.querySelector<HTMLElement>("#plan");
}

document.addEventListener("htmx:beforeSwap", () => {
  const fields = document.querySelectorAll<HTMLInputElement>("[data-plan-upload] [type=file]");
  chosenFiles = [...fields].flatMap((one) => (one.files?.length ? [[one.id, one.files]] : []));
  shownBefore = plan()?.dataset.planShown;
});

document.addEventListener("htmx:afterSwap", () => {
  const faults = document.querySelector<HTMLElement>("#plan .faults");
  if (faults) {
    for (const [id, files] of chosenFiles) {
      const field = document.getElementById(id) as HTMLInputElement | null;
      if (field) field.files = files;
    }
    faults.scrollIntoView({ block: "center" });
    return;
  }
  // Another plan is begun at its top: it was added below the one before.
  if (plan()?.dataset.planShown !== shownBefore) plan()?.scrollIntoView();
  // Whoever set a pin by keyboard goes on with the next one from the plan.
  document.querySelector<HTMLElement>(FIELD)?.focus({ preventScroll: true });
});

document.addEventListener("change", (event) => {
  const chosen = event.target as HTMLInputElement;
  if (chosen.matches("[data-plan-upload] input[type=file]")) void upright(chosen);
});
