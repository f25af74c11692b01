"""Two tabs at one doorway: the second is shown both versions, and nothing is lost."""

import pytest
from playwright.sync_api import Page

from browsing import Desk, OpenPage, rested

pytestmark = pytest.mark.slow

TILT = "fitting[outside].settings.tilt"
YAW = "fitting[outside].settings.yaw"


def _typed(page: Page, key: str, value: str) -> None:
    entry = page.locator(f".knob:has([name='{key}']) [data-knob-entry]")
    entry.fill(value)
    entry.press("Enter")


@pytest.mark.parametrize(
    "keep", ["mine", pytest.param("theirs", marks=pytest.mark.slow)]
)
def test_the_second_of_two_tabs_chooses(
    desk: Desk, open_page: OpenPage, keep: str
) -> None:
    site = desk.demo()
    where = f"{desk.url}/sites/{site}/doorways/main"
    first = open_page(where)
    second = open_page(where, tab=first, expected={412})
    _typed(first, TILT, "-2.1")
    rested(first)
    _typed(second, TILT, "-2.9")
    second.wait_for_selector(".kept[data-state=clash]")
    shown = second.locator("[data-clash]").inner_text()
    assert "2.1" in shown
    assert "2.9" in shown
    second.locator(f"[data-clash-keep={keep}]").click()
    rested(second)
    kept, other = ("-2.9", "-2.1") if keep == "mine" else ("-2.1", "-2.9")
    assert f'tilt = "{kept} deg"' in desk.text(site).replace("°", " deg")
    assert f'tilt = "{other} deg"' not in desk.text(site)
    assert desk.json(f"/sites/{site}")["version"] == (3 if keep == "mine" else 2)


def test_a_tab_that_set_nothing_shows_what_the_other_saved(
    desk: Desk, open_page: OpenPage
) -> None:
    where = f"{desk.url}/sites/{desk.demo()}/doorways/main"
    first = open_page(where)
    second = open_page(where, tab=first)
    _typed(first, TILT, "-2.2")
    rested(first)
    second.locator("label", has=second.locator("[name=view][value=front]")).click()
    entry = second.locator(f".knob:has([name='{TILT}']) [data-knob-entry]")
    second.wait_for_function(
        "one => one.value.includes('2.2')", arg=entry.element_handle()
    )
