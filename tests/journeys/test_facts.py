"""What nobody stated is answered in place; each figure says where it comes from."""

import pytest
from playwright.sync_api import expect

from browsing import LOOKS, Desk, OpenPage, Theme, axe


def test_an_unknown_is_answered_in_place_and_can_be_undone(
    desk: Desk, open_page: OpenPage
) -> None:
    site = desk.demo()
    page = open_page(
        f"{desk.url}/sites/{site}/doorways/escape/facts", expected={422}, width=360
    )
    entry = page.locator("#f-fitting-0-read-first_row-open")
    entry.fill("12 x")
    page.locator("#f-fitting-0-read-first_row-open-save").press("Enter")
    page.locator("#f-fitting-0-read-first_row-open-fault").wait_for()
    assert entry.input_value() == "12 x"
    entry.fill("60")
    page.locator("#f-fitting-0-read-first_row-open-save").press("Enter")
    page.get_by_text("Nothing waits for it any more.").wait_for()
    assert 'read = { first_row = "60 mm"' in desk.text(site)
    page.locator("#facts-undo").press("Enter")
    page.wait_for_function("() => document.querySelector('#facts-undo').disabled")
    assert 'first_row = "60 mm"' not in desk.text(site)


def test_a_thing_is_described_by_keyboard_alone(
    desk: Desk, open_page: OpenPage
) -> None:
    site = desk.demo()
    page = open_page(f"{desk.url}/sites/{site}/doorways/main/facts#p-thing")
    name = page.locator("[name='thing.1.name']")
    name.wait_for()
    typed = ("plant", "inside", "1000", "300", "400", "400", "900")
    keys = ("name", "side", "along", "out", "width", "depth", "height")
    for key, value in zip(keys, typed, strict=True):
        field = page.locator(f"[name='thing.1.{key}']")
        field.focus()
        page.keyboard.type(value)
    page.locator("#p-thing-1-save").press("Enter")
    page.get_by_text("Thing: plant").first.wait_for()
    assert 'name = "plant"\nside = "inside"\nalong = "1000 mm"' in desk.text(site)


@pytest.mark.parametrize(
    "theme", ["slate", pytest.param("paper", marks=pytest.mark.slow)]
)
def test_a_figure_says_where_it_comes_from(
    desk: Desk, open_page: OpenPage, theme: Theme
) -> None:
    where = f"{desk.url}/sites/{desk.demo()}/doorways/main"
    page = open_page(where, theme=theme, width=360)
    asks = page.locator("a[data-origin]").first
    asked = asks.get_attribute("href")
    asks.press("Enter")
    page.get_by_text("Held against").wait_for()
    assert "EN 16005" in page.locator("[data-origin-dialog]").inner_text()
    assert not axe(page)
    page.keyboard.press("Escape")
    # The line may have been written anew: what has the focus leads to the same.
    back = page.wait_for_function("() => document.activeElement.href || null")
    assert back.json_value().endswith(str(asked))


@pytest.mark.parametrize("javascript", [True, False])
def test_a_fact_that_was_asked_about_is_where_all_facts_open(
    desk: Desk, open_page: OpenPage, *, javascript: bool
) -> None:
    """Its part is open, its name and its field are in sight."""
    where = f"{desk.url}/sites/{desk.demo()}/doorways/main"
    page = open_page(
        f"{where}/origins?key=fitting%5Boutside%5D.settings.tilt",
        width=360,
        javascript=javascript,
    )
    page.get_by_role("link", name="Change it").click()
    fact = page.locator(".fact:has(#f-fitting-0-settings-tilt)")
    expect(fact.locator("label")).to_be_in_viewport()
    expect(fact.locator("input")).to_be_in_viewport()
    if javascript:
        expect(fact.locator("input")).to_be_focused()


@pytest.mark.parametrize(("width", "theme"), LOOKS)
def test_facts_and_versions_can_be_read_by_everybody(
    desk: Desk, open_page: OpenPage, width: int, theme: Theme
) -> None:
    site = desk.demo()
    for path in ("doorways/escape/facts", "history", "history/1"):
        page = open_page(f"{desk.url}/sites/{site}/{path}", theme=theme, width=width)
        page.evaluate(
            "document.querySelectorAll('details').forEach(d => d.open = true)"
        )
        assert not axe(page)
        wide = "document.documentElement.scrollWidth"
        assert page.evaluate(wide) <= page.viewport_size["width"]  # pyright: ignore[reportOptionalSubscript]
