"""Performance levels: by paper, never inferred."""

import pytest

from builders.doorways import a_doorway
from limen.findings import Finding, Verdict
from questions.asking import ask, asked, book

QUESTION = "wiring.performance_level"
FAILS, HOLDS, NOT_SHOWN = Verdict.FAILS, Verdict.HOLDS, Verdict.NOT_SHOWN


def paper(level: str | None, **more: object) -> dict[str, object]:
    return {
        "about": "performance level",
        "function": "presence",
        "title": "Invented paper 7",
        **({"level": level} if level else {}),
        **more,
    }


def presence(*papers: dict[str, object]) -> Finding:
    changes = {"document": list(papers) or None}
    return ask(QUESTION, changes, fitting="inside", case="presence")


@pytest.mark.parametrize(
    ("level", "verdict"),
    [("a", FAILS), ("b", FAILS), ("c", HOLDS), ("d", HOLDS), ("e", HOLDS)],
)
def test_presence_asks_for_level_c(level: str, verdict: Verdict) -> None:
    """EN 16005:2012, 4.3 and 4.4."""
    found = presence(paper(level))
    assert found.verdict is verdict
    assert bool(found.remedy) is (verdict is FAILS)
    assert found.to_confirm is (verdict is HOLDS)


@pytest.mark.parametrize(
    ("level", "verdict"), [("c", FAILS), ("d", HOLDS), ("e", HOLDS), (None, NOT_SHOWN)]
)
def test_escape_opening_asks_for_level_d(level: str | None, verdict: Verdict) -> None:
    """EN 16005:2012, 4.7.2, from memory."""
    changes = {
        "use.escape_route": True,
        "use.breaks_out": False,
        "document": [paper(level, function="escape opening")],
    }
    assert ask(QUESTION, changes, case="escape opening").verdict is verdict


def test_leaves_that_break_out_need_no_paper_for_escape() -> None:
    door = a_doorway({"use.escape_route": True, "use.breaks_out": True})
    assert {case for _, case in asked(QUESTION, door)} == {"presence"}


@pytest.mark.parametrize(
    "papers",
    [
        [],
        [paper(None)],
        [paper("e", function="escape opening")],
        [paper("e", function="operator")],
        [paper("e", fitting="outside")],
        [paper("e", about="conformity")],
    ],
)
def test_without_a_paper_that_says_it_nothing_is_shown(
    papers: list[dict[str, object]],
) -> None:
    found = presence(*papers)
    assert found.verdict is NOT_SHOWN
    assert [lack.key for lack in found.lacking] == ["document"]


def test_of_several_papers_the_highest_level_counts() -> None:
    assert presence(paper("b"), paper("d", fitting="inside")).verdict is HOLDS


def test_no_figure_of_the_unit_stands_in_for_the_paper() -> None:
    """A monitored output, a test, a quick answer: none of them is a level."""
    changes: dict[str, object] = {"document": None}
    for key in ("sheet.outputs[2].monitored", "sheet.outputs[2].test_input"):
        changes[key] = True
    found = ask(QUESTION, changes, fitting="inside", case="presence")
    assert found.verdict is NOT_SHOWN


def test_the_american_rulebook_names_no_level() -> None:
    us = book("us", "2005")
    found = asked(QUESTION, a_doorway(document=None), us)
    assert {one.verdict for one in found.values()} == {Verdict.NOT_ASKED}
