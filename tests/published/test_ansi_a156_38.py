"""Low-energy sliding doors, to which limen points and by which it does not judge.

ANSI/BHMA A156.38-2019, Low Energy Power Operated Sliding and Folding Doors, second
hand: opening at 12 in/s at most, closing at 6 in/s at most. Times are to 0.1 s.
"""

import pytest

from limen.quantity import Dimension, parse
from published.rulebooks import shipped


@pytest.mark.parametrize(("speed", "least_time"), [("12 in/s", 3.0), ("6 in/s", 6.0)])
def test_a_leaf_of_36_in_opens_in_3_s_at_least_and_closes_in_6(
    speed: str, least_time: float
) -> None:
    """Without the slow part before closed."""
    way = parse("36 in", Dimension.LENGTH).value
    time = way / parse(speed, Dimension.SPEED).value
    assert time == pytest.approx(least_time, abs=1e-9)


def test_the_rulebook_points_to_it_and_judges_by_no_figure_of_it() -> None:
    us = shipped("us", "2005")
    assert "ANSI/BHMA A156.38" in {one.name for one in us.documents}
    cited = {source.document for rule in us.rules for source in rule.authorities()}
    assert "ANSI/BHMA A156.38" not in cited
