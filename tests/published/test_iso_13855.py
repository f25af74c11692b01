"""Separation distances of ISO 13855.

ISO 13855:2010, Safety of machinery, positioning of safeguards with respect to the
approach speeds of parts of the human body, 6.2.3, 6.3 and 7, and ISO 13855:2024.
The text was not at hand: 2010 is from memory but for mats (section 7), which a
public consultant's page tells, as it does the 2024 formulae. Distances are exact to
the millimetre. No standard for pedestrian doors asks for them.
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from limen.physics.separation import (
    CRAWLED_UNDER_2010,
    CRAWLED_UNDER_2024,
    across_2010,
    least_height,
    level_2010,
    level_2024,
    mat_2010,
)

EXACT = 1e-9
TIMES = st.floats(0.0, 2.0)


@pytest.mark.parametrize(
    ("resolution", "time", "distance"),
    [
        (0.014, 0.10, 0.200),  # 2000 T alone: nothing of a finger gets past 14 mm
        (0.030, 0.10, 0.328),
        (0.030, 0.30, 0.608),  # 728 > 500: again with 1600 mm/s
        (0.040, 0.20, 0.528),
        (0.014, 0.02, 0.100),  # 40: at least 100
        (0.030, 0.19, 0.500),  # 508 > 500, 432 with 1600 mm/s: at least 500
        (0.050, 0.30, 1.330),  # finds an arm, not a hand: 850
    ],
)
def test_a_field_across_the_way_2010(
    resolution: float, time: float, distance: float
) -> None:
    """Edition 2010, 6.2.3, from memory."""
    assert across_2010(resolution, time) == pytest.approx(distance, abs=EXACT)


@pytest.mark.parametrize(("height", "distance"), [(0.300, 1.560), (1.000, 1.330)])
def test_a_level_field_2010_may_be_nearer_the_higher_it_is(
    height: float, distance: float
) -> None:
    """Edition 2010, 6.3, from memory."""
    assert level_2010(height, 0.3) == pytest.approx(distance, abs=EXACT)


def test_a_level_field_2024_has_the_same_distance_at_any_height() -> None:
    """Edition 2024, as told by a public page; Z is a supplement for errors."""
    assert level_2024(0.3) == pytest.approx(1.680, abs=EXACT)
    assert level_2024(0.3, 0.1) == pytest.approx(1.780, abs=EXACT)


def test_the_page_on_separation_distances_says_1840_mm_for_a_usual_door() -> None:
    """docs/method/separation.md: 0.1 s to answer, 0.3 s to stand (2024, level)."""
    assert level_2024(0.1 + 0.3) == pytest.approx(1.840, abs=EXACT)


def test_a_mat_2010() -> None:
    """Edition 2010, section 7, as told by a public page."""
    assert mat_2010(0.25) == pytest.approx(1.600, abs=EXACT)


def test_a_field_that_finds_70_mm_stands_300_mm_high_or_more() -> None:
    """Edition 2024, as told by a public page; that is above its crawling height."""
    assert least_height(0.070) == pytest.approx(0.300, abs=EXACT)
    assert least_height(0.070) > CRAWLED_UNDER_2024
    assert least_height(0.070) == pytest.approx(CRAWLED_UNDER_2010, abs=EXACT)


@given(time=TIMES, more=st.floats(0.0, 1.0), resolution=st.floats(0.0, 0.07))
def test_who_answers_later_must_stand_further_out(
    time: float, more: float, resolution: float
) -> None:
    assert across_2010(resolution, time + more) >= across_2010(resolution, time) - EXACT
    assert level_2024(time + more) >= level_2024(time)
    assert mat_2010(time + more) >= mat_2010(time)


@given(time=TIMES, finer=st.floats(0.0, 0.04), coarser=st.floats(0.0, 0.07))
def test_who_finds_only_larger_bodies_stands_no_nearer(
    time: float, finer: float, coarser: float
) -> None:
    finer, coarser = min(finer, coarser), max(finer, coarser)
    assert across_2010(finer, time) <= across_2010(coarser, time) + EXACT


@given(time=TIMES, height=st.floats(0.0, 1.0))
def test_the_2024_distance_is_up_to_350_mm_more_and_never_less(
    time: float, height: float
) -> None:
    more = level_2024(time) - level_2010(height, time)
    assert -EXACT <= more <= 0.350 + EXACT


@pytest.mark.parametrize(
    "call",
    [
        lambda: across_2010(0.071, 0.1),
        lambda: across_2010(0.03, -0.1),
        lambda: level_2010(1.1, 0.1),
        lambda: level_2024(float("nan")),
        lambda: level_2024(0.1, -0.1),
        lambda: mat_2010(float("inf")),
        lambda: least_height(-0.01),
    ],
)
def test_what_the_formulae_do_not_cover_is_refused(call: object) -> None:
    assert callable(call)
    with pytest.raises(ValueError, match="is needed"):
        call()
