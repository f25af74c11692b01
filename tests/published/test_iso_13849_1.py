"""Performance levels and the rates of dangerous failure that stand for them.

EN ISO 13849-1:2015 and 2023, Safety of machinery, safety-related parts of control
systems, part 1, table of performance levels, from memory: a ≥ 1e-5, b ≥ 3e-6,
c ≥ 1e-6, d ≥ 1e-7, e ≥ 1e-8, each below the next, all an hour. EN 16005:2012 asks c
of what protects (seen in a public slide deck) and d of opening on an escape route
without break-out (second hand). Rates are exact.
"""

import pytest

from limen.quantity import Outcome
from limen.questions.wiring_papers import FEWER_THAN, HOUR
from published.rulebooks import says, shipped

QUESTION = "wiring.performance_level"


def level(an_hour: float) -> str:
    """The best level that a rate stays strictly below."""
    return max(name for name, rate in FEWER_THAN.items() if an_hour / HOUR < rate)


@pytest.mark.parametrize(
    ("an_hour", "expected"),
    [
        (5e-7, "d"),
        (2e-6, "c"),
        (1e-6, "c"),  # the boundary belongs to the lower level
        (5e-6, "b"),
        (2e-5, "a"),
        (5e-8, "e"),
    ],
)
def test_a_rate_of_dangerous_failures_stands_for_a_level(
    an_hour: float, expected: str
) -> None:
    assert level(an_hour) == expected


@pytest.mark.parametrize(
    ("limit", "rate", "outcome"),
    [
        ("presence_failures", "0.000002 /h", Outcome.HOLDS),  # c
        ("presence_failures", "0.000005 /h", Outcome.FAILS),  # b
        ("escape_failures", "0.0000005 /h", Outcome.HOLDS),  # d
        ("escape_failures", "0.000002 /h", Outcome.FAILS),  # c
    ],
)
@pytest.mark.parametrize("edition", ["2012", "2023"])
def test_what_protects_is_of_level_c_and_what_opens_an_escape_route_of_level_d(
    edition: str, limit: str, rate: str, outcome: Outcome
) -> None:
    """EN 16005:2012, 4.3 and 4.4 for c, 4.7.2 for d."""
    assert says(shipped("en", edition), QUESTION, limit, rate, "at most") is outcome
