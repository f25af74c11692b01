"""A fault on its way: the owner's page, the mail, the desk; without scripts too."""

import re
from importlib.resources import files
from pathlib import Path
from urllib.parse import parse_qs, urlsplit

import pytest

from browsing import THEMES, Desk, OpenPage, Theme, axe

STATED = files("limen").joinpath("demo", "alder-quay-corrected.toml").read_text("utf-8")
DEMO = re.sub(r"(?m)^faults = .*\n", "", STATED)
"""The invented building, without the addresses that it states."""
TO = '[faults]\nmail = "doors@firm.example"\nphone = "+00 555 0142"\n\n[[doorway]]'
SMALLEST = 48  # px of a target


@pytest.fixture(scope="module")
def door(desk: Desk) -> str:
    """Address of a doorway of a site that states where faults are told."""
    text = DEMO.replace("[[doorway]]", TO, 1).replace("Alder Quay", "Owner Quay", 1)
    return f"/sites/{desk.add(text)}/doorways/main"


def test_a_fault_goes_from_the_page_by_mail_to_the_desk(
    desk: Desk, open_page: OpenPage, door: str
) -> None:
    page = open_page(
        desk.url + door + "/owner", width=360, touch=True, javascript=False
    )
    link = page.locator(".owner-do").get_attribute("href") or ""
    mail = parse_qs(urlsplit(link).query)["body"][0]
    mail = mail.replace("What does the door do?", "What does the door do? stays open")
    mail = mail.replace("Was anybody struck?", "Was anybody struck? no")
    page.goto(desk.url + door + "/report")
    page.locator("summary", has_text="mail").click()
    page.locator("#mail").fill(mail.replace("\r\n", "\n"))
    page.get_by_role("button", name="Read it").click()
    assert page.locator('input[value="stays-open"]').is_checked()
    page.locator('input[name="struck"][value="no"]').check()
    page.get_by_role("button", name="Keep it").click()
    page.wait_for_url(re.compile(r"/report/[0-9a-f-]{36}$"))
    page.get_by_role("link", name="Look for the cause").click()
    page.wait_for_url(re.compile(r"/trace\?does=stays-open$"))


@pytest.mark.parametrize("theme", THEMES)
def test_owner_s_page_and_report_shut_nobody_out(
    desk: Desk, open_page: OpenPage, door: str, tmp_path: Path, theme: Theme
) -> None:
    page = open_page(desk.url + door + "/owner", width=360, theme=theme, touch=True)
    file = tmp_path / "owner.html"
    file.write_bytes(desk.ask("GET", f"{door}/owner.html"))
    found = axe(page)
    for address in (f"{desk.url}{door}/report", file.as_uri()):
        page.goto(address)
        found += axe(page)
        wide = page.evaluate("document.documentElement.scrollWidth - innerWidth")
        assert wide <= 0
    for one in page.locator(".owner-tick, .owner-do, .owner-act").all():
        box = one.bounding_box()
        assert box
        assert box["height"] >= SMALLEST
    assert not found, "\n".join(found)
