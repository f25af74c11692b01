"""The doorway is turned in space, and the late walk is played, by hand and by keys."""

import pytest
from playwright.sync_api import Page

from browsing import Desk, OpenPage, axe, rested

pytestmark = pytest.mark.slow

LATE = "approach.opens_in_time~~outside, reduced width"
MISSED = "presence.threshold~~upright"
SPACE = "input[name=view][value=space]"
NAME = ".space-name"
SCRUB = "[data-walk-scrub]"


def _in_space(desk: Desk, open_page: OpenPage, finding: str, **wishes: object) -> Page:
    address = f"{desk.url}/sites/{desk.demo()}/doorways/main"
    page = open_page(f"{address}?view=space&finding={finding}", **wishes)
    page.wait_for_selector(f"{NAME}[style*=translate]")
    return page


def _placed(page: Page) -> list[str | None]:
    return [one.get_attribute("style") for one in page.locator(NAME).all()]


def test_what_draws_in_space_is_fetched_when_it_is_opened_first(
    desk: Desk, open_page: OpenPage
) -> None:
    fetched: list[str] = []
    page = open_page(f"{desk.url}/sites/{desk.demo()}/doorways/main")
    page.on("request", lambda request: fetched.append(request.url))
    rested(page)
    assert not [one for one in fetched if "/view-" in one]
    page.locator(SPACE).check(force=True)
    page.wait_for_selector(f"{NAME}[style*=translate]")
    assert [one for one in fetched if "/view-" in one]


def test_the_drawing_in_space_is_turned_by_keys_and_said_in_words(
    desk: Desk, open_page: OpenPage
) -> None:
    page = _in_space(desk, open_page, MISSED)
    before = _placed(page)
    page.locator(".space-canvas").focus()
    for key in ("ArrowLeft", "ArrowUp", "+"):
        page.keyboard.press(key)
    page.wait_for_function(
        "before => document.querySelector('.space-name').getAttribute('style')"
        " !== before",
        arg=before[0],
    )
    page.locator("[data-stand=above]").click()
    said = page.locator("[data-space-says]").text_content() or ""
    assert "row 1 lands 105" in said
    assert not axe(page)


def test_a_setting_that_is_turned_moves_the_row_in_space(
    desk: Desk, open_page: OpenPage
) -> None:
    page = _in_space(desk, open_page, MISSED)
    slider = page.locator("[data-knob][name='fitting[outside].settings.tilt']")
    slider.focus()
    with page.expect_response("**/save"):
        page.keyboard.press("ArrowLeft")
    rested(page)
    said = page.locator("[data-space-says]").text_content() or ""
    assert "Outside unit: row 1 lands 105" not in said


def test_who_wants_less_motion_is_shown_the_arrival_and_plays_it_on_request(
    desk: Desk, open_page: OpenPage
) -> None:
    address = f"{desk.url}/sites/{desk.demo()}/doorways/main"
    page = open_page(f"{address}?finding={LATE}")
    page.wait_for_selector(".walk-late.walk-shown")
    says = page.locator("[data-walk-says]")
    assert (says.text_content() or "").startswith("Reaches the leaf path")
    assert page.locator("[data-walk-play][data-does=play]").count() == 1
    page.locator(SCRUB).focus()
    page.keyboard.press("Home")
    page.locator("[data-walk-play]").click()
    page.wait_for_selector("[data-walk-play][data-does=pause]")
    page.wait_for_selector("[data-walk-play][data-does=play]")
    assert (says.text_content() or "").startswith("Open enough only now")


def test_the_walk_is_gone_through_instant_by_instant_with_keys(
    desk: Desk, open_page: OpenPage
) -> None:
    page = _in_space(desk, open_page, LATE)
    page.wait_for_selector(".walk:not([hidden])")
    page.locator(SCRUB).focus()
    page.keyboard.press("Home")
    told = page.locator(SCRUB).get_attribute("aria-valuetext") or ""
    assert told.startswith("0.0 s. The walk begins")
    for _ in range(30):
        page.keyboard.press("ArrowRight")
    told = page.locator(SCRUB).get_attribute("aria-valuetext") or ""
    assert told.startswith("0.6 s. Noticed")
    page.locator(".walk-more > summary").click()
    assert page.locator("tr[data-now]").count() == 1
    assert not axe(page)
