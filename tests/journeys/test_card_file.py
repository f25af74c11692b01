"""The card without a server: opened as a file, worked with, and taken in again."""

import os
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Page, Playwright

from browsing import axe, chromium
from browsing.card import QUIET, SMALL, Tapping
from browsing.server import ROOT, demo_text
from limen.desk import card_files
from limen.desk.card_back import take_in_file
from limen.desk.card_files import Written, write_cards
from limen.desk.library import Desk, open_desk
from limen.desk.visits import folded

DEAD = (
    "Object.defineProperty(globalThis, '{}', {{ get() {{ throw new Error('none') }} }})"
)


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    one = open_desk(tmp_path_factory.mktemp("home") / "library.db")
    yield one
    one.library.close()


@pytest.fixture(scope="module")
def written(desk: Desk, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Written]:
    """The card of one doorway, made of a site file."""
    built = os.environ.get("LIMEN_STATIC", str(ROOT / "src" / "limen" / "static"))
    folder = tmp_path_factory.mktemp("cards")
    bundle = folder / "onefile"
    shutil.copytree(Path(built) / "onefile", bundle)
    site = folder / "door.toml"
    site.write_bytes(demo_text())
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(card_files, "BUNDLE", bundle)
        yield write_cards(desk, str(site), doorway="main", out=folder, only="html")


@pytest.fixture
def phone(driver: Playwright, tmp_path: Path) -> Iterator[BrowserContext]:
    """A phone in flight mode that keeps what files keep, over restarts."""
    context = driver.chromium.launch_persistent_context(
        tmp_path / "profile",
        executable_path=chromium(),
        args=["--no-sandbox"],
        viewport={"width": 360, "height": 740},
        offline=True,
        accept_downloads=True,
        reduced_motion="reduce",
    )
    yield context
    context.close()


def _open(phone: BrowserContext, written: Written, before: str = "") -> Tapping:
    page = phone.new_page()
    page.on("pageerror", lambda error: pytest.fail(str(error)))
    page.on("console", _heard)
    if before:
        page.add_init_script(before)
    assert written.page is not None
    page.goto(written.page.as_uri())
    page.wait_for_selector("h1")
    return Tapping(page, written.page.as_uri(), f"{written.site.id}/main")


def _heard(message: object) -> None:
    text = getattr(message, "text", "")
    if getattr(message, "type", "") == "error":
        pytest.fail(f"the page complains: {text}")


def _saved(page: Page, folder: Path) -> Path:
    page.wait_for_timeout(QUIET)
    with page.expect_download() as coming:
        page.get_by_role("button", name="Save everything as a file").click()
    file = folder / "limen-visit.json"
    coming.value.save_as(file)
    return file


def test_a_whole_visit_without_a_server_comes_back_as_a_file(
    desk: Desk, written: Written, phone: BrowserContext, tmp_path: Path
) -> None:
    card = _open(phone, written)
    card.begin()
    card.nothing_read()
    card.go("step", "box.left")
    card.answered()
    card.page.reload()
    card.go("step", "box.middle")
    card.answered("touched")
    card.handed_over()
    card.page.wait_for_selector("[data-screen=seal]")
    assert card.page.evaluate(SMALL) == []
    file = _saved(card.page, tmp_path)
    tapped = len(card.events())
    done = take_in_file(desk, file)
    assert (done.new, done.bad) == (tapped, ())
    events = card.events()
    visit = folded(desk, written.site.id, events[0]["visit"])
    assert visit.found.handed_over is not None
    assert take_in_file(desk, file).again == tapped


def test_what_was_tapped_is_there_after_the_tab_is_gone(
    written: Written, phone: BrowserContext
) -> None:
    card = _open(phone, written)
    card.begin()
    before = card.events()
    card.page.close()
    card = _open(phone, written)
    assert card.events() == before
    assert card.kept() == len(before)


@pytest.mark.parametrize(
    ("lacking", "warned"),
    [(("indexedDB",), False), (("indexedDB", "localStorage"), True)],
)
def test_without_a_database_it_keeps_a_text_and_without_any_it_says_so(
    desk: Desk,
    written: Written,
    phone: BrowserContext,
    tmp_path: Path,
    lacking: tuple[str, ...],
    warned: bool,
) -> None:
    card = _open(phone, written, ";".join(DEAD.format(one) for one in lacking))
    assert card.page.locator(".onefile-warning").count() == warned
    card.begin()
    card.page.evaluate("location.hash = '#/settings'")
    done = take_in_file(desk, _saved(card.page, tmp_path))
    assert done.new == 2
    assert done.bad == ()
    if not warned:
        card.page.reload()
        card.page.wait_for_selector("h1")
        assert card.kept() == 2


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_it_can_be_read_and_asks_nobody(
    written: Written, phone: BrowserContext, theme: str
) -> None:
    asked: list[str] = []
    card = _open(phone, written)
    page = card.page
    page.on("request", lambda one: asked.append(one.url))
    page.emulate_media(color_scheme="dark" if theme == "dark" else "light")
    page.reload()
    page.wait_for_selector("h1")
    wrong = [one for one in axe(page) if "meta-viewport" not in one]
    assert wrong == []
    assert page.evaluate(SMALL) == []
    assert all(one.startswith(("file:", "data:", "blob:")) for one in asked)
    assert page.evaluate("document.fonts.ready.then((all) => all.size)") > 0
    assert page.evaluate("document.fonts.check('16px \"Atkinson Hyperlegible Next\"')")
