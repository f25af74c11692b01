"""The server goes away or the disk is full: what was set is kept, and saved later."""

import pytest
from playwright.sync_api import Page

from browsing import GONE, Desk, OpenPage, rested, saved

TILT = "fitting[outside].settings.tilt"


def _typed(page: Page, value: str) -> None:
    entry = page.locator(f".knob:has([name='{TILT}']) [data-knob-entry]")
    entry.fill(value)
    entry.press("Enter")


@pytest.mark.slow
def test_what_is_set_while_the_server_is_gone_is_saved_once_it_is_back(
    empty_desk: Desk, open_page: OpenPage
) -> None:
    site = empty_desk.demo()
    page = open_page(f"{empty_desk.url}/sites/{site}/doorways/main", expected={GONE})
    rested(page)
    empty_desk.kill()
    _typed(page, "-2.3")
    page.wait_for_selector(".kept[data-state=unsaved]")
    assert page.locator("[data-notice]").is_visible()
    empty_desk.start()
    saved(page)  # it tries again by itself
    assert "-2.3" in empty_desk.text(site)


@pytest.mark.slow
def test_what_is_set_while_the_server_is_gone_outlives_the_tab(
    empty_desk: Desk, open_page: OpenPage
) -> None:
    site = empty_desk.demo()
    where = f"{empty_desk.url}/sites/{site}/doorways/main"
    page = open_page(where, expected={GONE})
    rested(page)
    empty_desk.kill()
    _typed(page, "-2.4")
    page.wait_for_selector(".kept[data-state=unsaved]")
    person = page.context
    page.close()
    empty_desk.start()
    again = person.new_page()
    again.goto(where)
    rested(again)
    assert "-2.4" in empty_desk.text(site)


def test_a_disk_that_takes_nothing_is_told_in_its_own_words(
    desk: Desk, open_page: OpenPage
) -> None:
    site = desk.demo()
    page = open_page(f"{desk.url}/sites/{site}/doorways/main", expected={507})
    rested(page)
    full = '{"lines": ["No room is left."], "faults": []}'
    page.route(
        "**/save",
        lambda route: route.fulfill(
            status=507, content_type="application/json", body=full
        ),
    )
    _typed(page, "-2.5")
    page.wait_for_selector(".kept[data-state=unsaved]")
    assert page.locator("[data-notice]").inner_text() == "No room is left."
    page.unroute("**/save")
    saved(page)
    assert "-2.5" in desk.text(site)


def test_a_form_that_could_not_be_kept_stays_as_it_was_typed(
    desk: Desk, open_page: OpenPage
) -> None:
    page = open_page(f"{desk.url}/sites/{desk.demo()}", expected={507})
    page.route(
        "**/text",
        lambda route: route.fulfill(
            status=507,
            content_type="text/html",
            body='<section class="faults"><ul><li>No room is left.</li></ul></section>',
        ),
    )
    area = page.locator("#site-toml")
    typed = area.input_value() + "\n# mine"
    area.fill(typed)
    page.locator("#site-text button.do").click()
    said = page.locator("[data-unanswered]")
    said.wait_for()
    assert said.inner_text() == "No room is left."
    assert area.input_value() == typed
