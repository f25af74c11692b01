"""Figures borrowed from ISO 13854.

ISO 13854:2017, Safety of machinery, minimum gaps to avoid crushing of parts of the
human body; the figures were read in a public glossary as those of EN 349, which it
replaced: body 500, head 300, leg 180, foot 120, toes 50, arm 120, hand 100, finger
25 mm. Crushing only; no door standard asks for it, hence *should*.
"""

import pytest

from limen.quantity import Grade, Outcome
from limen.rules import Weight
from published.rulebooks import compared, rule_of, says, shipped

HEAD, BODY, FINGER = 0.300, 0.500, 0.025


@pytest.mark.parametrize(
    ("question", "limit", "gap", "grade"),
    [
        ("presence.side_screen", "clearance_shallow", HEAD, Grade.SEEN),
        ("presence.side_screen", "clearance_deep", BODY, Grade.SEEN),
        ("site.obstacles", "clearance_shallow", HEAD, Grade.SEEN),
        ("site.obstacles", "clearance_deep", BODY, Grade.SEEN),
        ("leaf.gaps", "leading_edge", FINGER, Grade.SEEN),
        # against drawing-in, which is none of its business: from memory of EN 16005
        ("leaf.gaps", "finger_large", FINGER, Grade.MEMORY),
    ],
)
def test_head_body_and_finger_where_the_american_standard_gives_no_figure(
    question: str, limit: str, gap: float, grade: Grade
) -> None:
    rule = rule_of(shipped("us", "2005"), question)
    assert rule.limit(limit).value == pytest.approx(gap, abs=1e-12)
    assert rule.limit(limit).grade is grade
    assert rule.source(limit).document == "ISO 13854"
    assert rule.weight is Weight.SHOULD
    assert "ngineering check" in rule.authority.note


@pytest.mark.parametrize(
    ("gap", "outcome"), [("25.0 mm", Outcome.HOLDS), ("24.9 mm", Outcome.FAILS)]
)
def test_a_finger_needs_25_mm(gap: str, outcome: Outcome) -> None:
    us = shipped("us", "2005")
    found = compared(us, "leaf.gaps", "leading_edge", gap, "at least")
    assert found.outcome is outcome
    assert not found.to_confirm


def test_its_head_needs_more_than_the_head_of_the_european_door_rules() -> None:
    question, limit = "presence.side_screen", "clearance_shallow"
    us, en = shipped("us", "2005"), shipped("en", "2023")
    assert says(us, question, limit, "210 mm", "at least") is Outcome.FAILS
    assert says(en, question, limit, "210 mm", "at least") is Outcome.HOLDS


@pytest.mark.parametrize("edition", ["2012", "2023"])
@pytest.mark.parametrize(
    ("question", "limit", "gap"),
    [
        ("presence.side_screen", "clearance_deep", BODY),
        ("site.obstacles", "clearance_deep", BODY),
        ("leaf.gaps", "finger_large", FINGER),
        ("leaf.gaps", "leading_edge", FINGER),
    ],
)
def test_body_and_finger_are_those_of_the_european_door_rules(
    edition: str, question: str, limit: str, gap: float
) -> None:
    """EN 16005 from memory; the figures agree with what the glossary has."""
    found = rule_of(shipped("en", edition), question).limit(limit)
    assert found.value == pytest.approx(gap, abs=1e-12)
    assert found.grade is Grade.MEMORY


@pytest.mark.parametrize(
    ("limit", "clearance", "outcome"),
    [
        ("clearance_shallow", "300 mm", Outcome.HOLDS),
        ("clearance_shallow", "299 mm", Outcome.FAILS),
        ("clearance_deep", "500 mm", Outcome.HOLDS),
        ("clearance_deep", "499 mm", Outcome.FAILS),
    ],
)
def test_a_head_needs_300_mm_and_a_body_500(
    limit: str, clearance: str, outcome: Outcome
) -> None:
    us = shipped("us", "2005")
    for question in ("presence.side_screen", "site.obstacles"):
        assert says(us, question, limit, clearance, "at least") is outcome
