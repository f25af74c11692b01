"""A service manager finds what is to be mended, and puts a doorway on the plan."""

from pathlib import Path

import pytest

from browsing import Desk, OpenPage, Theme, axe
from builders.pictures import png


@pytest.mark.parametrize(
    ("width", "theme"),
    [(1440, "paper"), pytest.param(360, "slate", marks=pytest.mark.slow)],
)
def test_doorways_are_filtered_sorted_and_pinned_by_keyboard(
    desk: Desk, open_page: OpenPage, tmp_path: Path, width: int, theme: Theme
) -> None:
    site = desk.demo()
    desk.json(f"/sites/{site}/doorways?study=true")
    desk.ask("POST", f"/sites/{site}/copy")  # what was studied is written with a change
    page = open_page(f"{desk.url}/doors?site={site}", width=width, theme=theme)
    page.get_by_role("link", name="To mend").first.click()
    page.wait_for_url("**state=mend**")
    page.get_by_text("Order and further filters").click()
    page.get_by_label("Order", exact=True).select_option("mend")
    page.get_by_label("Last first").check()
    page.wait_for_url("**sort=mend*down=1**")
    page.wait_for_selector("th[aria-sort='descending']")  # it is put in order after
    first = page.locator(".doors-table tbody tr").first.inner_text()
    assert "Main entrance" in first
    assert "3 to mend" in first
    found = axe(page)
    page.goto(f"{desk.url}/doors?site={site}&view=fails")
    page.get_by_role("link", name="Presence, line of the leaves: fails").click()
    assert page.get_by_role("link", name="Leave out this filter").count() == 2

    picture = tmp_path / "plan.png"
    picture.write_bytes(png(400, 300))
    page.goto(f"{desk.url}/sites/{site}/plan")
    page.get_by_label("Picture of the plan").set_input_files(picture)
    page.get_by_role("button", name="Take this picture").click()
    page.get_by_role("link", name="Set its pin: Staff door").click()
    page.get_by_role("application").focus()
    for key in ("ArrowRight", "ArrowRight", "Shift+ArrowDown", "Enter"):
        page.keyboard.press(key)
    page.get_by_role("heading", name="Pin of Escape-route door").wait_for()
    plan = desk.json(f"/sites/{site}/plan")["doorways"]
    pins = {one["id"]: one["pin"] for one in plan if one["pin"]}
    assert pins == {"staff": {"plan": "first", "x": 0.52, "y": 0.501}}
    found += axe(page)
    page.get_by_role("link", name="Leave as it is").click()
    page.get_by_role("link", name="3: Staff door. 2 to mend").wait_for()
    found += axe(page)
    wide = page.evaluate("document.documentElement.scrollWidth - innerWidth")
    assert wide <= 0
    assert not found, "\n".join(found)
