"""What a lead takes of the voltage, whatever its size."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from limen.physics.cable import (
    AT_20,
    at_current,
    at_power,
    gauge_area,
    longest,
    loop_most,
    loop_of,
    per_metre,
    span_of_area,
    span_of_gauge,
    warmed,
)

SUPPLY = st.floats(5.0, 60.0)
LOOP = st.floats(0.0, 50.0)
SOME = st.floats(0.01, 2.0)
WARM = st.floats(230.0, 370.0)


@given(SUPPLY, LOOP, st.floats(0.0, 20.0))
def test_a_load_of_fixed_power_gets_what_its_own_current_leaves(
    supply: float, loop: float, power: float
) -> None:
    """The oracle: at the voltage found, supply less loop times power by voltage."""
    found = at_power(supply, loop, power)
    if found is None:
        assert power * loop > supply**2 / 4
        return
    assert at_current(supply, loop, power / found) == pytest.approx(found, rel=1e-9)
    assert found >= supply / 2


@given(SUPPLY, SOME)
def test_the_most_a_lead_may_resist_is_where_the_load_gets_half(
    supply: float, power: float
) -> None:
    most = loop_most(supply, power)
    found = at_power(supply, most * (1 - 1e-12), power)
    assert found == pytest.approx(supply / 2, rel=1e-4)
    assert at_power(supply, most * (1 + 1e-9), power) is None


@given(SUPPLY, LOOP, SOME, st.floats(1.0, 3.0))
def test_more_load_or_more_lead_never_leaves_more_voltage(
    supply: float, loop: float, amount: float, more: float
) -> None:
    assert at_current(supply, loop, amount * more) <= at_current(supply, loop, amount)
    assert at_current(supply, loop * more, amount) <= at_current(supply, loop, amount)
    before = at_power(supply, loop, amount) or 0.0
    assert (at_power(supply, loop, amount * more) or 0.0) <= before
    assert (at_power(supply, loop * more, amount) or 0.0) <= before


@given(SUPPLY, LOOP, SOME)
def test_a_fixed_power_gets_no_more_than_its_nominal_current_would(
    supply: float, loop: float, power: float
) -> None:
    found = at_power(supply, loop, power)
    nominal = at_current(supply, loop, power / supply)
    assert found is None or found <= nominal + 1e-12


@given(WARM, WARM)
def test_copper_resists_more_the_warmer_it_is(one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert warmed(1.0, low) <= warmed(1.0, high)
    assert warmed(1.0, AT_20) == 1.0


@given(st.floats(0.1, 500.0), st.floats(1e-4, 1.0), SOME)
def test_the_longest_lead_takes_just_what_is_to_spare(
    length: float, each: float, current: float
) -> None:
    lost = loop_of(length, each) * current
    assert longest(lost, each, current) == pytest.approx(length, rel=1e-12)


@given(st.integers(10, 32))
def test_three_gauges_up_halve_the_copper(awg: int) -> None:
    """Six gauges double the diameter to within a third of a percent."""
    ratio = gauge_area(awg) / gauge_area(awg + 3)
    assert ratio == pytest.approx(2.0, rel=6e-3)


def test_bounds_are_in_order() -> None:
    for area in (0.14e-6, 0.5e-6, 2.5e-6):
        span = span_of_area(area)
        assert span is not None
        assert 0 < span[0] < span[1]
    low, high = span_of_gauge(22)
    assert 0 < low < high


@pytest.mark.parametrize("area", [0.0, -1e-6])
def test_a_core_without_copper_is_refused(area: float) -> None:
    with pytest.raises(ValueError, match="cross-section"):
        per_metre(area)


def test_nothing_drawn_has_no_longest_lead() -> None:
    with pytest.raises(ValueError, match="longest"):
        longest(2.0, 0.04, 0.0)
    with pytest.raises(ValueError, match="power"):
        loop_most(12.0, 0.0)
