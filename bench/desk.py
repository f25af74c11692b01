"""The planning desk: how long one waits, on this machine.

Times are of a real server on its port.  The browser's are what the page itself
measures, from a pointer that moves to the witness drawn anew.  `--browser` off leaves
Chromium out.
"""

import http.client
import json
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from statistics import median, quantiles
from time import perf_counter

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))

from playwright.sync_api import Browser, sync_playwright

from browsing import Desk, chromium, person, rested, running
from limen.store.starter import starter_text

TIMES = 200
MANY = 500
SLOW_LINE = 1_600_000 / 8  # bytes a second
ROUND_TRIP = 40  # ms
TILT = "fitting[outside].settings.tilt"


def main() -> None:
    """Measure, and print a table."""
    with running(Path(tempfile.mkdtemp())) as desk:
        site = desk.demo()
        door = f"/sites/{site}/doorways/main"
        empty = _waits(desk, TIMES, lambda line, _: _asked(line, "/static/icon.svg"))
        drag = _waits(desk, TIMES, lambda line, turn: _turned(desk, line, door, turn))
        _told("an empty request", empty)
        _told("a setting that is turned: findings and drawing", drag, empty)
        if "--no-browser" not in sys.argv:
            with _browser() as browser:
                _told("pointer moved to witness redrawn", _redrawn(browser, desk, door))
                _first_load(browser, desk, door)
        _long_list(desk)


def _told(what: str, waits: list[float], against: list[float] | None = None) -> None:
    late = quantiles(waits, n=20)[-1]
    ratio = f"  {median(waits) / median(against):6.1f} empty" if against else ""
    print(f"{what:52s} median {median(waits):7.1f} ms  p95 {late:7.1f} ms{ratio}")


# The server ---------------------------------------------------------------------


def _waits(
    desk: Desk, times: int, ask: Callable[[http.client.HTTPConnection, int], None]
) -> list[float]:
    """How long each of some requests takes on one open line (ms)."""
    line = http.client.HTTPConnection(desk.url.removeprefix("http://"), timeout=60)
    took: list[float] = []
    for turn in range(times + 20):
        since = perf_counter()
        ask(line, turn)
        took.append((perf_counter() - since) * 1000)
    line.close()
    return took[20:]  # the first ones warm it up


def _asked(line: http.client.HTTPConnection, path: str) -> None:
    line.request("GET", path, headers={"Accept": "text/html"})
    reply = line.getresponse()
    reply.read()
    assert reply.status == 200, (path, reply.status)


def _turned(desk: Desk, line: http.client.HTTPConnection, door: str, turn: int) -> None:
    sent = {
        "version": 1,
        "edits": {TILT: f"{-3 + turn % 60 / 10:.1f} deg"},
        "rests": False,
        "view": "plan",
        "unit": "outside",
        "width": 1000,
    }
    headers = {
        "Content-Type": "application/json",
        "Limen-Desk": "1",
        "Origin": desk.url,
    }
    line.request("POST", f"{door}/preview", json.dumps(sent), headers)
    reply = line.getresponse()
    said = json.loads(reply.read())
    assert reply.status == 200, said


def _long_list(desk: Desk) -> None:
    """Many sites, all studied; the list after the server was started anew."""
    for _ in range(MANY - 1):
        desk.add(starter_text())
    line = http.client.HTTPConnection(desk.url.removeprefix("http://"), timeout=60)
    for one in desk.json("/sites"):
        _asked(line, f"/sites/{one['id']}/row")
    line.close()
    desk.kill()
    desk.start()
    _told(f"the list of {MANY} sites, after a start", _waits(desk, 20, _listed))


def _listed(line: http.client.HTTPConnection, _: int) -> None:
    _asked(line, "/")


# The browser --------------------------------------------------------------------


@contextmanager
def _browser() -> Iterator[Browser]:
    with sync_playwright() as driver:
        started = driver.chromium.launch(
            executable_path=chromium(), args=["--no-sandbox"]
        )
        yield started
        started.close()


def _redrawn(browser: Browser, desk: Desk, door: str) -> list[float]:
    """What the page measures while its outside unit is dragged."""
    page = person(browser, desk.url).new_page()
    page.goto(desk.url + door)
    rested(page)
    box = page.locator(".drawing[data-view=plan] [data-grip=outside]").bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    for step in range(TIMES):
        page.mouse.move(x + step % 100, y)
        page.wait_for_timeout(20)
    page.mouse.up()
    rested(page)
    took = page.evaluate(
        "performance.getEntriesByName('limen:redrawn').map(one => one.duration)"
    )
    page.context.close()
    return took


def _first_load(browser: Browser, desk: Desk, door: str) -> None:
    """Until the doorway page can be read, and until it can be used, on a slow line."""
    context = person(browser, desk.url)
    page = context.new_page()
    line = context.new_cdp_session(page)
    line.send("Network.enable")
    line.send(
        "Network.emulateNetworkConditions",
        {
            "offline": False,
            "latency": ROUND_TRIP,
            "downloadThroughput": SLOW_LINE,
            "uploadThroughput": SLOW_LINE,
        },
    )
    since = perf_counter()
    page.goto(desk.url + door, wait_until="commit")
    page.locator(".next-do").wait_for()
    read = perf_counter() - since
    page.locator("input[data-knob]").first.wait_for()
    page.wait_for_load_state("load")
    print(
        f"first load at 1.6 Mbit/s: read after {read:.2f} s, "
        f"used after {perf_counter() - since:.2f} s, {_fetched(page) / 1000:.0f} kB"
    )
    context.close()


def _fetched(page: object) -> int:
    """Bytes that went over the line."""
    return page.evaluate(  # pyright: ignore[reportAttributeAccessIssue]
        "[...performance.getEntriesByType('navigation'),"
        " ...performance.getEntriesByType('resource')]"
        ".reduce((sum, one) => sum + one.transferSize, 0)"
    )


if __name__ == "__main__":
    main()
