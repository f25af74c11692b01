"""A page in Chromium: who looks at it, what it complains of, who can read it."""

import os
import shutil
import sys
from collections.abc import Callable
from dataclasses import dataclass, field
from itertools import product
from typing import Literal, TypeAlias

import pytest
from playwright.sync_api import Browser, BrowserContext, ConsoleMessage, Page, Response

from browsing.server import ROOT

AXE = ROOT / "web" / "node_modules" / "axe-core" / "axe.min.js"
WCAG = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
WIDTHS = (360, 768, 1440)
HEIGHTS = {360: 740, 412: 915, 768: 1024, 1440: 900}
SOON = 20_000  # ms that a busy machine may take for one step
LOCALES = {"en": "en-GB", "de": "de-DE", "fr": "fr-FR"}

Theme: TypeAlias = Literal["paper", "slate"]
Units: TypeAlias = Literal["metric", "feet"]
THEMES: tuple[Theme, ...] = ("paper", "slate")
LOOKS = [
    pytest.param(
        width, theme, marks=[] if (width, theme) == (360, "slate") else pytest.mark.slow
    )
    for width, theme in product((360, 412, 768, 1440), THEMES)
]
"""Widths and themes in which a page is looked at, one of them each time."""
OpenPage: TypeAlias = Callable[..., Page]


def chromium() -> str:
    """Where the browser is; `./run browser` puts it there."""
    named = os.environ.get("LIMEN_CHROMIUM", "")
    found = named or shutil.which("chromium") or shutil.which("chromium-browser")
    if not found:
        pytest.fail("the journeys need Chromium: ./run browser", pytrace=False)
    return found


GONE = 0
"""In place of a status: there is no answer."""


@dataclass
class Opened:
    """What went wrong in a page while nobody looked.

    Attributes:
        expected: statuses of refusals that this journey provokes; `GONE` where it
            takes the server away.
        faults: messages of scripts, and answers that nobody expected.
    """

    expected: frozenset[int]
    faults: list[str] = field(default_factory=list)

    def watch(self, page: Page) -> None:
        """Note what a page complains of."""
        page.on("console", self._said)
        page.on("pageerror", lambda error: self.faults.append(str(error)))
        page.on("response", self._answered)

    def _said(self, message: ConsoleMessage) -> None:
        # A refused request is noted with its status, by `_answered`.
        refusals = ("Failed to load resource", "Response Status Error Code")
        if GONE in self.expected:
            refusals = (*refusals, "htmx:sendError", "htmx:afterRequest")
        if message.type == "error" and not message.text.startswith(refusals):
            self.faults.append(message.text)

    def _answered(self, answer: Response) -> None:
        # A range that nobody waits for any more is not computed.
        late = answer.status == 409 and "/ranges?" in answer.url
        if answer.status >= 400 and answer.status not in self.expected and not late:
            self.faults.append(f"{answer.status} {answer.request.method} {answer.url}")


def person(
    browser: Browser,
    home: str,
    *,
    width: int = 1440,
    height: int | None = None,
    theme: Theme = "paper",
    units: Units = "metric",
    language: str = "en",
    javascript: bool = True,
    touch: bool = False,
) -> BrowserContext:
    """A person with these wishes, who has not been here before."""
    context = browser.new_context(
        viewport={"width": width, "height": height or HEIGHTS.get(width, 900)},
        locale=LOCALES.get(language, language),
        java_script_enabled=javascript,
        has_touch=touch,
        reduced_motion="reduce",
        accept_downloads=True,
    )
    context.set_default_timeout(SOON)
    context.set_default_navigation_timeout(3 * SOON)
    chosen = {"theme": theme, "units": units, "language": language}
    for name, value in chosen.items():
        context.add_cookies([{"name": f"limen_{name}", "value": value, "url": home}])
    return context


def axe(page: Page) -> list[str]:
    """What axe-core finds wrong with a page, one line each."""
    page.evaluate(AXE.read_text("utf-8"))  # not a script of the page's: no policy asked
    found = page.evaluate(
        "tags => axe.run(document, {runOnly: tags, resultTypes: ['violations']})", WCAG
    )
    return [
        f"{one['id']}: {one['help']}: {node['html'][:160]}"
        for one in found["violations"]
        for node in one["nodes"]
    ]


def saved(page: Page) -> None:
    """Wait until the page says that all is kept."""
    page.wait_for_selector("[role=status].kept[data-state=saved]")


def rested(page: Page) -> None:
    """Wait until a doorway page has kept everything and asked it all again."""
    saved(page)
    page.wait_for_selector("[data-next]:not([data-waiting])")


def told(what: str) -> None:
    """Print a figure that no test is held to."""
    sys.stdout.write(f"{what}\n")
