"""Clear width under American federal law.

2010 ADA Standards for Accessible Design, section 404.3.1 (36 CFR part 1191, appendix
D), as quoted in a public trade article: at least 32 in (815 mm), power on and off,
all leaves open. The inch is the master: 32 in are 812.8 mm exactly.
"""

import pytest

from limen.quantity import Grade, Outcome
from limen.rules import Weight
from published.rulebooks import compared, rule_of, says, shipped

US = shipped("us", "2005")
QUESTION, LIMIT = "site.clear_width", "least_width"
INCH_VALUE, PRINTED = 0.8128, 0.815


@pytest.mark.parametrize(
    ("width", "outcome"),
    [
        ("32 in", Outcome.HOLDS),
        ("812.8 mm", Outcome.HOLDS),
        ("815 mm", Outcome.HOLDS),
        ("812 mm", Outcome.FAILS),
        ("31 15/16 in", Outcome.FAILS),
    ],
)
def test_a_door_opens_32_in(width: str, outcome: Outcome) -> None:
    found = compared(US, QUESTION, LIMIT, width, "at least")
    assert found.outcome is outcome
    assert not found.to_confirm


def test_812_mm_are_too_little_whichever_way_the_figure_is_printed() -> None:
    limit = rule_of(US, QUESTION).limit(LIMIT)
    assert limit.value == pytest.approx(INCH_VALUE, abs=1e-12)
    assert 0.812 < INCH_VALUE < PRINTED
    assert says(US, QUESTION, LIMIT, "812 mm", "at least") is Outcome.FAILS


def test_it_is_a_must_and_says_where_it_was_read_and_how_it_is_printed() -> None:
    rule = rule_of(US, QUESTION)
    assert rule.weight is Weight.MUST
    assert rule.limit(LIMIT).grade is Grade.SEEN
    assert rule.authority.clause == "404.3.1"
    assert "815 mm" in rule.authority.note
    assert "11B-404.3.1" in rule.authority.note
