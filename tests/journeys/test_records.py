"""A visit is sealed on its page, taken along as a file, and checked by its reader."""

import json
from pathlib import Path
from uuid import uuid4

import pytest
from playwright.sync_api import Page, expect

from browsing import THEMES, WIDTHS, Desk, OpenPage, Theme, axe
from builders.records import events
from limen.desk import keys

SECRET = "three grey herons"  # noqa: S105 - opens keys of these journeys alone
UNREADY = 422


def _visited(desk: Desk) -> str:
    """Address of a visit that was tapped to its end, at a desk that can seal."""
    if not (desk.home / "keys").exists():
        keys.begin(desk.home / "keys", "Weir & Söhne", "Desk 1", lambda _: SECRET)
    site, visit, phone = desk.demo("corrected"), str(uuid4()), f"phone-{uuid4()}"
    told = [
        {**one, "id": str(uuid4()), "device": phone, "visit": visit, "site": site}
        for one in events("staff")
        if one["kind"] != "undone"
    ]
    for seq, one in enumerate(told, 1):
        one["seq"] = seq
    body = json.dumps({"events": told}).encode()
    desk.ask("POST", "/visits/events", body, Content_Type="application/json")
    return f"{desk.url}/sites/{site}/doorways/staff/visits/{visit}"


def _seal(page: Page, secret: str) -> None:
    page.get_by_label("The passphrase of the keys").fill(secret)
    page.get_by_role("button", name="Seal this visit").click()


@pytest.mark.parametrize("javascript", [True, False])
def test_a_visit_is_sealed_and_its_paper_checked_by_whoever_is_given_it(
    desk: Desk, open_page: OpenPage, tmp_path: Path, javascript: bool
) -> None:
    address = _visited(desk)
    page = open_page(address, width=360, javascript=javascript, expected={UNREADY})
    _seal(page, "three grey geese")
    expect(page.get_by_text("this passphrase does not open the key")).to_be_visible()
    page.get_by_role("link", name="Back to the visit").first.click()
    _seal(page, SECRET)
    expect(page.get_by_role("heading", name="Record 1")).to_be_visible()
    expect(page.get_by_role("button", name="Seal this visit")).to_have_count(0)
    with page.expect_download() as begun:
        page.get_by_role("link", name="PDF").click()
    file = tmp_path / begun.value.suggested_filename
    begun.value.save_as(file)
    assert file.name == "record-0001-staff.pdf"
    checked = open_page(f"{desk.url}/verify", width=360)
    checked.wait_for_selector("[data-checks=here]")
    checked.set_input_files("[data-verify-files]", file)
    result = checked.locator(".verify-result")
    expect(result).to_contain_text("Unchanged since it was sealed by “Desk 1”")


@pytest.mark.parametrize(
    ("width", "theme"),
    [
        (WIDTHS[0], THEMES[1]),
        pytest.param(WIDTHS[-1], THEMES[0], marks=pytest.mark.slow),
    ],
)
def test_sealing_is_read_by_everybody(
    desk: Desk, open_page: OpenPage, width: int, theme: Theme
) -> None:
    page = open_page(_visited(desk), width=width, theme=theme)
    assert axe(page) == []
    _seal(page, SECRET)
    expect(page.get_by_role("heading", name="Record 1")).to_be_visible()
    assert axe(page) == []
    page.goto(page.url.partition("/visits/")[0] + "/visits")
    expect(page.get_by_role("heading", name="Records")).to_be_visible()
    assert axe(page) == []
    wide = page.evaluate("document.documentElement.scrollWidth - innerWidth")
    assert wide <= 0
