"""Somebody is called out: at the desk, with and without a script, and at the door."""

import pytest

from browsing import LOOKS, Desk, OpenPage, Theme, axe
from browsing.card import KEPT, QUIET, SMALL, along
from limen.words.tracing import said_cause

pytestmark = pytest.mark.slow

LED = {
    "mode": "Automatic",
    "changed": "Nothing that is known of",
    "lamp_presence": "Shows that it sees something",
    "lamp_motion": "Shows nothing",
}
AT_DOOR = {
    "leaf_held": "gone",
    "rows": "too-near",
    "presence_off": "gone",
    "unit": "straight",
    "when": "always",
    "began": "always",
}
OWN_LEAF = said_cause("own_leaf")
LEAST = 48  # px of a target


@pytest.fixture(scope="module")
def site(desk: Desk) -> str:
    return desk.demo()


@pytest.mark.parametrize("javascript", [True, False], ids=["script", "no script"])
def test_a_call_out_goes_from_the_doorway_to_its_description(
    desk: Desk, open_page: OpenPage, site: str, javascript: bool
) -> None:
    door = f"{desk.url}/sites/{site}/doorways/main"
    page = open_page(door, width=360, javascript=javascript, touch=True)
    page.get_by_role("link", name="Why does it misbehave?").click()
    wrong: list[str] = axe(page) if javascript else []
    page.get_by_role("radio", name="Turns back while closing").check()
    page.get_by_label("When did it happen?").fill("2026-10-14T17:40")
    page.get_by_role("button", name="Begin").click()
    for question, words in LED.items():
        asked = page.locator(f".trace-ask input[value={question}]")
        asked.wait_for(state="attached")
        page.get_by_role("button", name=words, exact=True).click()
    page.get_by_text("May be", exact=True).wait_for()
    boxes = [one.bounding_box() for one in page.locator(".trace-answer").all()]
    assert min(one["height"] for one in boxes if one) >= LEAST
    assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0
    wrong += axe(page) if javascript else []
    page.get_by_role("link", name="Change the answer to: What does the mode").click()
    page.get_by_role("button", name="One way only").click()
    page.get_by_role("button", name="Take back the answer to: What does the m").click()
    page.get_by_role("button", name="It is none of these").click()
    page.get_by_role("heading", name="What is ruled out, and why").wait_for()
    wrong += axe(page) if javascript else []
    with page.expect_download() as saved:
        page.get_by_role("link", name="As a text file").click()
    assert "17:40" in saved.value.path().read_text("utf-8")
    if javascript:
        page.context.grant_permissions(["clipboard-read", "clipboard-write"])
        page.get_by_role("button", name="Copy it").click()
        page.get_by_text("Copied.").wait_for()
        copied = page.evaluate("() => navigator.clipboard.readText()")
        assert copied == saved.value.path().read_text("utf-8")
    assert not wrong, "\n".join(wrong)


@pytest.mark.parametrize(("width", "theme"), LOOKS)
def test_the_pages_shut_nobody_out(
    desk: Desk, open_page: OpenPage, site: str, width: int, theme: Theme
) -> None:
    begin = f"{desk.url}/sites/{site}/doorways/main/trace?does=struck"
    page = open_page(begin, width=width, theme=theme)
    wrong = axe(page)
    page.get_by_role("button", name="Somebody was struck").click()
    page.get_by_role("heading", name="Take the door out of use").wait_for()
    wrong += axe(page)
    page.get_by_role("button", name="Nobody was struck").click()
    page.get_by_role("button", name="Turns back while closing").click()
    for one in page.locator("summary").all():
        one.click()
    wrong += axe(page)
    page.get_by_role("link", name="Read, print or copy").click()
    page.locator("summary").last.click()
    wrong += axe(page)
    assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0
    assert not wrong, "\n".join(wrong)


@pytest.mark.slow
def test_at_the_door_the_card_asks_offline_and_owes_the_tests_again(
    desk: Desk, open_page: OpenPage, site: str
) -> None:
    page = open_page(f"{desk.url}/card", width=360, touch=True)
    tapping = along(page, desk, site)
    page.context.set_offline(True)
    tapping.begin("called out")
    tapping.go("cannot", "as_found")
    page.fill("[name=because]", "It rains")
    tapping.tap(".card-do")
    assert tapping.asked() == "does"
    tapping.tap("[data-answer=reopens]")
    wrong = [*page.evaluate(SMALL), *axe(page)]
    page.get_by_role("button", name="Undo").click()
    page.wait_for_selector("main[data-of=does]")
    tapping.tap("[data-answer=reopens]")
    for given in ("automatic", "nothing", "sees", "quiet"):
        tapping.tap(f"[data-answer={given}]")
    for question, given in AT_DOOR.items():
        if tapping.asked() == "found":
            break
        tapping.go("trace", question)
        tapping.tap(f"[data-answer={given}]")
    page.get_by_role("heading", name=f"Found: {OWN_LEAF}").wait_for()
    wrong += [*page.evaluate(SMALL), *axe(page)]
    page.reload()
    page.get_by_role("heading", name=f"Found: {OWN_LEAF}").wait_for()
    tapping.tap(".card-do")
    tapping.tap(".card-do")
    tapping.worked()
    assert tapping.asked().startswith("box.")
    tapping.go("list")
    line = page.get_by_role("link", name="Why does it misbehave?")
    assert "done" in line.inner_text()
    told = [one["said"] for one in tapping.events() if one["kind"] == "traced"]
    assert {"question": "leaf_held", "answer": "gone"} in told
    assert told[-1] == {"question": "cause", "answer": "own_leaf"}
    page.context.set_offline(False)
    assert not wrong, "\n".join(wrong)


@pytest.mark.slow
def test_what_the_desk_was_told_is_gone_on_with_at_the_door(
    desk: Desk, open_page: OpenPage
) -> None:
    site = desk.demo()
    begin = open_page(f"{desk.url}/sites/{site}/doorways/main/trace", width=1440)
    begin.get_by_role("radio", name="Turns back while closing").check()
    begin.get_by_label("Who takes it up?").fill("M. Ilves")
    begin.get_by_role("button", name="Begin").click()
    for words in LED.values():
        begin.get_by_role("button", name=words, exact=True).click()
    begin.get_by_text("May be", exact=True).wait_for()
    page = open_page(f"{desk.url}/card", width=360, touch=True)
    tapping = along(page, desk, site)
    page.context.set_offline(True)
    tapping.begin("called out")
    tapping.go("cannot", "as_found")
    page.fill("[name=because]", "It rains")
    tapping.tap(".card-do")
    assert tapping.asked() == "told"
    assert "by M. Ilves" in page.locator(".card-quiet").first.inner_text()
    wrong = [*page.evaluate(SMALL), *axe(page)]
    before = tapping.kept()
    page.wait_for_timeout(QUIET)
    page.get_by_role("button", name="Go on with these answers").click()
    page.wait_for_selector(KEPT.format(before + 1 + len(LED)))
    assert tapping.asked() not in {"told", "does", *LED}
    page.get_by_role("button", name="Undo").click()
    page.wait_for_selector("main[data-of=told]")
    page.wait_for_timeout(QUIET)
    page.get_by_role("link", name="Ask anew").click()
    page.wait_for_selector("main[data-of=does]")
    page.go_back()
    page.wait_for_selector("main[data-of=told]")
    page.wait_for_timeout(QUIET)
    page.get_by_role("button", name="Go on with these answers").click()
    page.wait_for_selector(".card-known")
    told = [one["said"] for one in tapping.events() if one["kind"] == "traced"]
    assert {one["call"] for one in told} == {begin.url.split("/")[-1].split("?")[0]}
    page.context.set_offline(False)
    assert not wrong, "\n".join(wrong)
