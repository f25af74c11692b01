"""Figures of German rules for automatic sliding doors on escape routes.

Richtlinie über automatische Schiebetüren in Rettungswegen (AutSchR), 1997, as a
public encyclopedia tells it: at least 80 % of the clear width within 3 s, for doors
up to 2 m. DGUV Information 208-022, Türen und Tore, sections 9(1) and
10.1(3), read in the public text: 220 N by hand. Figures are exact.
"""

import pytest

from limen.quantity import Grade, Outcome
from limen.rules import Rule, Rulebook, Weight
from published.rulebooks import rule_for, says_of, shipped

HOLDS, FAILS = Outcome.HOLDS, Outcome.FAILS


@pytest.fixture(params=["2012", "2023"])
def de(request: pytest.FixtureRequest) -> Rulebook:
    return shipped("de", request.param)


def cited(rule: Rule) -> set[tuple[str, str]]:
    return {(one.document, one.clause) for one in rule.authorities()}


@pytest.mark.parametrize(
    ("seconds", "outcome"),
    [
        ("1.600 s", HOLDS),  # two leaves, 2000 mm, 0.5 m/s each: 1600 / 1000
        ("3.0 s", HOLDS),
        ("3.200 s", FAILS),  # one leaf, 1200 mm, 0.30 m/s: 960 / 300
    ],
)
def test_most_of_the_width_is_free_within_3_s(
    de: Rulebook, seconds: str, outcome: Outcome
) -> None:
    """AutSchR 1997, second hand."""
    rule = rule_for(de, "leaf.escape_opening", escape_route=True)
    assert says_of(rule, "time", seconds, "at most") is outcome
    assert {"AutSchR", f"EN 16005:{de.edition}"} <= {one for one, _ in cited(rule)}


@pytest.mark.parametrize(("share", "outcome"), [("80 %", HOLDS), ("79 %", FAILS)])
def test_most_of_the_width_is_80_percent(
    de: Rulebook, share: str, outcome: Outcome
) -> None:
    """AutSchR 1997, second hand."""
    rule = rule_for(de, "leaf.escape_opening", escape_route=True)
    assert says_of(rule, "share", share, "at least") is outcome


@pytest.mark.parametrize("escape", [True, False])
@pytest.mark.parametrize(("force", "outcome"), [("220 N", HOLDS), ("221 N", FAILS)])
def test_a_leaf_opens_by_hand_with_220_n(
    de: Rulebook, force: str, outcome: Outcome, escape: bool
) -> None:
    """DGUV Information 208-022, 10.1(3), and for escape routes 9(1); seen."""
    rule = rule_for(de, "leaf.power_loss", escape_route=escape)
    assert says_of(rule, "hand_force", force, "at most") is outcome
    assert rule.limit("hand_force").grade is Grade.SEEN
    assert ("DGUV Information 208-022", "9(1)" if escape else "10.1(3)") in cited(rule)
    assert rule.weight is Weight.MUST
