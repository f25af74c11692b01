"""A visit with the job card: no network, a dead server, a dead tab, a full disk."""

import os
import random
import signal
import time
from collections.abc import Iterator
from contextlib import suppress
from itertools import product
from pathlib import Path
from threading import Timer
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Error, Page, expect

from browsing import GONE, THEMES, Desk, OpenPage, Theme, axe, chromium, told
from browsing.card import QUIET, SMALL, Tapping, along
from limen.desk import keys
from limen.record import verify_bytes

SIZES = ((360, 740), (412, 915))
SOON = 20_000
WHY = "() => document.querySelector('.card-why').getBoundingClientRect().bottom"
ANSWERS = "() => document.querySelector('.card-acts').getBoundingClientRect().top"
"""Where the reason of a test ends, and where its answers begin."""
SECRET = "rain on the header"  # noqa: S105 - of this journey alone
SLOWER = 4
WEAK = {
    "offline": False,
    "latency": 150,
    "downloadThroughput": 1_600_000 / 8,
    "uploadThroughput": 750_000 / 8,
}
"""A weak line of a phone: 1.6 and 0.75 Mbit/s, 150 ms. Common practice, no source."""
MOST_BYTES = 300_000


def _sent(tapping: Tapping, desk: Desk) -> None:
    """Wait until the desk has everything that was tapped."""
    tapping.page.evaluate("() => dispatchEvent(new Event('online'))")
    device, last = tapping.events()[-1]["device"], tapping.events()[-1]["seq"]
    tapping.page.wait_for_function(
        """([device, last]) => fetch(`/visits/devices/${device}`)
            .then((reply) => reply.json()).then((told) => told.kept === last)""",
        arg=[device, last],
        timeout=SOON,
    )
    assert desk.json(f"/visits/devices/{device}")["missing"] == []


def _whole(events: list[dict[str, Any]]) -> None:
    assert [one["seq"] for one in events] == list(range(1, len(events) + 1))
    assert len({one["id"] for one in events}) == len(events)


def _certified(tapping: Tapping, desk: Desk) -> None:
    """Make a key on the device, and let the firm answer for it."""
    folder = desk.home / "keys"
    keys.begin(folder, "Weir & Sons", "Desk 1", lambda _what: SECRET)
    page = tapping.page
    page.evaluate("() => { location.hash = '#/settings' }")
    page.wait_for_timeout(QUIET)
    page.get_by_role("button", name="Make a key").click()
    public = page.locator("main .card-digest").inner_text()
    said = keys.vouch(folder, public, "Phone 2", lambda _what: SECRET)
    page.fill("[name=certificate]", said.read_text("utf-8"))
    page.wait_for_timeout(QUIET)
    page.get_by_role("button", name="Take in the certificate").click()
    page.get_by_text("Weir & Sons").wait_for()
    tapping.go()


def test_a_whole_visit_is_done_and_sealed_while_the_server_is_dead(
    empty_desk: Desk, open_page: OpenPage
) -> None:
    """First tap to seal, through reloads; afterwards there is exactly one record."""
    site = empty_desk.demo()
    page = open_page(f"{empty_desk.url}/card", width=360, expected={GONE}, touch=True)
    tapping = along(page, empty_desk, site)
    _certified(tapping, empty_desk)
    empty_desk.kill()
    page.reload()
    tapping.begin()
    tapping.nothing_read()
    first = tapping.answered()
    page.reload()
    assert first != tapping.answered()
    tapping.answered("touched")
    page.wait_for_selector("main[data-screen=failed]")
    tapping.go()
    while tapping.screen() == "test":
        tapping.answered()
    tapping.worked()
    assert tapping.screen() == "hand_over"
    tapping.handed_over("in use with defects")
    page.reload()
    page.wait_for_selector("main[data-screen=seal]")
    tapping.tap(".card-do")
    page.wait_for_selector("main[data-screen=seal] .card-digest")
    page.reload()
    events = tapping.events()
    _whole(events)
    assert tapping.kept() == len(events)
    tapping.go("note")
    assert tapping.screen() == "seal"  # what is sealed is closed
    empty_desk.start()
    _sent(tapping, empty_desk)
    _one_record(empty_desk, site, events)


def _one_record(desk: Desk, site: str, events: list[dict[str, Any]]) -> None:
    """Exactly one, sealed by the device, with every event in it."""
    listed: list[dict[str, Any]] = []
    for _ in range(50):
        listed = desk.json(f"/sites/{site}/records")
        if listed:
            break
        time.sleep(0.2)
    digests = {one["digest"].replace(" ", "") for one in listed}
    assert digests == {events[-1]["said"]["digest"]}
    (digest,) = digests
    sealed = desk.ask("GET", f"/sites/{site}/records/{digest}.json")
    found = verify_bytes(sealed, firms=keys.trusted(desk.home / "keys").firms)
    assert found.unchanged
    assert found.signer
    assert found.signer.trusted
    assert found.record
    visit: Any = found.record["visit"]
    there = {one["id"] for part in visit.values() for one in _entries(part)}
    assert there >= {one["id"] for one in events if one["kind"] != "sealed"}


def _entries(part: object) -> list[dict[str, Any]]:
    listed = part if isinstance(part, list) else []
    return [one for one in listed if isinstance(one, dict) and "id" in one]


def test_what_is_tapped_can_be_taken_back_and_the_test_is_asked_again(
    desk: Desk, open_page: OpenPage
) -> None:
    tapping = along(open_page(f"{desk.url}/card", width=360), desk, desk.demo())
    tapping.begin()
    tapping.nothing_read()
    title = tapping.answered("touched")
    tapping.tap(".card-undo-do")
    tapping.page.wait_for_selector("main[data-screen=test]")
    assert tapping.title() == title
    assert tapping.events()[-1]["kind"] == "undone"
    expect(tapping.page.locator(".card-undo-do")).to_have_count(0)


def test_a_second_tap_on_the_same_spot_does_not_answer_the_next_test(
    desk: Desk, open_page: OpenPage
) -> None:
    """A wet glove taps twice."""
    tapping = along(open_page(f"{desk.url}/card", width=360), desk, desk.demo())
    tapping.begin()
    tapping.nothing_read()
    before = tapping.kept()
    tapping.page.wait_for_timeout(QUIET)
    tapping.page.dblclick("[data-answer=good]", delay=20)
    tapping.page.wait_for_timeout(QUIET)
    assert tapping.kept() == before + 1


def test_what_is_typed_and_not_kept_yet_is_there_after_a_reload(
    desk: Desk, open_page: OpenPage
) -> None:
    """A look at another screen loses it no more than a tab that is closed."""
    page = open_page(f"{desk.url}/card", width=360)
    tapping = along(page, desk, desk.demo())
    tapping.begin()
    tapping.go("hand_over")
    page.locator("label", has=page.locator("[name=state][value='out of use']")).click()
    page.fill("[name=told]", "A. Keeper")
    tapping.go("note")
    page.fill("[name=text]", "The rail rattles")
    tapping.go("list")
    tapping.go("note")
    assert page.input_value("[name=text]") == "The rail rattles"
    page.reload()
    assert page.input_value("[name=text]") == "The rail rattles"
    page.wait_for_timeout(QUIET)
    tapping.tap(".card-do")
    page.wait_for_selector("main:not([data-screen=note])")
    assert tapping.events()[-1]["said"]["text"] == "The rail rattles"
    tapping.go("note")
    assert page.input_value("[name=text]") == ""
    tapping.go("hand_over")
    assert page.input_value("[name=state]:checked") == "out of use"
    assert page.input_value("[name=told]") == "A. Keeper"


def test_a_defect_is_kept_and_handed_over_in_few_taps(
    desk: Desk, open_page: OpenPage
) -> None:
    """More, Defect, what and to whom, hand over, state, signature: that is all."""
    page = open_page(f"{desk.url}/card", width=360)
    tapping = along(page, desk, desk.demo())
    tapping.begin()
    tapping.go("defect")
    page.fill("[name=text]", "The guide rail is bent")
    page.fill("[name=told]", "A. Keeper")
    tapping.tap(".card-do")
    page.wait_for_selector("main[data-screen=hand_over]")
    assert page.input_value("[name=told]") == "A. Keeper"
    assert page.locator("[name=state]:checked").count() == 0  # the person chooses
    tapping.handed_over("out of use")
    said = [one for one in tapping.events() if one["kind"] == "handed_over"]
    assert said[-1]["said"]["state"] == "out of use"
    assert len(said[-1]["said"]["signature"][0]) > 3


def test_a_browser_that_keeps_nothing_is_told_so_before_the_first_tap(
    desk: Desk, open_page: OpenPage
) -> None:
    page = open_page(f"{desk.url}/card")
    page.add_init_script("indexedDB.open = () => { throw new Error('refused') }")
    page.reload()
    page.wait_for_selector("[role=alert]")
    assert "keeps nothing" in page.locator("main").inner_text()
    assert page.locator("button").count() == 0


def test_a_disk_that_is_full_keeps_nothing_and_says_so_and_the_tap_can_be_repeated(
    desk: Desk, open_page: OpenPage
) -> None:
    """What was typed stays, what was kept before stays, nothing is shown as kept."""
    page = open_page(f"{desk.url}/card", width=360)
    page.add_init_script(
        """const add = IDBObjectStore.prototype.add;
        IDBObjectStore.prototype.add = function (...given) {
          if (window.full) throw new DOMException('full', 'QuotaExceededError');
          return add.apply(this, given);
        }"""
    )
    page.reload()
    tapping = along(page, desk, desk.demo())
    tapping.begin()
    tapping.go("note")
    page.evaluate("() => { window.full = true }")
    before = tapping.kept()
    page.fill("[name=text]", "The floor is wet")
    page.click(".card-do")
    page.wait_for_selector(".card-trouble:not([hidden])")
    assert "no room" in page.locator(".card-trouble").inner_text()
    assert page.input_value("[name=text]") == "The floor is wet"
    assert tapping.kept() == before == len(tapping.events())
    page.evaluate("() => { window.full = false }")
    tapping.tap(".card-do")
    assert tapping.events()[-1]["said"]["text"] == "The floor is wet"


@pytest.mark.slow
def test_a_clock_that_is_set_back_in_the_middle_loses_and_reorders_nothing(
    desk: Desk, open_page: OpenPage
) -> None:
    """The order is the device's own; the time stays its claim."""
    page = open_page(f"{desk.url}/card", width=360)
    tapping = along(page, desk, desk.demo())
    tapping.begin()
    tapping.nothing_read()
    title = tapping.answered("touched")
    page.evaluate(
        """() => { const Real = Date; window.Date = class extends Real {
          constructor(...given) { given.length ? super(...given) : super(0) }
          static now() { return 0 }
        } }"""
    )
    tapping.go("step", str(tapping.events()[-1]["said"]["step"]))
    assert tapping.title() == title
    tapping.answered()
    page.reload()
    events = tapping.events()
    _whole(events)
    assert events[-1]["at"] < events[-2]["at"]
    tapping.go("step", str(events[-1]["said"]["step"]))
    assert "tayed open" in page.locator(".card-given").inner_text()
    _sent(tapping, desk)


@pytest.mark.slow
def test_two_tabs_of_one_device_give_each_number_once(
    desk: Desk, open_page: OpenPage
) -> None:
    page = open_page(f"{desk.url}/card", width=360)
    tapping = along(page, desk, desk.demo())
    tapping.begin()
    other_page = open_page(f"{tapping.url}#/door/{tapping.key}/note", tab=page)
    other = Tapping(other_page, tapping.url, tapping.key)
    for number in range(3):
        for tab in (tapping, other):
            tab.go("note")
            tab.page.fill("[name=text]", str(number))
            tab.tap(".card-do")
    _whole(tapping.events())
    assert tapping.kept() == other.kept() == len(tapping.events()) == 8


# Killed ---------------------------------------------------------------------------


class _Acknowledged:
    """How many taps a page said were kept, told at once whenever it changes."""

    def __init__(self, page: Page) -> None:
        self.most = 0
        page.expose_function("told", self._told)
        page.add_init_script(
            """addEventListener('DOMContentLoaded', () => {
              const card = document.querySelector('#card');
              const tell = () => window.told(Number(card.dataset.kept));
              const what = { attributes: true, attributeFilter: ['data-kept'] };
              new MutationObserver(tell).observe(card, what);
            })"""
        )

    def _told(self, kept: int) -> None:
        self.most = max(self.most, kept)


class _Killable:
    """A browser in processes of its own, which can be killed, all or only its tabs."""

    def __init__(self, browser: Browser, folder: Path) -> None:
        self._kind = browser.browser_type
        self._folder = folder

    def open(self) -> BrowserContext:
        context = self._kind.launch_persistent_context(
            str(self._folder),
            executable_path=chromium(),
            args=["--no-sandbox"],
            viewport={"width": 360, "height": 740},
        )
        context.set_default_timeout(SOON)
        return context

    def tab(self, context: BrowserContext) -> tuple[BrowserContext, Page]:
        """A new tab; in the browser opened anew, where a dead one has left it stuck."""
        stuck = Timer(SOON / 1000, self.kill)
        stuck.start()
        try:
            return context, context.new_page()
        except Error:
            with suppress(Error):
                context.close()
            again = self.open()
            return again, again.new_page()
        finally:
            stuck.cancel()

    def tabs(self) -> list[int]:
        """The processes that show pages."""
        found = self._processes().items()
        return [number for number, line in found if b"--type=renderer" in line]

    def kill_tabs(self, tabs: list[int]) -> None:
        """End what shows pages, as a phone does when it runs short."""
        for number in tabs:
            self._end(number)

    def kill(self) -> None:
        """End all its processes at once, as an empty battery does."""
        for number in self._processes():
            self._end(number)

    def _end(self, number: int) -> None:
        with suppress(ProcessLookupError):
            os.kill(number, signal.SIGKILL)

    def _processes(self) -> dict[int, bytes]:
        """Its own processes, and those that they began."""
        parent: dict[int, int] = {}
        line: dict[int, bytes] = {}
        for one in Path("/proc").glob("[0-9]*"):
            with suppress(OSError):
                line[int(one.name)] = (one / "cmdline").read_bytes()
                stat = (one / "stat").read_text().rpartition(")")[2]
                parent[int(one.name)] = int(stat.split()[1])
        folder = str(self._folder).encode()
        own = {number for number, words in line.items() if folder in words}
        while more := {n for n, above in parent.items() if above in own} - own:
            own |= more
        return {number: line[number] for number in own}


@pytest.fixture
def own_browser(browser: Browser, tmp_path: Path) -> Iterator[_Killable]:
    """A browser with a folder of its own, that can be killed and opened again."""
    one = _Killable(browser, tmp_path / "person")
    yield one
    one.kill()


def _killed_while_tapping(
    own: _Killable, page: Page, tapping: Tapping, seed: int
) -> int:
    """Tap as fast as the page heeds it, and kill the tab at some moment."""
    chance = random.Random(seed)
    acknowledged = _Acknowledged(page)
    page.goto(f"{tapping.url}#/door/{tapping.key}/note")
    page.wait_for_selector("[name=text]")
    page.fill("[name=text]", str(seed))
    page.wait_for_timeout(QUIET)
    tabs = own.tabs()
    later = "ms => setTimeout(() => document.querySelector('.card-do').click(), ms)"
    page.evaluate(later, chance.uniform(0, 25))
    time.sleep(chance.uniform(0, 0.04))
    own.kill_tabs(tabs)
    with suppress(Error):
        page.wait_for_timeout(20)
    with suppress(Error):
        page.close()
    return acknowledged.most


@pytest.mark.parametrize(
    "times", [2, pytest.param(100, marks=pytest.mark.slow)], ids=str
)
def test_no_tap_that_was_acknowledged_is_lost_when_the_tab_is_killed(
    empty_desk: Desk, own_browser: _Killable, times: int
) -> None:
    """Killed at random moments, the server dead all the while; then one visit."""
    context = own_browser.open()
    site = empty_desk.demo()
    tapping = along(context.new_page(), empty_desk, site)
    tapping.begin()
    begun = most = tapping.kept()
    empty_desk.kill()
    for seed in range(times):
        context, page = own_browser.tab(context)
        most = max(most, _killed_while_tapping(own_browser, page, tapping, seed))
    context, page = own_browser.tab(context)
    page.goto(f"{tapping.url}#/door/{tapping.key}")
    page.wait_for_selector("h1")
    again = Tapping(page, tapping.url, tapping.key)
    events = again.events()
    _whole(events)
    told(f"{times} tabs killed: {len(events) - begun} taps kept, {most - begun} told")
    assert len(events) >= most > begun
    assert len({one["visit"] for one in events}) == 1
    empty_desk.start()
    _sent(again, empty_desk)
    own_browser.kill()
    with suppress(Error):
        context.close()


def test_no_tap_that_was_acknowledged_is_lost_when_the_whole_browser_is_killed(
    desk: Desk, own_browser: _Killable
) -> None:
    """Durable means on the disk: the processes die right after the page says so."""
    context = own_browser.open()
    tapping = along(context.new_page(), desk, desk.demo())
    tapping.begin()
    for number in range(3):
        tapping.go("note")
        tapping.page.fill("[name=text]", str(number))
        tapping.tap(".card-do")
        kept = tapping.kept()
        own_browser.kill()
        with suppress(Error):
            context.close()
        context = own_browser.open()
        page = context.new_page()
        page.goto(f"{tapping.url}#/door/{tapping.key}")
        page.wait_for_selector("h1")
        tapping = Tapping(page, tapping.url, tapping.key)
        assert tapping.kept() == len(tapping.events()) == kept
    own_browser.kill()
    with suppress(Error):
        context.close()


# A slow phone ---------------------------------------------------------------------


@pytest.mark.slow
def test_on_a_slow_phone_little_is_fetched_and_a_suggestion_comes_soon(
    desk: Desk, open_page: OpenPage
) -> None:
    """Throttled as a cheap phone on a weak line; times are told, bytes are held."""
    site = desk.demo()
    page = open_page(f"{desk.url}/card", width=360)
    tapping = along(page, desk, site)
    tapping.begin()
    tapping.nothing_read()
    while tapping.screen() == "test" and "place" not in tapping.asked():
        tapping.answered()
    phone = page.context.new_cdp_session(page)
    phone.send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
    took = page.evaluate(
        """() => { const begun = performance.now();
          dispatchEvent(new Event('hashchange'));
          return performance.now() - begun }"""
    )
    told(f"card: next step with its reason after {took:.0f} ms, CPU {SLOWER} x slower")
    fresh = open_page(f"{desk.url}/help", width=360)
    line = fresh.context.new_cdp_session(fresh)
    line.send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
    line.send("Network.enable")
    line.send("Network.emulateNetworkConditions", WEAK)
    came: list[float] = []
    line.on(
        "Network.loadingFinished", lambda one: came.append(one["encodedDataLength"])
    )
    fresh.goto(f"{desk.url}/card", wait_until="commit")
    fresh.wait_for_selector("h1")
    useful = fresh.evaluate("() => performance.now()")
    told(f"card: useful after {useful:.0f} ms, {sum(came) / 1000:.0f} kB")
    assert sum(came) <= MOST_BYTES


# Looked at ------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("size", "theme"),
    [
        pytest.param(size, theme, marks=[pytest.mark.slow] if n else [])
        for n, (size, theme) in enumerate(product(SIZES, THEMES))
    ],
    ids=str,
)
def test_every_screen_can_be_pressed_with_gloves_and_read_by_everybody(
    desk: Desk, open_page: OpenPage, size: tuple[int, int], theme: Theme
) -> None:
    """No target under 48 px, no text under 16 px, nothing that axe finds."""
    page = open_page(f"{desk.url}/card", width=size[0], height=size[1])
    tapping = along(page, desk, desk.demo())
    page.evaluate("theme => { document.documentElement.dataset.theme = theme }", theme)
    wrong = _looked_at(tapping, "start")
    tapping.begin()
    wrong += _looked_at(tapping, "as found")
    tapping.nothing_read()
    assert page.evaluate(WHY) <= page.evaluate(ANSWERS)
    wrong += _looked_at(tapping, "test")
    tapping.answered("touched")
    wrong += _looked_at(tapping, "failed")
    for screen in ("list", "more", "note", "photo", "defect", "hand_over", "readings"):
        tapping.go(screen)
        wrong += _looked_at(tapping, screen)
    tapping.handed_over()
    wrong += _looked_at(tapping, "seal")
    for place in ("#/", "#/settings"):
        page.evaluate("to => { location.hash = to }", place)
        page.wait_for_timeout(QUIET)
        wrong += _looked_at(tapping, place)
    assert not wrong, "\n".join(wrong)


def _looked_at(tapping: Tapping, where: str) -> list[str]:
    # What lies half under the bar is scrolled to before it is pressed.
    tapping.page.evaluate("() => scrollTo(0, document.body.scrollHeight)")
    found = [*tapping.page.evaluate(SMALL), *axe(tapping.page)]
    return [f"{where}: {one}" for one in found]
