/** What readings say of how a unit hangs, and what to turn: floor millimetres first. */
import type { Card, Door } from "./app.ts";
import { el } from "./dom.ts";
import type { Reading } from "./events.ts";
import { fitted, takenOf, turning, type Fit, type Target } from "./fitting.ts";
import { shownLength } from "./lengths.ts";

/** Lines about one unit; none where nothing was read of it. */
export function hangingLines(card: Card, door: Door, fitting: string, readings: readonly Reading[]): HTMLElement | null {
  const { say } = card.words;
  const fit = door.pack.fit as Fit | null;
  const unit = fit?.units?.find((one) => one.fitting === fitting);
  if (!fit || !unit || !readings.length) return null;
  const taken = takenOf(fit, unit, readings);
  if (taken.some((one) => one === null)) return null;
  const found = fitted(unit, taken.filter((one) => one !== null));
  const length = (metres: number) => shownLength(Math.abs(metres), door.pack.card.feet);
  if (found.outcome === "at odds") return told(say("card.hangs.at_odds", { numbers: found.wrong.join(", ") }));
  if (found.outcome !== "fitted" || !found.pose || found.lands === null) return told(say(`card.hangs.${found.outcome.replace(" ", "_")}`));
  const lands = say("card.hangs.lands", { out: length(found.lands) });
  const target = (door.pack.targets as (Target & { open?: boolean })[]).find((one) => one.fitting === fitting);
  if (!target || target.open) return told(lands);
  const inside = found.lands >= target.least && found.lands <= target.most;
  if (inside) return told(lands, say("card.hangs.within", { least: length(target.least), most: length(target.most) }));
  const { by, turn, inWindow, steps } = turning(unit, found.pose, target);
  const degrees = Math.abs((turn * 180) / Math.PI).toLocaleString(card.words.language, { maximumFractionDigits: 1, minimumFractionDigits: 1 });
  const way = by < 0 ? "card.hangs.nearer" : "card.hangs.farther";
  const window = { by: length(by), best: length(target.best), least: length(target.least), most: length(target.most), degrees };
  return told(lands, say(way, window), steps !== null && !inWindow ? say("card.hangs.coarse") : "");
}

function told(...words: string[]): HTMLElement {
  return el("div", { class: "card-hangs", role: "status" }, words.filter(Boolean).map((one) => el("p", {}, one)));
}
