"""Figures for publicly accessible buildings in Germany.

DIN 18040-1:2010-10, Barrierefreies Bauen, Planungsgrundlagen: Öffentlich zugängliche
Gebäude, read in a public guide; the clause is to be confirmed. Clear width at least
900 mm; marks on glass at 400 to 700 mm and at 1200 to 1600 mm. Figures are exact.
"""

from typing import Literal

import pytest

from limen.quantity import Grade, Outcome
from limen.rules import Excluded, Rulebook, Weight
from published.rulebooks import rule_for, says_of, shipped

Way = Literal["at least", "at most"]
HOLDS, FAILS = Outcome.HOLDS, Outcome.FAILS


@pytest.fixture(params=["2012", "2023"])
def de(request: pytest.FixtureRequest) -> Rulebook:
    return shipped("de", request.param)


@pytest.mark.parametrize(("width", "outcome"), [("900 mm", HOLDS), ("899 mm", FAILS)])
def test_a_door_for_everybody_opens_900_mm(
    de: Rulebook, width: str, outcome: Outcome
) -> None:
    rule = rule_for(de, "site.clear_width", public=True)
    assert says_of(rule, "least_width", width, "at least") is outcome
    assert rule.limit("least_width").grade is Grade.SEEN
    assert rule.weight is Weight.SHOULD


def test_it_is_not_asked_of_buildings_that_are_not_public(de: Rulebook) -> None:
    found = de.rule_for("site.clear_width", {"public": False})
    assert found == Excluded("site.clear_width", "public", False, "doorway")


@pytest.mark.parametrize(
    ("limit", "edge", "way", "outcome"),
    [
        ("lowest_from", "400 mm", "at least", HOLDS),
        ("lowest_from", "399 mm", "at least", FAILS),
        ("lowest_to", "700 mm", "at most", HOLDS),
        ("lowest_to", "701 mm", "at most", FAILS),
        ("highest_from", "1200 mm", "at least", HOLDS),
        ("highest_from", "1199 mm", "at least", FAILS),
        ("highest_to", "1600 mm", "at most", HOLDS),
        ("highest_to", "1601 mm", "at most", FAILS),
    ],
)
def test_glass_is_marked_between_400_and_700_and_between_1200_and_1600_mm(
    de: Rulebook, limit: str, edge: str, way: Way, outcome: Outcome
) -> None:
    rule = rule_for(de, "site.marking", public=True)
    assert says_of(rule, limit, edge, way) is outcome
