"""A door was called to: its page says which tests are owed, and the card asks them."""

import json
from typing import Any
from uuid import uuid4

import pytest
from playwright.sync_api import expect

from browsing import THEMES, Desk, OpenPage, axe
from browsing.card import SMALL, Tapping
from builders.visit_events import STARTED, raw
from limen.desk import keys

SECRET = "three grey herons"  # noqa: S105 - opens keys of these journeys alone
TURNED = 'reach = "100 %"', 'reach = "80 %"'
ROW = {"kind": "row line", "out": "64 mm", "along": "0 mm", "row": 1}


def _door(desk: Desk) -> str:
    """Address of a doorway that was sealed with all tests made, and turned since."""
    if not (desk.home / "keys").exists():
        keys.begin(desk.home / "keys", "Weir & Söhne", "Desk 1", lambda _: SECRET)
    site, visit, phone = desk.demo("corrected"), str(uuid4()), f"phone-{uuid4()}"
    door = f"/sites/{site}/doorways/main"
    stored = desk.json(f"/sites/{site}")
    pack = desk.json(f"{door}/card.json")
    least = [one["id"] for one in pack["tests"] if one["minimum"]]
    begun = STARTED | {"digest": pack["digest"], "version": pack["version"]}
    said: list[tuple[str, dict[str, Any]]] = [
        ("started", begun),
        ("reading", {"fitting": "inside", "reading": ROW}),
        *(("step", {"step": one, "answer": "stayed open"}) for one in least),
        ("handed_over", {"state": "in use"}),
    ]
    events = [
        raw(phone, seq, kind, told, site=site, visit=visit)
        for seq, (kind, told) in enumerate(said, 1)
    ]
    body = json.dumps({"events": events}).encode()
    desk.ask("POST", "/visits/events", body, Content_Type="application/json")
    form = f"passphrase={SECRET.replace(' ', '+')}".encode()
    kind = "application/x-www-form-urlencoded"
    desk.ask("POST", f"{door}/visits/{visit}/record", form, Content_Type=kind)
    text = desk.ask("GET", f"/sites/{site}/site.toml").decode()
    turned = text.replace(*TURNED, 1).encode()
    desk.ask(
        "PUT",
        f"/sites/{site}/text",
        turned,
        Content_Type="application/toml",
        If_Match=f'"{stored["version"]}"',
    )
    return door


@pytest.mark.slow
def test_what_is_owed_is_read_and_taken_along(desk: Desk, open_page: OpenPage) -> None:
    door = _door(desk)
    page = open_page(desk.url + f"{door}/visits", width=360, theme=THEMES[1])
    page.get_by_role("link", name="What changed").click()
    expect(page.get_by_text("the reach of unit outside was set")).to_be_visible()
    expect(page.get_by_text("Walk in from aside, outside")).to_be_visible()
    wrong = axe(page)
    wide = page.evaluate("document.documentElement.scrollWidth - innerWidth")
    assert wide <= 0
    page.get_by_role("link", name="Take these tests along").click()
    page.wait_for_selector("main[data-screen=start]")
    site = door.split("/")[2]
    tapping = Tapping(page, f"{desk.url}/card", f"{site}/main")
    tapping.begin()
    tapping.go("as_found")
    page.fill("[name=out]", "110")
    page.fill("[name=place]", "1000")
    page.check("[name=unit][value=inside]", force=True)
    page.check("[name=row][value='1']", force=True)
    tapping.tap(".card-do")
    expect(page.get_by_text("moved 46 mm")).to_be_visible()
    wrong += [*page.evaluate(SMALL), *axe(page)]
    tapping.go("list")
    marked = page.locator(".card-line", has_text="owed").all_inner_texts()
    assert any("Walk in from aside, outside" in one for one in marked)
    assert any("Box upright in the middle" in one for one in marked)
    assert not any("plug" in one for one in marked)
    tapping.go("step", "box.left")
    expect(page.get_by_text("Owed because this was found otherwise")).to_be_visible()
    assert not wrong, "\n".join(wrong)
