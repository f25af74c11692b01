"""Two phones contradict each other; a person reads it, chooses, and takes it back."""

import json
from hashlib import sha256
from typing import Any
from uuid import uuid4

import pytest

from browsing import LOOKS, Desk, OpenPage, Theme, axe
from builders.pictures import png
from builders.visit_events import STARTED, name, raw, step

PICTURE = png(64, 48)
OF_PICTURE = {
    "name": "guide.png",
    "sha256": sha256(PICTURE).hexdigest(),
    "bytes": len(PICTURE),
    "width": 64,
    "height": 48,
    "of": "Guide",
}
ROW = {"kind": "row line", "out": "71 mm", "along": "0 mm", "row": 1}
STROKES = [[[10, 60], [30, 20], [50, 70]], [[70, 30], [90, 60]]]
SMALLEST = 48  # px of a target


@pytest.fixture(scope="module")
def site(desk: Desk) -> str:
    return desk.demo()


@pytest.fixture
def visit(desk: Desk, site: str) -> str:
    """Address of a visit that two phones made at the main door."""
    which = str(uuid4())
    one, other = f"one-{which}", f"other-{which}"

    def event(phone: str, seq: int, kind: str, said: dict[str, Any]) -> dict[str, Any]:
        return raw(phone, seq, kind, said, site=site, visit=which)

    own = [
        ("started", STARTED),
        ("precaution", {"step": "barrier"}),
        ("as_found", {"fitting": "inside", "reading": ROW}),
        ("step", step("touched", "box.left")),
        ("step", step("stayed open", "box.left")),
        ("step", step("cannot", "box.lying")),
        ("photo", OF_PICTURE),
        ("defect", {"text": "Guide loose", "told": "A. Keeper"}),
        ("note", {"text": "Slip"}),
        ("undone", {"event": name(one, 9)}),
        (
            "handed_over",
            {"state": "out of use", "told": "A. Keeper", "signature": STROKES},
        ),
    ]
    events = [event(one, seq, *said) for seq, said in enumerate(own, 1)]
    events.append(event(other, 1, "started", STARTED | {"person": "M. Lind"}))
    events.append(event(other, 2, "step", step("lamp only", "box.left")))
    desk.ask("PUT", f"/visits/photos/{OF_PICTURE['sha256']}", PICTURE)
    desk.ask("POST", "/visits/events", json.dumps({"events": events}).encode())
    return f"/sites/{site}/doorways/main/visits/{which}"


@pytest.mark.parametrize(("width", "theme"), LOOKS)
def test_the_pages_of_visits_shut_nobody_out(
    desk: Desk, open_page: OpenPage, site: str, visit: str, width: int, theme: Theme
) -> None:
    page = open_page(desk.url + visit, width=width, theme=theme)
    page.locator("summary").last.click()
    found = axe(page)
    for path in (f"/sites/{site}/visits", f"/sites/{site}/doorways/main/visits"):
        page.goto(desk.url + path)
        found += axe(page)
        wide = page.evaluate("document.documentElement.scrollWidth - innerWidth")
        assert wide <= 0
    assert not found, "\n".join(found)


def test_what_is_tapped_on_is_large_enough_on_a_phone(
    desk: Desk, open_page: OpenPage, visit: str
) -> None:
    page = open_page(desk.url + visit, width=360)
    targets = page.locator(
        "main :is(button, summary, .visit-choices label, input[type=text])"
    )
    boxes = [one.bounding_box() for one in targets.all() if one.is_visible()]
    assert len(boxes) >= 5
    assert min(one["height"] for one in boxes if one) >= SMALLEST - 0.5
    letters = page.evaluate(
        """() => Math.min(
            ...[...document.querySelectorAll('main :is(p, li, label, td)')]
            .filter((one) => one.checkVisibility())
            .map((one) => parseFloat(getComputedStyle(one).fontSize)))"""
    )
    assert letters >= 14


@pytest.mark.parametrize("javascript", [True, False], ids=["script", "no script"])
def test_a_person_chooses_and_takes_the_choice_back(
    desk: Desk, open_page: OpenPage, visit: str, javascript: bool
) -> None:
    page = open_page(desk.url + visit, width=360, javascript=javascript)
    asked = page.get_by_role("region", name="To be settled")
    assert "phone 2 (M. Lind)" in asked.inner_text()
    asked.get_by_role("radio", name="lamp only").check()
    asked.get_by_label("Who decides").fill("R. Okafor")
    asked.get_by_role("button", name="Let the chosen one stand").click()
    page.get_by_role("heading", name="Settled").wait_for()
    tested = page.locator(".findings").first.inner_text()
    assert "lamp only" in tested
    assert page.get_by_role("region", name="To be settled").count() == 0
    page.get_by_role("button", name="Take this choice back").click()
    page.get_by_role("region", name="To be settled").wait_for()


def test_the_pages_lead_from_doorway_to_visit_and_back(
    desk: Desk, open_page: OpenPage, site: str, visit: str
) -> None:
    page = open_page(f"{desk.url}/sites/{site}/doorways/main")
    page.get_by_role("link", name="Visits", exact=True).click()
    page.locator(f'a[href="{visit}"]').click()
    page.get_by_role("img", name="Signature of A. Keeper").wait_for()
    photo = page.get_by_role("img", name="Photo: Guide")
    photo.scroll_into_view_if_needed()
    page.wait_for_function(
        "document.querySelector('.visit-photos img').naturalWidth === 64"
    )
    page.get_by_role("link", name="Visits", exact=True).click()
    page.get_by_role("heading", name="Visits:").wait_for()
