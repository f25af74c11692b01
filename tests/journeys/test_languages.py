"""In French with feet and inches: every word French, every length in inches."""

import re

import pytest

from browsing import Desk, OpenPage, axe, rested

pytestmark = pytest.mark.slow

ALONG = "fitting[outside].lens.along"
TILT = "fitting[outside].settings.tilt"
METRIC = re.compile(r"\d\s?(?:mm|cm)\b")


def test_a_doorway_is_read_and_turned_in_french_with_inches(
    desk: Desk, open_page: OpenPage
) -> None:
    site = desk.demo()
    page = open_page(
        f"{desk.url}/sites/{site}/doorways/main", language="fr", units="feet"
    )
    assert page.locator("html").get_attribute("lang") == "fr"
    drawn = page.locator(".drawing[data-view=plan] svg").text_content() or ""
    shown = page.locator("#main").inner_text()
    assert not METRIC.search(drawn + shown)
    assert "outside" not in shown.split()
    entry = page.locator(f".knob:has([name='{ALONG}']) [data-knob-entry]")
    with page.expect_response("**/save"):
        entry.fill("4 3/4 in")
        entry.press("Enter")
    rested(page)
    assert re.search(r'along = "(?:4 3/4|4\.75) in"', desk.text(site))
    tilt = page.locator(f".knob:has([name='{TILT}']) [data-knob-entry]")
    with page.expect_response("**/save"):
        tilt.fill("-1,5")
        tilt.press("Enter")
    rested(page)
    assert 'tilt = "-1.5 deg"' in desk.text(site)
    assert "," in tilt.input_value()  # as one writes it there
    assert axe(page) == []


def test_what_is_refused_is_refused_in_french(desk: Desk, open_page: OpenPage) -> None:
    page = open_page(
        f"{desk.url}/sites/{desk.demo()}/doorways/main", language="fr", expected={422}
    )
    tilt = page.locator(f".knob:has([name='{TILT}']) [data-knob-entry]")
    tilt.fill("banane")
    tilt.press("Enter")
    fault = page.locator(f".knob:has([name='{TILT}']) [data-knob-fault]")
    fault.wait_for()
    assert fault.inner_text()
    assert "accepted" not in fault.inner_text()
    assert tilt.input_value() == "banane"


def test_the_language_is_chosen_on_the_page_and_kept(
    desk: Desk, open_page: OpenPage
) -> None:
    page = open_page(desk.url + "/")
    page.locator("details.look > summary").click()
    page.locator("label", has=page.locator("[name=language][value=de]")).click()
    page.wait_for_selector("html[lang=de]")
    page.goto(desk.url + "/help")
    assert page.locator("html").get_attribute("lang") == "de"
