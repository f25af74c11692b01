"""The one comparison with a limit."""

import itertools
import math
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from limen.quantity import (
    Grade,
    Outcome,
    Quantity,
    at_least,
    at_most,
    cap,
    least,
)

_STRONG = (Grade.SEEN, Grade.SHEET, Grade.MEASURED, Grade.OWN, Grade.DERIVED)
_ORDER = {Outcome.FAILS: 0, Outcome.NOT_SHOWN: 1, Outcome.HOLDS: 2}
_values = st.floats(-1000, 1000)
_us = st.one_of(st.just(0.0), st.floats(0, 10))


def _outcome(value: float, u: float = 0.0, limit: float = 0.2) -> Outcome:
    return at_least(Quantity(value, u), Quantity(limit)).outcome


@pytest.mark.parametrize(
    ("value", "u", "outcome"),
    [
        (0.2, 0.0, Outcome.HOLDS),
        (0.1999, 0.0, Outcome.FAILS),
        (0.203, 0.003, Outcome.HOLDS),
        (0.202, 0.003, Outcome.NOT_SHOWN),
        (0.2, 0.003, Outcome.NOT_SHOWN),
        (0.198, 0.003, Outcome.NOT_SHOWN),
        (0.197, 0.003, Outcome.NOT_SHOWN),
        (0.1969, 0.003, Outcome.FAILS),
    ],
)
def test_a_limit_holds_fails_or_is_not_shown(
    value: float, u: float, outcome: Outcome
) -> None:
    assert _outcome(value, u) is outcome


@pytest.mark.parametrize("value", [0.1 + 0.2, 0.3, 3 * 0.1, 1.1 - 0.8])
def test_float_noise_never_flips_a_touch(value: float) -> None:
    found, limit = Quantity(value), Quantity(0.3)
    for comparison in (at_least(found, limit), at_most(found, limit)):
        assert comparison.outcome is Outcome.HOLDS
        assert comparison.margin == 0


@given(_values, _us, st.floats(-1e-12, 1e-12))
def test_noise_far_below_the_scale_changes_no_touch(
    limit: float, u: float, noise: float
) -> None:
    touch = Quantity((limit + u) * (1 + noise), u)
    scale = abs(limit) + u
    found = at_least(touch, Quantity(limit), scale=scale)
    assert found.outcome is Outcome.HOLDS


def test_a_difference_carries_the_noise_of_what_it_was_made_of() -> None:
    gap = Quantity(10.3 - 10.2 - 0.1)
    assert gap.value != 0
    assert at_most(gap, Quantity(0.0)).outcome is Outcome.FAILS
    assert at_most(gap, Quantity(0.0), scale=10.3).outcome is Outcome.HOLDS


@given(_values, _values, _us, _values)
def test_more_is_never_worse_for_at_least(
    a: float, b: float, u: float, limit: float
) -> None:
    low, high = sorted((a, b))
    assert _ORDER[_outcome(low, u, limit)] <= _ORDER[_outcome(high, u, limit)]


@given(_values, st.floats(0, 10), st.floats(0, 10), _values)
def test_more_doubt_never_settles_a_comparison(
    value: float, u: float, more: float, limit: float
) -> None:
    before, after = _outcome(value, u, limit), _outcome(value, u + more, limit)
    assert after in (before, Outcome.NOT_SHOWN)


@given(_values, _us, _values, _us)
def test_at_most_is_at_least_seen_in_the_mirror(
    value: float, u: float, limit: float, limit_u: float
) -> None:
    found, bound = Quantity(value, u), Quantity(limit, limit_u)
    mirrored = at_least(Quantity(-value, u), Quantity(-limit, limit_u))
    assert at_most(found, bound) == mirrored


@given(_values, _us, _values, _us)
def test_the_outcome_is_that_of_both_ends(
    value: float, u: float, limit: float, limit_u: float
) -> None:
    found, bound = Quantity(value, u), Quantity(limit, limit_u)
    comparison = at_least(found, bound)
    worst, best = found.low - bound.high, found.high - bound.low
    touch = 1e-8 * max(abs(value), abs(limit), u + limit_u)
    if worst > touch:
        assert comparison.outcome is Outcome.HOLDS
    if best < -touch:
        assert comparison.outcome is Outcome.FAILS
    if worst < -touch and best > touch:
        assert comparison.outcome is Outcome.NOT_SHOWN
    assert comparison.u == u + limit_u


@pytest.mark.parametrize("pair", list(itertools.product(Grade, Grade)))
def test_only_grades_that_may_hold_give_holds(pair: tuple[Grade, Grade]) -> None:
    room = at_least(Quantity(1, grade=pair[0]), Quantity(0, grade=pair[1]))
    may = all(grade.may_hold for grade in pair)
    assert room.outcome is (Outcome.HOLDS if may else Outcome.NOT_SHOWN)
    assert room.capped is not may
    assert room.margin == 1
    assert room.to_confirm is (may and any(grade.to_confirm for grade in pair))


@pytest.mark.parametrize("grade", Grade)
def test_any_grade_may_fail(grade: Grade) -> None:
    short = at_least(Quantity(0, grade=grade), Quantity(1))
    assert short.outcome is Outcome.FAILS
    assert not short.capped


@pytest.mark.parametrize("outcome", Outcome)
def test_a_cap_never_betters_an_outcome(outcome: Outcome) -> None:
    for grade in Grade:
        assert _ORDER[cap(outcome, grade).outcome] <= _ORDER[outcome]


@given(st.lists(st.sampled_from(Grade), min_size=1, max_size=6), st.randoms())
def test_the_least_grade_knows_no_order(grades: list[Grade], random: Random) -> None:
    shuffled = random.sample(grades, len(grades))
    assert least(*grades) == least(*shuffled)


@given(st.lists(st.sampled_from(Grade), min_size=2, max_size=6))
def test_the_least_grade_can_be_found_step_by_step(grades: list[Grade]) -> None:
    assert least(least(*grades[:-1]), grades[-1]) == least(*grades)


def test_grades_are_ordered_as_the_principles_say() -> None:
    assert least(Grade.SEEN, Grade.SEEN) is Grade.SEEN
    assert least(Grade.SEEN, Grade.OWN) is Grade.DERIVED
    weaker = (Grade.MEMORY, Grade.PRACTICE, Grade.ESTIMATE, Grade.UNSURE)
    for strong, (above, below) in itertools.product(
        _STRONG, itertools.pairwise(weaker)
    ):
        assert least(strong, above) is above
        assert least(above, below) is below


def test_a_result_from_nothing_has_no_grade() -> None:
    with pytest.raises(ValueError, match="at least one"):
        least()
    with pytest.raises(ValueError, match="at least one"):
        cap(Outcome.HOLDS)


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf])
def test_a_quantity_is_finite(bad: float) -> None:
    with pytest.raises(ValueError, match="finite"):
        Quantity(bad)
    with pytest.raises(ValueError, match="finite"):
        Quantity(0.0, bad)


def test_an_uncertainty_is_not_negative() -> None:
    with pytest.raises(ValueError, match="not negative"):
        Quantity(0.0, -1e-9)


def test_a_quantity_is_a_bound_not_a_deviation() -> None:
    found = Quantity(1.8, 0.003)
    assert (found.low, found.high) == pytest.approx((1.797, 1.803))
