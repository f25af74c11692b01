"""What a closing leaf strikes with, and how far it runs on."""

from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builders.doorways import a_doorway
from limen.physics.leaf_speed import Span
from limen.physics.leaf_strike import (
    energy,
    mass_of,
    run_on,
    speed_for,
    strikes_at,
    with_jerk,
)
from limen.quantity import Grade

MASS = st.floats(10.0, 300.0)
SPEED = st.floats(0.01, 1.5)
BRAKES = st.floats(0.2, 6.0)
WAIT = st.floats(0.0, 1.0)


@given(MASS, SPEED)
def test_the_speed_for_an_energy_has_that_energy(mass: float, speed: float) -> None:
    assert speed_for(energy(mass, speed), mass) == pytest.approx(speed)


@given(MASS, SPEED)
def test_twice_the_speed_is_four_times_the_energy(mass: float, speed: float) -> None:
    assert energy(mass, 2 * speed) == pytest.approx(4 * energy(mass, speed))


@given(SPEED, WAIT, BRAKES)
def test_a_leaf_stands_once_it_has_run_on(
    speed: float, wait: float, brakes: float
) -> None:
    steps = 4000
    end = wait + speed / brakes
    way = sum(
        strikes_at(speed, wait, brakes, (n + 0.5) * end / steps) * end / steps
        for n in range(steps)
    )
    assert way == pytest.approx(run_on(speed, wait, brakes), rel=1e-3)
    assert strikes_at(speed, wait, brakes, end) == pytest.approx(0.0, abs=1e-12)


@given(SPEED, WAIT, BRAKES, WAIT)
def test_noticed_sooner_it_strikes_no_harder(
    speed: float, wait: float, brakes: float, lead: float
) -> None:
    struck = strikes_at(speed, wait, brakes, lead)
    assert 0.0 <= struck <= speed
    assert strikes_at(speed, wait, brakes, lead + 0.1) <= struck
    assert strikes_at(speed, wait + 0.1, brakes, lead) >= struck


def test_the_mass_is_that_of_the_glass_or_more_where_only_glass_is_known() -> None:
    glass: dict[str, object] = {
        "leaves.mass": None,
        "leaves.glass": "10 mm",
        "leaves.width": "1000 mm",
        "leaves.height": "2200 mm",
    }
    mass = mass_of(a_doorway(glass))
    assert isinstance(mass, Span)
    assert (mass.low, mass.high) == pytest.approx((55.0, 70.0))
    assert Grade.ESTIMATE in mass.grades
    del glass["leaves.width"]
    assert mass_of(a_doorway(glass)) == ("leaves.mass",)


def test_a_stated_mass_wins() -> None:
    mass = mass_of(a_doorway({"leaves.mass": "60 kg ± 2 kg", "leaves.glass": "10 mm"}))
    assert isinstance(mass, Span)
    assert (mass.low, mass.high) == (58.0, 62.0)


@pytest.mark.parametrize("wrong", [0.0, -1.0, inf])
def test_a_smooth_way_needs_positive_figures(wrong: float) -> None:
    with pytest.raises(ValueError, match="more than 0"):
        with_jerk(1.0, 0.5, 1.0, wrong)


def test_a_smooth_way_too_short_for_its_speed_is_refused() -> None:
    with pytest.raises(ValueError, match="too short"):
        with_jerk(0.2, 0.5, 1.0, 5.0)
