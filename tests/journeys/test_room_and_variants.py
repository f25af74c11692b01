"""The room at each place by keys; two variants side by side, one taken and undone."""

import pytest
from playwright.sync_api import Page

from browsing import Desk, OpenPage, axe, rested

pytestmark = pytest.mark.slow

PATH = "presence.leaf_path~~upright"
READY = ".map-layer:not([data-stale])"


def _mapped(page: Page) -> str:
    """Wait for the finest map; what is said of the place with least room."""
    page.wait_for_selector(READY)
    page.wait_for_selector("[data-map-state]:empty", state="attached")
    return page.locator(".map-tip").inner_text()


def test_the_room_at_each_place_is_found_by_keys(
    desk: Desk, open_page: OpenPage
) -> None:
    where = f"{desk.url}/sites/{desk.demo()}/doorways/staff?finding={PATH}"
    page = open_page(where)
    page.locator("label", has=page.locator("[name=view][value=room]")).click()
    least = _mapped(page)
    assert least.startswith("Least room:")
    layer = page.locator(".map-layer")
    layer.focus()
    for key in ("Home", "ArrowUp", "ArrowUp"):
        layer.press(key)
    page.wait_for_selector(".map-tip:not(:text-is('" + least + "'))")
    assert "post" in page.locator(".map-tip").inner_text()
    assert axe(page) == []
    page.locator("[data-map-words] summary").click()
    assert "to spare" in page.locator("[data-map-stretches]").inner_text()


@pytest.mark.slow
def test_the_map_is_of_a_moment_ago_while_a_setting_is_turned(
    desk: Desk, open_page: OpenPage
) -> None:
    site = desk.demo()
    page = open_page(f"{desk.url}/sites/{site}/doorways/staff?view=room&finding={PATH}")
    before = _mapped(page)
    slider = page.locator("[data-knob][name='fitting[outside].settings.tilt']")
    slider.focus()
    for _ in range(12):
        slider.press("ArrowRight")
    page.wait_for_selector(".map-layer[data-stale]")
    rested(page)
    assert _mapped(page) != before


def test_two_variants_stand_side_by_side_and_one_is_taken_and_undone(
    desk: Desk, open_page: OpenPage
) -> None:
    site = desk.demo()
    page = open_page(f"{desk.url}/sites/{site}/doorways/main")
    page.locator(".variants > summary").click()
    page.locator("#variant-name").fill("As found")
    page.get_by_role("button", name="Keep this as a variant").click()
    page.wait_for_selector(".variants .site-name:text-is('As found')")
    page.locator("[data-try]").click()
    rested(page)
    after = desk.text(site)
    page.get_by_role("link", name="Compare As found").click()
    page.wait_for_selector(".compare-two .limen-drawing")
    assert axe(page) == []
    assert page.locator(".compare-table").first.locator("tbody tr").count() == 2
    page.get_by_role("button", name="Take this one").click()
    page.wait_for_url(f"**/sites/{site}/doorways/main")
    assert 'tilt = "-1.3 deg"' in desk.text(site)
    page.locator("[data-step=undo]").click()
    rested(page)
    assert desk.text(site) == after
