"""Everything is reached, turned and undone with the keyboard alone."""

from collections.abc import Callable

from playwright.sync_api import Page, Route

from browsing import Desk, OpenPage, rested

ROUND = 8  # px around what has the focus
MOST = 250  # presses of Tab that any page may need
TILT = "fitting[outside].settings.tilt"


def _tab_to(page: Page, selector: str) -> None:
    """Press Tab until something has the focus; it must be seen to have it."""
    for _ in range(MOST):
        page.keyboard.press("Tab")
        there = page.evaluate(
            "selector => document.activeElement?.matches(selector) ?? false", selector
        )
        if there:
            _seen(page)
            return
    raise AssertionError(f"the keyboard never gets to {selector}")


def _seen(page: Page) -> None:
    """What has the focus stands in sight, and looks otherwise than without it."""
    box = page.evaluate(
        """() => {
          const {x, y, width, height} = document.activeElement.getBoundingClientRect();
          return {x, y, width, height};
        }"""
    )
    size = page.viewport_size
    assert size is not None
    left, top = max(box["x"] - ROUND, 0), max(box["y"] - ROUND, 0)
    right = min(box["x"] + box["width"] + ROUND, size["width"])
    bottom = min(box["y"] + box["height"] + ROUND, size["height"])
    assert right > left
    assert bottom > top
    clip = {"x": left, "y": top, "width": right - left, "height": bottom - top}
    focused = page.screenshot(clip=clip)  # pyright: ignore[reportArgumentType]
    page.evaluate("window.had = document.activeElement; window.had.blur()")
    plain = page.screenshot(clip=clip)  # pyright: ignore[reportArgumentType]
    page.evaluate("window.had.focus()")
    assert focused != plain


def test_from_the_list_to_a_setting_and_back_without_a_pointer(
    desk: Desk, open_page: OpenPage
) -> None:
    site = desk.demo()
    page = open_page(desk.url + "/")
    _tab_to(page, f".site-name a[href='/sites/{site}']")
    page.keyboard.press("Enter")
    page.wait_for_url(f"**/sites/{site}")
    _tab_to(page, "a[href$='/doorways/main']")
    page.keyboard.press("Enter")
    page.wait_for_url("**/doorways/main**")
    rested(page)
    _tab_to(page, f"input[type=range][name='{TILT}']")
    before = desk.text(site)
    slider = page.locator(f"input[type=range][name='{TILT}']")
    at = float(slider.input_value())
    with page.expect_response("**/save"):
        for _ in range(3):
            page.keyboard.press("ArrowRight")
    rested(page)
    assert float(slider.input_value()) > at
    assert desk.text(site) != before
    assert page.evaluate("document.activeElement.name") == TILT  # it keeps the focus
    with page.expect_response("**/undo"):
        page.keyboard.press("Control+z")
    rested(page)
    assert desk.text(site) == before
    with page.expect_response("**/redo"):
        page.keyboard.press("Control+Shift+z")
    rested(page)
    assert desk.text(site) != before


def test_an_answer_from_before_a_save_does_not_keep_it_from_being_undone(
    desk: Desk, open_page: OpenPage
) -> None:
    """Turned on while it was being saved, on a slow line."""
    site = desk.demo()
    page = open_page(f"{desk.url}/sites/{site}/doorways/main")
    rested(page)
    slider = page.locator(f"input[type=range][name='{TILT}']")
    asked, saves = list[Route](), list[Route]()

    def held(route: Route) -> None:
        said = route.request.post_data_json or {}
        asked.append(route) if said.get("rests") else route.continue_()

    page.route("**/preview", held)
    page.route("**/save", lambda route: saves.append(route))  # noqa: PLW0108 - the library marks its handlers
    slider.press("ArrowRight")
    _until(page, lambda: len(saves) == 1)
    slider.press("ArrowRight")
    saves[0].fulfill(response=saves[0].fetch())
    _until(page, lambda: len(saves) == 2 and len(asked) == 1)
    once, old = desk.text(site), asked[0].fetch()
    with page.expect_response("**/save"):
        saves[1].continue_()
    asked[0].fulfill(response=old)
    _until(page, lambda: len(asked) == 2)
    with page.expect_response("**/undo") as undone:
        page.keyboard.press("Control+z")
    assert undone.value.ok
    assert desk.text(site) == once
    for route in asked[1:]:
        route.continue_()


def _until(page: Page, come: Callable[[], bool]) -> None:
    while not come():
        page.wait_for_timeout(20)


def test_a_unit_is_moved_along_the_header_with_the_arrow_keys(
    desk: Desk, open_page: OpenPage
) -> None:
    site = desk.demo()
    page = open_page(f"{desk.url}/sites/{site}/doorways/main")
    grip = "[data-grip=outside]"
    _tab_to(page, grip)
    shown = page.locator(f".drawing[data-view=plan] {grip}")
    before = float(shown.get_attribute("aria-valuenow") or "nan")
    with page.expect_response("**/save"):
        page.keyboard.press("ArrowRight")
        page.keyboard.press("Shift+ArrowRight")
    rested(page)
    assert float(shown.get_attribute("aria-valuenow") or "nan") == before + 11
    assert shown.get_attribute("aria-valuetext")


def test_a_finding_is_shown_in_the_drawing_by_the_enter_key(
    desk: Desk, open_page: OpenPage
) -> None:
    page = open_page(f"{desk.url}/sites/{desk.demo()}/doorways/main")
    _tab_to(page, "a[data-finding*='leaf_path']")
    with page.expect_response("**/preview"):
        page.keyboard.press("Enter")
    page.wait_for_url("**finding=presence.leaf_path**")
    said = page.locator(".drawing[data-view=plan] svg desc").text_content()
    assert said


def test_the_first_press_leads_past_the_bar(desk: Desk, open_page: OpenPage) -> None:
    page = open_page(desk.url + "/help")
    page.keyboard.press("Tab")
    _seen(page)
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "main"
