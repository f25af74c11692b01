"""The job card in Chromium: taken along, tapped at, and asked what it has kept."""

import json
import os
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from playwright.sync_api import BrowserContext, Page

from browsing.server import Desk

QUIET = 500  # ms: the page heeds no tap that was meant for the screen before
KEPT = "#card[data-kept='{}']"

_EVENTS = """() => new Promise((done, failed) => {
  const asked = indexedDB.open('limen-card');
  asked.onerror = () => failed(asked.error);
  asked.onsuccess = () => {
    const all = asked.result.transaction('events').objectStore('events').getAll();
    all.onsuccess = () => { asked.result.close(); done(all.result); };
  };
})"""

SMALL = """() => {
  const wrong = [];
  const fields = '.card-choice label, .card-entry, textarea, canvas';
  const pressed = `a, button, summary, ${fields}`;
  for (const one of document.querySelectorAll(pressed)) {
    const { width, height } = one.getBoundingClientRect();
    const seen = one.checkVisibility({ visibilityProperty: true });
    const few = width < 47.5 || height < 47.5;
    if (seen && few) wrong.push(`${one.outerHTML.slice(0, 90)}: ${width} x ${height}`);
  }
  const words = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (words.nextNode()) {
    const at = words.currentNode.parentElement;
    const out = 'script, noscript, .unseen, .card-whole, title, desc';
    if (!words.currentNode.textContent.trim() || at.closest(out)) continue;
    const scale = at.closest('svg')?.getScreenCTM().a ?? 1;
    const size = parseFloat(getComputedStyle(at).fontSize) * scale;
    if (size < 15.9) wrong.push(`${words.currentNode.textContent}: ${size} px`);
  }
  if (document.documentElement.scrollWidth > innerWidth) wrong.push('too wide');
  return wrong;
}"""
"""What a finger in a glove cannot press, and what cannot be read from a ladder."""


@dataclass
class Tapping:
    """Somebody who works at a door with the card.

    Attributes:
        page: the card.
        url: its address.
        key: the doorway, as the card names it.
    """

    page: Page
    url: str
    key: str

    def go(self, screen: str = "", of: str = "") -> None:
        """Open a screen of the doorway."""
        parts = [one for one in (self.key, screen, of) if one]
        self.page.evaluate("to => { location.hash = to }", "#/door/" + "/".join(parts))
        self.page.wait_for_timeout(QUIET)

    def title(self) -> str:
        """The one thing that is said large."""
        return self.page.locator("h1").inner_text()

    def kept(self) -> int:
        """How many taps the page says are kept."""
        return int(self.page.get_attribute("#card", "data-kept") or 0)

    def tap(self, selector: str) -> None:
        """Tap, and wait until it is kept."""
        before = self.kept()
        self.page.wait_for_timeout(QUIET)
        self.page.click(selector)
        self.page.wait_for_selector(KEPT.format(before + 1))

    def begin(self, found: str = "existing") -> None:
        """Say how the door is found, and put up the barrier."""
        self.page.wait_for_selector("[name=person]")
        self.page.check(f"[name=found][value='{found}']")
        self.page.fill("[name=person]", "R. Okafor")
        self.tap(".card-do")
        self.page.wait_for_selector("[data-screen=barrier]")
        self.tap(".card-do")

    def nothing_read(self) -> None:
        """Say why nothing is read as found."""
        self.page.wait_for_selector("[data-screen=reading]")
        self.go("cannot", "as_found")
        self.page.fill("[name=because]", "It rains")
        self.tap(".card-do")
        self.worked()

    def worked(self) -> None:
        """Do the work that comes before the tests."""
        while self.screen() == "work":
            self.tap(".card-do")

    def asked(self) -> str:
        """Id of the test that is asked now."""
        return self.page.get_attribute("main", "data-of") or ""

    def screen(self) -> str:
        """What kind of screen is shown."""
        return self.page.get_attribute("main", "data-screen") or ""

    def answered(self, answer: str = "good") -> str:
        """Answer the test that is asked now; its title."""
        self.page.wait_for_selector("main[data-screen=test]")
        title = self.title()
        self.tap(f"[data-answer={answer}]")
        return title

    def handed_over(self, state: str = "in use") -> None:
        """Say how the door is left, and sign."""
        self.go("hand_over")
        self.page.check(f"[name=state][value='{state}']")
        self.page.fill("[name=told]", "A. Keeper")
        pad = self.page.locator("canvas")
        pad.scroll_into_view_if_needed()
        box = pad.bounding_box()
        assert box
        self.page.mouse.move(box["x"] + 20, box["y"] + 20)
        self.page.mouse.down()
        self.page.mouse.move(box["x"] + 120, box["y"] + 60, steps=5)
        self.page.mouse.up()
        self.tap(".card-do")

    def events(self) -> list[dict[str, Any]]:
        """Every event on this device's disk, in its order."""
        return sorted(self.page.evaluate(_EVENTS), key=lambda one: one["seq"])


def along(page: Page, desk: Desk, site: str, door: str = "main") -> Tapping:
    """Take a doorway along; the card is open there, and ready to work offline."""
    _stand_in(page.context, site)
    page.goto(f"{desk.url}/card#/take/{site}/{door}")
    page.wait_for_function("() => location.hash.startsWith('#/door/')", timeout=120_000)
    page.evaluate("() => navigator.serviceWorker.ready.then(() => true)")
    page.wait_for_function("() => navigator.serviceWorker.controller !== null")
    page.wait_for_selector("h1")
    return Tapping(page, f"{desk.url}/card", f"{site}/{door}")


def _stand_in(context: BrowserContext, site: str) -> None:
    named = os.environ.get("LIMEN_CARD_PACK", "")
    if named:
        pack = json.loads(Path(named).read_text("utf-8")) | {"site": site}
        context.route("**/card.json", lambda route: route.fulfill(json=pack))
