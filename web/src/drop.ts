/**
 * A site file dropped on, or chosen in, `form[data-drop]` fills the form's textarea.
 * The text is put there to be seen; sending stays a decision of its own.
 */

const MOST = 2_000_000; // bytes; the server refuses more as well

export function wireDrops(root: Document): void {
  for (const kind of ["dragover", "dragleave", "drop"] as const) {
    root.addEventListener(kind, (event) => {
      const form = formAt(event.target);
      if (!form || !event.dataTransfer?.types.includes("Files")) return;
      event.preventDefault();
      form.toggleAttribute("data-over", kind === "dragover");
      if (kind === "drop") void take(form, event.dataTransfer.files[0]);
    });
  }
  root.addEventListener("change", (event) => {
    const input = event.target;
    if (!(input instanceof HTMLInputElement) || input.type !== "file") return;
    const form = formAt(input);
    if (form) void take(form, input.files?.[0]);
  });
}

function formAt(target: EventTarget | null): HTMLFormElement | null {
  return target instanceof Element ? target.closest<HTMLFormElement>("form[data-drop]") : null;
}

async function take(form: HTMLFormElement, file: File | undefined): Promise<void> {
  const text = form.querySelector("textarea");
  if (!file || !text) return;
  tell(form, file.size > MOST ? document.body.dataset["wordTooLarge"] ?? "" : "");
  if (file.size > MOST) return;
  text.value = await file.text();
  const name = form.querySelector<HTMLInputElement>("input[data-file-name]");
  if (name && !name.value) name.value = file.name.replace(/\.toml$/i, "");
  text.dispatchEvent(new Event("input", { bubbles: true }));
  text.focus();
}

/** What is wrong with the file, under what was typed, which stays. */
function tell(form: HTMLFormElement, fault: string): void {
  form.querySelector("[data-drop-fault]")?.remove();
  if (!fault) return;
  const said = document.createElement("p");
  said.className = "field-fault";
  said.dataset["dropFault"] = "";
  said.setAttribute("role", "alert");
  said.textContent = fault;
  form.append(said);
}
