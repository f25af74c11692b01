"""Figures of the German technical rules for workplaces.

ASR A1.7, Technische Regeln für Arbeitsstätten: Türen und Tore, edition of November
2009 (the date is from memory), sections 6(3), 6(5) and 10.2, read in the public
text. Figures are exact.
"""

import pytest

from limen.quantity import Grade, Outcome
from limen.rules import How, Rulebook, Weight
from published.rulebooks import rule_of, says, shipped

HOLDS, FAILS = Outcome.HOLDS, Outcome.FAILS


@pytest.fixture(params=["2012", "2023"])
def de(request: pytest.FixtureRequest) -> Rulebook:
    return shipped("de", request.param)


@pytest.mark.parametrize(
    ("gap", "outcome"),
    [("8.0 mm", HOLDS), ("8.1 mm", FAILS), ("9 mm", FAILS), ("24.9 mm", FAILS)],
)
def test_a_secondary_edge_needs_no_guard_beside_a_gap_of_8_mm(
    de: Rulebook, gap: str, outcome: Outcome
) -> None:
    """Section 6(5), seen."""
    rule = rule_of(de, "leaf.gaps")
    assert says(de, "leaf.gaps", "finger_small", gap, "at most") is outcome
    assert rule.limit("finger_small").grade is Grade.SEEN
    assert rule.source("finger_small").clause == "6(5)"


def test_distances_are_kept_in_daily_use(de: Rulebook) -> None:
    """Section 6(3), seen: no goods beside the leaves."""
    rule = rule_of(de, "site.obstacles")
    cited = {(one.rulebook, one.document, one.clause) for one in rule.authorities()}
    assert ("de", "ASR A1.7", "6(3)") in cited
    assert rule.weight is Weight.MUST


def test_it_asks_for_a_check_at_least_yearly(de: Rulebook) -> None:
    """Section 10.2, seen."""
    assert any("at least yearly" in note for note in de.notes)
    assert rule_of(de, "keeping.due").limit("interval").value == 12.0


def test_its_figures_agree_with_the_european_ones(de: Rulebook) -> None:
    gaps = [one for one in de.differences if one.authority.document == "ASR A1.7"]
    assert [one.how for one in gaps] == [How.AGREES, How.CITES, How.AGREES]
