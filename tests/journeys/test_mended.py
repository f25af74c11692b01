"""Each fault of the invented building that a setting mends is found and mended."""

import pytest
from playwright.sync_api import Page

from browsing import Desk, OpenPage, rested

MOST = 12
"""More remedies in a row than any doorway needs: they would be going in circles."""


def _musts(desk: Desk, site: str, door: str) -> set[str]:
    """Questions of weight must that fail, asked as a program asks."""
    (found,) = desk.json(f"/sites/{site}/doorways/{door}/findings")["doorways"]
    return {
        one["question"]
        for one in found["findings"]
        if one["verdict"] == "fails" and one["weight"] == "must"
    }


def _tried(page: Page) -> int:
    """Press "Try it" for as long as it is offered; how often."""
    times = 0
    while times < MOST and page.locator("[data-try]").count():
        said = page.locator(".next-do").inner_text()
        with page.expect_response("**/save"):
            page.locator("[data-try]").first.click()
        rested(page)
        page.wait_for_function(
            "said => document.querySelector('.next-do').innerText !== said", arg=said
        )
        times += 1
    return times


@pytest.fixture(scope="module")
def site(desk: Desk) -> str:
    return desk.demo()


def _ids(desk: Desk, site: str) -> list[str]:
    return [one["id"] for one in desk.json(f"/sites/{site}/doorways")]


def test_the_main_entrance_is_mended_by_what_it_says(
    desk: Desk, open_page: OpenPage
) -> None:
    """The gap in the middle, 250 mm between the inner rows as found."""
    site = desk.demo()
    before = _musts(desk, site, "main")
    assert "presence.threshold" in before
    page = open_page(f"{desk.url}/sites/{site}/doorways/main")
    assert page.locator(".next[data-verdict=fails] .next-do").inner_text()
    assert _tried(page) < MOST
    after = _musts(desk, site, "main")
    assert not {one for one in after if one.startswith("presence.")}
    assert after < before


@pytest.mark.slow
def test_every_doorway_is_left_with_less_to_mend_and_nothing_new(
    desk: Desk, open_page: OpenPage, site: str
) -> None:
    for door in _ids(desk, site):
        before = _musts(desk, site, door)
        page = open_page(f"{desk.url}/sites/{site}/doorways/{door}")
        assert _tried(page) < MOST
        after = _musts(desk, site, door)
        assert after <= before, door
        page.close()
