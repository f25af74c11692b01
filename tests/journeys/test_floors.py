"""A hospital has several floors: each has its plan, and a pin moves between them."""

import re
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page

from browsing import Desk, OpenPage, Theme, axe
from builders.pictures import png


class Floors:
    """The page of the floor plans of a site, on a phone."""

    def __init__(self, desk: Desk, site: str, page: Page, picture: Path) -> None:
        self.desk, self.site, self.page, self.picture = desk, site, page, picture
        self.tabs = page.get_by_role("navigation", name="Floor plans")

    @property
    def pins(self) -> dict[str, str]:
        """The name of the plan by doorway whose pin is on it."""
        told: Any = self.desk.json(f"/sites/{self.site}/plan")
        names = {one["id"]: one["name"] for one in told["plans"]}
        doorways = (one for one in told["doorways"] if one["pin"])
        return {one["id"]: names[one["pin"]["plan"]] for one in doorways}

    def first(self, name: str) -> None:
        """Take a picture in as the first plan, and name it."""
        page = self.page
        page.get_by_label("Picture of the plan").set_input_files(self.picture)
        page.get_by_role("button", name="Take this picture").click()
        page.get_by_text("Name of this plan").click()
        assert self.tabs.count() == 0
        page.locator("#plan-name").fill(name)
        page.get_by_role("button", name="Call it this").click()
        page.get_by_role("button", name=f"Take back: name {name}").wait_for()

    def another(self, taken: str, name: str) -> None:
        """Add another plan, first under a name that is taken."""
        page = self.page
        page.get_by_text("Add the plan of another floor").click()
        page.locator("#plan-new-picture").set_input_files(self.picture)
        page.locator("#plan-new-name").fill(taken)
        page.get_by_role("button", name="Add this plan").click()
        page.get_by_role("alert").get_by_text("Choose another name").first.wait_for()
        assert page.locator("#plan-new-name").input_value() == taken
        page.locator("#plan-new-name").fill(name)  # the file is still chosen
        page.get_by_role("button", name="Add this plan").click()
        self.on(name)

    def on(self, name: str) -> None:
        """Wait for a plan to be the one that is shown."""
        self.tabs.locator("[aria-current]", has_text=name).wait_for()

    def set(self, heading: str) -> None:
        """Tap the plan for the pin of a doorway."""
        self.page.get_by_role("heading", name=f"Pin of {heading}").wait_for()
        self.page.get_by_role("application").tap()


@pytest.mark.slow
@pytest.mark.parametrize("theme", ["paper", "slate"])
def test_two_floors_are_added_and_named_and_a_pin_moves_from_one_to_the_other(
    desk: Desk, open_page: OpenPage, tmp_path: Path, theme: Theme
) -> None:
    picture = tmp_path / "plan.png"
    picture.write_bytes(png(400, 300))
    site = desk.demo()
    address = f"{desk.url}/sites/{site}/plan"
    page = open_page(address, width=360, touch=True, theme=theme, expected={422})
    floors = Floors(desk, site, page, picture)
    floors.first("Level 10")
    floors.another("level 10", "Level 2")
    links = floors.tabs.get_by_role("link").all_inner_texts()
    assert links == ["Level 2", "Level 10", "All plans"]
    page.wait_for_url(re.compile(r"\?plan=[0-9a-f]{12}$"))

    page.get_by_role("link", name="Set its pin: Main entrance").click()
    floors.set("Main entrance")
    page.get_by_role("heading", name="Pin of Inner door").wait_for()
    floors.tabs.get_by_role("link", name="Level 10").click()
    floors.on("Level 10")
    floors.set("Inner door")  # the next pin goes elsewhere
    page.get_by_role("heading", name="Pin of Staff door").wait_for()
    assert floors.pins == {"main": "Level 2", "vestibule": "Level 10"}
    found = axe(page)

    page.get_by_role("link", name="Leave as it is").click()
    page.get_by_role("link", name="Move its pin here: Main entrance").click()
    page.get_by_text("Its pin is on another plan: Level 2.").wait_for()
    floors.set("Main entrance")
    back = page.get_by_role("button", name="Take back: pin of Main entrance")
    back.get_by_text("plan Level 10").wait_for()
    assert floors.pins == {"main": "Level 10", "vestibule": "Level 10"}
    found += axe(page)
    back.click()
    floors.on("Level 2")
    assert floors.pins == {"main": "Level 2", "vestibule": "Level 10"}

    floors.tabs.get_by_role("link", name="All plans").click()
    floors.on("All plans")
    assert page.locator(".plan-stage").count() == 2
    found += axe(page)
    wide = page.evaluate("document.documentElement.scrollWidth - innerWidth")
    assert wide <= 0
    assert not found, "\n".join(found)
