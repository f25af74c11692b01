"""A figure of the Australian building code.

National Construction Code of Australia, volume one, 2022, clause D3D24, Doorways and
doors; D2.19(b)(iii) and (iv) in older editions; read at a code consultant's and in
the authority's public guide. The figure is exact. AS 5007 was not seen.
"""

import pytest

from limen.quantity import Grade, Outcome
from limen.rules import How, Rulebook
from published.rulebooks import rule_for, says_of, shipped


@pytest.fixture(params=["2012", "2023"])
def au(request: pytest.FixtureRequest) -> Rulebook:
    return shipped("au", request.param)


@pytest.mark.parametrize(
    ("force", "outcome"), [("110 N", Outcome.HOLDS), ("111 N", Outcome.FAILS)]
)
def test_an_exit_door_opens_by_hand_with_110_n(
    au: Rulebook, force: str, outcome: Outcome
) -> None:
    """D3D24, seen: on malfunction or loss of power."""
    rule = rule_for(au, "leaf.power_loss", escape_route=True)
    assert says_of(rule, "hand_force", force, "at most") is outcome
    assert rule.limit("hand_force").grade is Grade.SEEN
    assert rule.source("hand_force").document == "NCC"


def test_it_is_half_of_what_is_asked_in_europe_and_both_are_cited(au: Rulebook) -> None:
    rule = rule_for(au, "leaf.power_loss", escape_route=True)
    en = rule_for(shipped("en", au.edition), "leaf.power_loss", escape_route=True)
    assert rule.limit("hand_force").value == pytest.approx(
        en.limit("hand_force").value / 2
    )
    assert {one.document for one in en.authorities()} < {
        one.document for one in rule.authorities()
    }
    assert How.TIGHTENS in {one.how for one in au.differences}


def test_all_else_stands_in_for_a_standard_that_was_not_seen(au: Rulebook) -> None:
    """AS 5007: its content was not seen, and nothing European is law there."""
    touched = {one.rule for one in au.differences}
    others = [rule for rule in au.rules if rule.id not in touched]
    assert all(rule.stricter for rule in others)
    european = [one for one in others if one.authority.document.startswith("EN")]
    assert european
    assert all("AS 5007" in one.authority.note for one in european)
