"""From nothing to a first verdict in twelve answers, and none of them lost."""

import pytest
from playwright.sync_api import Page

from browsing import LOOKS, Desk, OpenPage, Theme, axe

PAPERS = {"site": "Harbour hall", "door": "Main entrance"}
TAPED = {
    "clear_width": "1800",
    "lens_height": "2200 ± 10",
    "plumb_outside": "150",
    "plumb_inside": "140",
    "behind_left_space": "220",
    "behind_left_depth": "80",
    "behind_right_space": "140",
}
IN_FEET = {
    "clear_width": "5 ft 10 7/8 in",
    "lens_height": "86 5/8 ± 1/4",
    "plumb_outside": "5 7/8",
    "plumb_inside": "5 1/2",
    "behind_left_space": "8 5/8",
    "behind_left_depth": "3",
    "behind_right_space": "5 1/2",
}


def _papers(page: Page) -> None:
    for name, value in PAPERS.items():
        page.fill(f"[name={name}]", value)
    page.fill("[name=commissioned]", "2018-06-01")


def _door(page: Page, taped: dict[str, str]) -> None:
    page.check("[name=leaves][value='2']")
    for name, value in taped.items():
        page.fill(f"[name={name}]", value)
    for side in ("outside", "inside"):
        page.select_option(f"[name=unit_{side}]", "two-row")
    page.check("[name=escape_route][value=no]")
    page.check("[name=many_frail_or_small][value=yes]")


def _run(page: Page, key: str) -> None:
    """One run with the stopwatch; how long it takes does not matter here."""
    press = page.locator(f"[data-watch={key}] [data-watch-press]")
    press.click()
    press.click()


def _runs(page: Page, key: str) -> list[str]:
    return [page.input_value(f"[name={key}_{number}]") for number in (1, 2, 3)]


def _says(page: Page) -> str:
    return page.locator("[data-survey-verdict]").inner_text().replace("\xa0", " ")


def test_from_nothing_to_a_first_verdict_and_to_the_doorway(
    empty_desk: Desk, open_page: OpenPage
) -> None:
    page = open_page(empty_desk.url, width=360, touch=True)
    page.click("text=Answer twelve questions")
    page.check("[name=leaves][value='2']")
    page.fill("[name=clear_width]", "1800")
    page.wait_for_selector("[data-survey-verdict] svg.limen-drawing")
    assert "2 of 12 answered" in page.locator("[data-survey-progress]").inner_text()
    _papers(page)
    _door(page, TAPED)
    for key in ("opening_runs", "closing_runs"):
        page.fill(f"[name={key}_1]", "2.5")
    page.wait_for_selector("text=12 of 12 answered")
    assert "140 mm" in _says(page)
    page.click("button[value=keep]")
    page.wait_for_url("**/doorways/main-entrance*")
    assert "Main entrance" in page.inner_text("main") + page.title()
    page.goto(empty_desk.url + "/survey")
    assert page.input_value("[name=site]") == ""


def test_a_reload_and_other_units_lose_no_answer(
    desk: Desk, open_page: OpenPage
) -> None:
    page = open_page(desk.url + "/survey")
    _papers(page)
    _door(page, TAPED)
    page.wait_for_selector("text=10 of 12 answered")
    page.reload()
    page.wait_for_selector("[data-survey-before]:visible")
    page.wait_for_selector("text=10 of 12 answered")
    assert page.input_value("[name=clear_width]") == "1800"
    feet = {"name": "limen_units", "value": "feet", "url": desk.url}
    page.context.add_cookies([feet])  # pyright: ignore[reportArgumentType]
    page.reload()
    page.wait_for_selector("text=10 of 12 answered")
    assert page.input_value("[name=clear_width]") == "1800 mm"
    assert page.input_value("[name=lens_height]") == "2200 ± 10 mm"
    page.click("[data-survey-anew]")
    page.wait_for_selector("text=0 of 12 answered")
    page.reload()
    assert page.input_value("[name=site]") == ""


def test_a_lost_connection_is_told_and_nothing_is_lost(
    desk: Desk, open_page: OpenPage
) -> None:
    page = open_page(desk.url + "/survey")
    _papers(page)
    page.route("**/survey", lambda route: route.abort())
    page.check("[name=leaves][value='2']")
    page.wait_for_selector("[data-survey-unanswered]:visible")
    page.unroute("**/survey")
    page.fill("[name=clear_width]", "1800")
    page.wait_for_selector("[data-survey-verdict] svg.limen-drawing")
    assert page.locator("[data-survey-unanswered]").is_hidden()
    assert page.input_value("[name=site]") == PAPERS["site"]


def test_what_is_wrong_is_told_at_its_question_and_stays(
    desk: Desk, open_page: OpenPage
) -> None:
    page = open_page(desk.url + "/survey", expected={422})
    page.fill("[name=clear_width]", "wide")
    page.press("[name=clear_width]", "Tab")
    page.wait_for_selector("#e-clear_width:visible")
    page.click("button[value=keep]")
    page.wait_for_selector("[data-survey-faults]:visible")
    assert page.input_value("[name=clear_width]") == "wide"
    assert page.locator("[data-survey-faults] li").count() >= 4
    assert not axe(page)
    page.click("[data-survey-faults] a[href='#q-edition']")
    assert page.locator("#f-edition").is_visible()


def test_runs_are_timed_undone_and_dropped_with_a_finger_or_with_keys(
    desk: Desk, open_page: OpenPage
) -> None:
    page = open_page(desk.url + "/survey", width=360)
    for _ in range(3):
        _run(page, "opening_runs")
    runs = _runs(page, "opening_runs")
    assert all(float(run) >= 0 for run in runs)
    press = page.locator("[data-watch=opening_runs] [data-watch-press]")
    press.click()
    assert _runs(page, "opening_runs") == ["", "", ""]
    page.click("[data-watch=opening_runs] [data-watch-undo]")
    assert _runs(page, "opening_runs") == runs
    page.click("[data-watch=opening_runs] [data-watch-undo]")
    assert _runs(page, "opening_runs") == [*runs[:2], ""]
    keyed = page.locator("[data-watch=closing_runs] [data-watch-press]")
    keyed.focus()
    page.keyboard.press("Space")
    page.keyboard.press("Enter")
    assert _runs(page, "closing_runs")[0] != ""
    page.keyboard.press("Space")
    page.keyboard.press("Escape")
    assert _runs(page, "closing_runs")[1] == ""
    page.fill("[name=closing_runs_2]", "4.6")
    assert "3" in keyed.inner_text()


def test_in_feet_and_inches(desk: Desk, open_page: OpenPage) -> None:
    page = open_page(desk.url + "/survey", units="feet")
    _papers(page)
    _door(page, IN_FEET)
    page.wait_for_selector("text=10 of 12 answered")
    assert "5 1/2 in" in _says(page)


def test_without_a_script_the_survey_is_kept(desk: Desk, open_page: OpenPage) -> None:
    page = open_page(desk.url + "/survey", javascript=False, expected={422})
    _papers(page)
    _door(page, TAPED | {"clear_width": "wide"})
    page.click("button[value=keep]")
    assert page.input_value("[name=clear_width]") == "wide"
    assert page.input_value("[name=plumb_inside]") == "140"
    page.fill("[name=clear_width]", "1800")
    page.click("button[value=look]")
    assert page.locator(".survey-verdict svg.limen-drawing").count() == 1
    page.click("button[value=keep]")
    assert "/doorways/main-entrance" in page.url


@pytest.mark.parametrize(("width", "theme"), LOOKS)
def test_the_survey_shuts_nobody_out(
    desk: Desk, open_page: OpenPage, width: int, theme: Theme
) -> None:
    page = open_page(desk.url + "/survey", width=width, theme=theme)
    # At every height the bar lies over something, which scrolls out from under it.
    page.locator(".survey-bar").evaluate("bar => { bar.style.position = 'static'; }")
    found = axe(page)
    page.locator(".survey-bar").evaluate("bar => { bar.style.position = ''; }")
    _door(page, TAPED)
    page.wait_for_selector("[data-survey-verdict] svg.limen-drawing")
    assert not [*found, *axe(page)]
    assert page.evaluate("document.documentElement.scrollWidth") <= width
