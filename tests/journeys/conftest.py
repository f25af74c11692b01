"""A desk of its own in a process of its own, and a browser that looks at it.

`desk` is a running server on an empty library; `open_page` opens a page of it in
Chromium.  A page that breaks its own policy, or whose scripts fail, fails the test
that opened it.  `from browsing import axe, saved, …` has the rest.
"""

from collections.abc import Iterable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import (
    Browser,
    BrowserContext,
    Page,
    Playwright,
    sync_playwright,
)

from browsing import Desk, Opened, OpenPage, chromium, person, running


@pytest.fixture(scope="session")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    """One server for many journeys: add a site of your own, expect those of others."""
    with running(tmp_path_factory.mktemp("home")) as one:
        yield one


@pytest.fixture
def empty_desk(tmp_path: Path) -> Iterator[Desk]:
    """A server of this journey's own: empty, and may be killed."""
    with running(tmp_path / "home") as one:
        yield one


@pytest.fixture(scope="session")
def driver() -> Iterator[Playwright]:
    """What drives browsers: there may be one in a process, whoever needs it first."""
    with sync_playwright() as one:
        yield one


@pytest.fixture(scope="session")
def browser(driver: Playwright) -> Iterator[Browser]:
    """Debian's Chromium, without a window."""
    # Drawing in space needs a driver that every machine has.
    args = ["--no-sandbox", "--use-angle=swiftshader", "--enable-unsafe-swiftshader"]
    started = driver.chromium.launch(executable_path=chromium(), args=args)
    yield started
    started.close()


@pytest.fixture
def open_page(browser: Browser) -> Iterator[OpenPage]:
    """Open an address as a person with these wishes does.

    `open_page(url, width=360, theme="slate", units="feet", language="fr",
    javascript=False, touch=True)`: each call is a person of their own, `tab=page`
    another tab of the same one.  `expected={412}` names the refusals that the journey
    provokes.
    """
    watched: list[Opened] = []
    people: list[BrowserContext] = []

    def opened(
        url: str,
        *,
        tab: Page | None = None,
        expected: Iterable[int] = (),
        **wishes: object,
    ) -> Page:
        if tab is None:
            home = "/".join(url.split("/")[:3])
            people.append(person(browser, home, **wishes))  # pyright: ignore[reportArgumentType]
        page = (tab.context if tab else people[-1]).new_page()
        watched.append(Opened(frozenset(expected)))
        watched[-1].watch(page)
        page.goto(url)
        return page

    yield opened
    for one in people:
        one.close()
    faults = [fault for one in watched for fault in one.faults]
    assert not faults, "\n".join(faults)
