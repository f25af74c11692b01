"""A stranger asks what a setting saves, and adds the weather of the own town."""

from pathlib import Path

import pytest

from browsing import Desk, OpenPage
from limen.store.weatherfile import find_weather


@pytest.fixture(scope="module")
def flows(desk: Desk) -> str:
    """The page of the invented building's entrance."""
    return f"{desk.url}/sites/{desk.demo()}/doorways/main/flows"


@pytest.mark.parametrize("width", [360, 768, 1440])
def test_nothing_runs_out_of_the_page(
    open_page: OpenPage, flows: str, width: int
) -> None:
    page = open_page(f"{flows}?setting=outside.reach&to=60+%25", width=width)
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    narrow = page.locator(".flows-narrow svg").is_visible()
    assert narrow is (width < 640)
    assert page.locator(".flows-wide svg").is_visible() is not narrow


def test_a_setting_is_asked_about_by_keyboard_alone(
    open_page: OpenPage, flows: str
) -> None:
    page = open_page(flows)
    page.get_by_label("Setting", exact=True).focus()
    page.keyboard.type("reach of the outside")
    page.keyboard.press("Tab")
    page.keyboard.type("60 %")
    page.keyboard.press("Enter")
    page.get_by_role("heading", name="What is saved with").wait_for()
    assert page.get_by_role("rowheader", name="Fewer needless openings").is_visible()
    assert page.get_by_label("Set to").input_value() == "60 %"


def test_weather_is_added_and_reckoned_with(
    open_page: OpenPage, flows: str, tmp_path: Path
) -> None:
    shipped = find_weather("703165TY.csv", ())
    assert shipped is not None
    bad, good = tmp_path / "bad.epw", tmp_path / "Our town.csv"
    bad.write_text("hello")
    good.write_bytes(shipped.read_bytes())
    page = open_page(flows, expected={422})
    page.get_by_label("Add a weather file").set_input_files(bad)
    page.get_by_role("button", name="Add", exact=True).click()
    page.get_by_role("alert").get_by_text("8760 hours").wait_for()
    page.get_by_label("Add a weather file").set_input_files(good)
    page.get_by_role("button", name="Add", exact=True).click()
    page.get_by_text("the weather of Sand Point").wait_for()
    assert "weather=weather/Our-town.csv" in page.url
