/** Sensor sheets: the unit that was typed takes the place of the one that is shown. */
import "./sheets.css";
import { showUnits } from "../survey/shown.ts";

function renew(): void {
  for (const form of document.querySelectorAll<HTMLFormElement>("form.sheet-form")) showUnits(form);
}

renew();
document.addEventListener("input", renew);
document.addEventListener("htmx:afterSettle", () => {
  renew();
  const told = document.querySelector<HTMLElement>(".sheet-form > .faults");
  told?.scrollIntoView({ block: "start" });
});
