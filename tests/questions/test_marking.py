"""Marks on the glass, and signs."""

from dataclasses import replace

import pytest

from builders.doorways import a_doorway
from limen.findings import Finding, Verdict
from limen.model.doorway import Doorway
from limen.quantity import Grade, parse
from limen.quantity.units import Dimension
from limen.questions import QUESTIONS
from limen.questions.asking import Asked
from limen.questions.settled import settle
from limen.rules import Rule
from questions.asking import ask, asked, book

QUESTION = "site.marking"
FAILS, HOLDS, NOT_SHOWN = Verdict.FAILS, Verdict.HOLDS, Verdict.NOT_SHOWN
# DIN 18040-1: bands at 400 to 700 mm and 1200 to 1600 mm above the floor
DIN = {
    "lowest_from": "400 mm",
    "lowest_to": "700 mm",
    "highest_from": "1200 mm",
    "highest_to": "1600 mm",
}


@pytest.mark.parametrize(
    ("glass", "verdict"),
    [("marked", HOLDS), ("plain", FAILS), ("none", HOLDS), (None, NOT_SHOWN)],
)
def test_glass_is_marked(glass: str | None, verdict: Verdict) -> None:
    found = ask(QUESTION, {"marking.glass": glass}, case="glass")
    assert found.verdict is verdict
    if verdict is NOT_SHOWN:
        assert [lack.key for lack in found.lacking] == ["marking.glass"]


def glass_under_din(doorway: Doorway) -> Finding:
    """The glass with the heights of DIN 18040-1 entered as the firm's own figures."""
    rule = book().rule_for(QUESTION, {})
    assert isinstance(rule, Rule)
    limits = {
        name: parse(text, Dimension.LENGTH, Grade.OWN) for name, text in DIN.items()
    }
    own = replace(rule, limits=limits, unset={})
    found = QUESTIONS[QUESTION].ask(Asked(doorway, settle(doorway), own))
    return next(one for one in found if one.case == "glass")


@pytest.mark.parametrize(
    ("lowest", "highest", "verdict"),
    [
        ("400 mm", "1600 mm", HOLDS),
        ("700 mm", "1200 mm", HOLDS),
        ("399 mm", "1400 mm", FAILS),
        ("701 mm", "1400 mm", FAILS),
        ("500 mm", "1199 mm", FAILS),
        ("500 mm", "1601 mm", FAILS),
        (None, "1400 mm", NOT_SHOWN),
        ("500 mm", None, NOT_SHOWN),
        ("500 mm, estimate", "1400 mm", NOT_SHOWN),
        ("400 mm ± 10 mm", "1400 mm", NOT_SHOWN),
    ],
)
def test_marks_at_the_heights_of_the_german_bands(
    lowest: str | None, highest: str | None, verdict: Verdict
) -> None:
    """DIN 18040-1, read in a public summary: 400 to 700 and 1200 to 1600 mm."""
    changes = {"marking.lowest": lowest, "marking.highest": highest}
    found = glass_under_din(a_doorway(changes))
    assert found.verdict is verdict
    assert bool(found.lacking) is (verdict is NOT_SHOWN)


@pytest.mark.parametrize(
    ("signed", "signs", "verdict"),
    [
        (["outside", "inside"], ["automatic door"], HOLDS),
        (["outside"], ["automatic door"], FAILS),
        ([], [], FAILS),
        (None, [], FAILS),
        (None, ["automatic door"], NOT_SHOWN),
        (None, None, NOT_SHOWN),
    ],
)
def test_in_america_both_sides_read_that_the_door_works_by_itself(
    signed: list[str] | None, signs: list[str] | None, verdict: Verdict
) -> None:
    """ANSI/BHMA A156.10, from memory, section to be confirmed."""
    changes = {"marking.signed": signed, "marking.signs": signs}
    us = book("us", "2005")
    found = ask(QUESTION, changes, case="signs", rules=us)
    assert found.verdict is verdict
    assert bool(found.remedy) is (verdict is FAILS)


def test_the_european_rulebook_asks_for_no_sign() -> None:
    changes = {"marking.signed": None, "marking.signs": []}
    found = ask(QUESTION, changes, case="signs")
    assert found.verdict is Verdict.NOT_ASKED


def test_glass_and_signs_have_one_finding_each() -> None:
    assert set(asked(QUESTION, a_doorway())) == {(None, "glass"), (None, "signs")}
