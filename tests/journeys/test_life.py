"""A visit is planned at the desk, refused at the door, and found on the time line."""

import json
from hashlib import sha256
from uuid import uuid4

import pytest

from browsing import Desk, OpenPage, axe
from builders.lived import row
from builders.pictures import png
from builders.visit_events import STARTED, name

PICTURE = png(64, 48)
SMALLEST = 48  # px of a target


@pytest.fixture(scope="module")
def site(desk: Desk) -> str:
    """A site whose main door was visited in three years, its row moving outwards."""
    one = desk.demo()
    desk.ask("PUT", f"/visits/photos/{sha256(PICTURE).hexdigest()}", PICTURE)
    for year in range(2023, 2026):
        events = _visit(one, year)
        desk.ask("POST", "/visits/events", json.dumps({"events": events}).encode())
    return one


def _visit(site: str, year: int) -> list[dict[str, object]]:
    visit, phone = str(uuid4()), f"phone-{uuid4()}"
    photo = {
        "name": "guide.png",
        "sha256": sha256(PICTURE).hexdigest(),
        "bytes": len(PICTURE),
        "width": 64,
        "height": 48,
        "of": "Guide",
    }
    said = [
        ("started", STARTED),
        ("as_found", row("60 mm ± 2 mm")),
        ("reading", row("54 mm ± 2 mm")),
        ("photo", photo),
        ("defect", {"text": f"Guide loose in {year}"}),
        ("handed_over", {"state": "out of use"}),
    ]
    return [
        {
            "id": name(phone, seq),
            "device": phone,
            "seq": seq,
            "visit": visit,
            "site": site,
            "doorway": "main",
            "at": f"{year}-11-20T10:{seq:02}:00Z",
            "kind": kind,
            "said": told,
        }
        for seq, (kind, told) in enumerate(said, 1)
    ]


def test_a_visit_is_planned_refused_and_stands_on_the_time_line(
    desk: Desk, open_page: OpenPage, site: str
) -> None:
    page = open_page(f"{desk.url}/sites/{site}/doorways/main/life", width=360)
    page.get_by_text("Plan a visit", exact=True).click()
    form = page.locator("form[action$='/life/plan']")
    form.get_by_label("Day").fill("2027-03-17")
    form.get_by_label("Who comes").fill("M. Lind")
    form.get_by_label("Who says so").fill("R. Okafor")
    form.get_by_role("button").click()
    thing = page.locator(".life-thing", has_text="2027-03-17: Check")
    thing.locator("summary", has_text="Refused").click()
    form = thing.locator("form[action$='/refused']")
    form.get_by_label("Who refused").fill("A. Keeper")
    form.get_by_label("Why").fill("Fair in the hall")
    form.get_by_label("Who says so").fill("R. Okafor")
    form.get_by_role("button").click()
    entry = page.locator(".life-entry", has_text="refused by A. Keeper")
    assert "Fair in the hall" in entry.inner_text()
    page.get_by_role("navigation").get_by_text("Planned").click()
    assert page.locator(".life-entry").count() == 2


@pytest.mark.parametrize(
    ("width", "theme"),
    [(360, "slate"), pytest.param(1440, "paper", marks=pytest.mark.slow)],
)
def test_the_life_of_a_door_shuts_nobody_out(
    desk: Desk, open_page: OpenPage, site: str, width: int, theme: str
) -> None:
    page = open_page(
        f"{desk.url}/sites/{site}/doorways/main/life", width=width, theme=theme
    )
    # One of each kind: all forms of a kind are alike.
    for one in (
        ".life-thing:first-child summary",
        "section > .life-form > summary",
        ".life-figures > summary",
    ):
        for each in page.locator(one).all():
            each.click()
    assert not axe(page)
    assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0
    assert page.locator(".life-picture svg:visible").count() == 1
    assert "Grows by" in page.locator(".life-drifts").inner_text()
    photo = page.locator(".life-photos img").first
    photo.scroll_into_view_if_needed()
    photo.evaluate("one => one.decode()")
    assert photo.evaluate("one => one.naturalWidth > 0")
    if width > 400:
        return
    targets = page.locator("main :is(button, summary, input, select, .act)")
    boxes = [one.bounding_box() for one in targets.all() if one.is_visible()]
    assert min(box["height"] for box in boxes if box) >= SMALLEST - 2.5
