"""A sheet typed from a manual, changed, handed out and in again."""

from pathlib import Path

import pytest
from playwright.sync_api import Page

from browsing import LOOKS, Desk, OpenPage, Theme, axe
from limen.desk.sheets import sheets

pytestmark = pytest.mark.slow

TWO_ROW = next(one.text for one in sheets("two-row"))


def _fill(page: Page, **fields: str) -> None:
    for key, value in fields.items():
        page.fill(f"[name='{key.replace('__', '.')}']", value)


def test_a_sheet_is_typed_from_a_manual(desk: Desk, open_page: OpenPage) -> None:
    page = open_page(desk.url + "/sheets", width=360, expected={422})
    page.click("text=Type one from a manual")
    _fill(
        page,
        **{"as": "north-unit"},
        name="North unit",
        presence__rows__1__angle="0",
        presence__rows__1__spots="24",
        presence__tilt__least="-6",
        presence__tilt__most="6 deg",
    )
    page.select_option("[name='presence.fan.form']", "unknown")
    page.click("button[value='more:presence.rows']")
    page.wait_for_selector("[name='presence.rows.2.angle']")
    _fill(page, presence__rows__2__angle="5", presence__rows__2__spots="1")
    page.press("[name='presence.rows.2.spots']", "Enter")
    page.wait_for_selector("[id='f-presence.rows.2.spots-fault']")
    assert page.input_value("[name='presence.rows.2.angle']") == "5"
    assert not axe(page)
    _fill(page, presence__rows__2__spots="20")
    page.click(".sheet-keep button")
    page.wait_for_url("**/sheets/north-unit")
    assert "2 rows, 24 + 20 spots" in page.inner_text("main").replace("\xa0", " ")
    page.goto(desk.url + "/survey")
    assert page.locator("[name=unit_outside] option[value=north-unit]").count() == 1


def test_a_sheet_that_is_being_typed_outlives_a_reload(
    desk: Desk, open_page: OpenPage
) -> None:
    page = open_page(desk.url + "/sheets/new", width=360)
    _fill(page, **{"as": "half-typed"}, presence__rows__1__angle="3")
    page.click("button[value='more:presence.rows']")
    page.wait_for_selector("[name='presence.rows.2.angle']")
    _fill(page, presence__rows__2__angle="7")
    page.reload()
    page.wait_for_selector("[data-sheet-before]:not([hidden])")
    assert page.input_value("[name='as']") == "half-typed"
    assert page.input_value("[name='presence.rows.1.angle']") == "3"
    assert page.input_value("[name='presence.rows.2.angle']") == "7"
    assert not axe(page)
    again = open_page(desk.url + "/sheets/new", tab=page)
    again.wait_for_selector("[data-sheet-before]:not([hidden])")
    again.click("[data-sheet-anew]")
    again.wait_for_function("!document.querySelector(\"[name='as']\").value")
    assert again.locator("[data-sheet-before]").is_hidden()
    assert again.locator("[name='presence.rows.2.angle']").count() == 0


def test_a_sheet_that_was_kept_is_not_brought_back(
    desk: Desk, open_page: OpenPage
) -> None:
    page = open_page(desk.url + "/sheets/new", width=360)
    _fill(
        page,
        **{"as": "kept-unit"},
        name="Kept unit",
        presence__rows__1__angle="0",
        presence__rows__1__spots="24",
        presence__tilt__least="-6",
        presence__tilt__most="6",
    )
    page.select_option("[name='presence.fan.form']", "unknown")
    page.click(".sheet-keep button")
    page.wait_for_url("**/sheets/kept-unit")
    page.goto(desk.url + "/sheets/new")
    assert page.input_value("[name='as']") == ""
    assert page.locator("[data-sheet-before]").is_hidden()


def test_a_file_goes_in_and_comes_out_the_same(
    desk: Desk, open_page: OpenPage, tmp_path: Path
) -> None:
    file = tmp_path / "south-unit.toml"
    file.write_text(f"{TWO_ROW}# from the file\n", "utf-8")
    page = open_page(desk.url + "/sheets")
    page.set_input_files("#add-file", file)
    page.wait_for_function("document.querySelector('#add-name').value")
    assert page.input_value("#add-name") == "south-unit"
    page.click("#adding button.do")
    page.wait_for_url("**/sheets/south-unit")
    with page.expect_download() as waited:
        page.click("text=Save it as a file")
    assert Path(waited.value.path()).read_bytes() == file.read_bytes()


def test_the_second_save_is_shown_both_texts(desk: Desk, open_page: OpenPage) -> None:
    page = open_page(desk.url + "/sheets")
    page.fill("#add-text", TWO_ROW)
    page.fill("#add-name", "two-tabs")
    page.click("#adding button.do")
    page.wait_for_url("**/sheets/two-tabs")
    change = desk.url + "/sheets/two-tabs/change"
    other = open_page(change, tab=page, expected={412})
    page.fill("#sheet-toml", f"{TWO_ROW}# first\n")
    page.click("#sheet-text button.do")
    page.wait_for_load_state()
    other.fill("[name='presence.spots_needed']", "3")
    other.click(".sheet-keep button")
    other.wait_for_selector("#theirs")
    assert "# first" in other.input_value("#theirs")
    assert "spots_needed = 3" in other.input_value("#sheet-toml")


@pytest.mark.parametrize(("width", "theme"), LOOKS)
def test_the_pages_of_sheets_shut_nobody_out(
    desk: Desk, open_page: OpenPage, width: int, theme: Theme
) -> None:
    page = open_page(desk.url + "/sheets", width=width, theme=theme)
    found: list[str] = []
    for path in ("", "/two-row", "/edge-barrier", "/new", "/new?from=four-row"):
        page.goto(f"{desk.url}/sheets{path}")
        found += [f"{path}: {one}" for one in axe(page)]
        assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert not found, "\n".join(found)
