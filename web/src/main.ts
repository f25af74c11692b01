/** What every page has: styles, requests by htmx, the look, files dropped on forms. */
import htmx from "htmx.org/dist/htmx.esm.js";

import "./styles/index.css";
import { OURS } from "./asking.ts";
import { wireDrops } from "./drop.ts";
import { wireCopy } from "./trace/copy.ts";
import { wireLook } from "./look.ts";
import { wireOut } from "./out/link.ts";
import { wireUnanswered } from "./unanswered.ts";

// The page's policy allows neither eval nor inline styles: htmx is not to try.
htmx.config.allowEval = false;
htmx.config.allowScriptTags = false;
htmx.config.includeIndicatorStyles = false;
htmx.config.historyCacheSize = 0;
htmx.config.responseHandling = [
  { code: "204", swap: false },
  { code: "[23]..", swap: true },
  // A refused form comes back with what was typed and why: it is shown.
  { code: "409|412|413|422", swap: true, error: false },
  { code: "[45]..", swap: false, error: true },
];

document.addEventListener("htmx:configRequest", (event) => {
  const { headers } = (event as CustomEvent<{ headers: Record<string, string> }>).detail;
  Object.assign(headers, OURS);
});

wireUnanswered(document);
wireOut(document);

wireLook(document);
wireDrops(document);
wireCopy(document);
