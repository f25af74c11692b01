"""Air through an open doorway.

Brown and Solvason, Natural convection through rectangular openings in partitions,
International Journal of Heat and Mass Transfer 5, 1962; Gosney and Olama, Heat and
enthalpy gains through cold room doorways, Proceedings of the Institute of
Refrigeration 72, 1975, as the EnergyPlus Engineering Reference has it ("Density
Difference Controlled Air Exchange"); ASHRAE Handbook Fundamentals 1997, chapter 25,
equation 38.  The worked figures were evaluated with scipy and psychrolib.
"""

from math import sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from limen.physics.air import (
    GRAVITY,
    Gap,
    discharge,
    exchange,
    exchange_by_density,
    heat_flow,
    orifice,
    stack_pressure,
    wind_pressure,
)
from limen.physics.moist_air import ZERO, MoistAir, moist_air

SEA = 101_325.0
WIDE = Gap(2.0, 2.2)
CFM, FOOT, INCH_OF_WATER = 0.3048**3 / 60, 0.3048, 249.08891
APART = 0.15
"""How far two published ways to reckon the same exchange may lie apart."""


def _air(celsius: float, humidity: float) -> MoistAir:
    return moist_air(np.array([celsius + ZERO]), np.array([humidity]), np.array([SEA]))


def _brown(gap: Gap, warm: float, cold: float, discharged: float) -> float:
    warmth, coldness = np.array([warm + ZERO]), np.array([cold + ZERO])
    return float(exchange(gap, warmth, coldness, np.array([discharged]))[0])


@pytest.mark.parametrize(
    ("gap", "warm", "cold", "discharged", "flow"),
    [
        (WIDE, 21, 0, 0.6, 1.112173656),
        (Gap(1.0, 2.1), 20, 0, 0.6, 0.5065542814),
        (WIDE, 21, 0, 0.4945, 0.91662),
    ],
)
def test_brown_and_solvason_come_out(
    gap: Gap, warm: float, cold: float, discharged: float, flow: float
) -> None:
    assert _brown(gap, warm, cold, discharged) == pytest.approx(flow, abs=1e-4)


@given(st.floats(0.8, 4.0), st.floats(1.9, 3.0), st.floats(-20, 15), st.floats(1, 20))
def test_brown_and_solvason_is_the_sum_of_speeds_over_half_the_height(
    width: float, height: float, cold: float, difference: float
) -> None:
    warm = cold + difference
    mean = (warm + cold) / 2 + ZERO
    lift = GRAVITY * difference / mean
    summed, _ = quad(lambda z: sqrt(2 * lift * z), 0.0, height / 2)
    found = _brown(Gap(width, height), warm, cold, 0.6)
    assert found == pytest.approx(0.6 * width * summed, rel=1e-6)


def test_the_handbook_s_discharge_at_21_degrees() -> None:
    assert float(discharge(21.0)) == pytest.approx(0.4945, abs=1e-12)
    assert float(discharge(-21.0)) == pytest.approx(0.4945, abs=1e-12)


def test_gosney_and_olama_come_out() -> None:
    inside, outside = _air(21, 0.4), _air(0, 0.8)
    flow = exchange_by_density(WIDE, inside.density, outside.density)
    assert float(flow[0]) == pytest.approx(1.1984533, abs=1e-3)
    assert float((flow * outside.density)[0]) == pytest.approx(1.54596, abs=2e-3)


@pytest.mark.parametrize(
    ("inside", "outside", "kilowatts"),
    [
        ((21, 0.4), (0, 0.8), 45.22254128),
        ((21, 0.4), (-10, 0.8), 84.44),
        ((24, 0.5), (35, 0.4), -24.51),
    ],
)
def test_the_heat_of_a_doorway_that_stands_open(
    inside: tuple[float, float], outside: tuple[float, float], kilowatts: float
) -> None:
    found = float(heat_flow(WIDE, _air(*inside), _air(*outside))[0]) / 1000
    assert found == pytest.approx(kilowatts, abs=0.05)


@given(
    st.floats(0.8, 4.0),
    st.floats(1.9, 3.0),
    st.floats(-25, 15),
    st.floats(2, 40),
    st.floats(0.2, 0.9),
)
def test_both_ways_to_reckon_lie_within_15_percent(
    width: float, height: float, cold: float, difference: float, humidity: float
) -> None:
    """Of air that is as moist inside as outside; water weighs on its own account."""
    gap, warm = Gap(width, height), cold + difference
    outside = _air(cold, humidity)
    inside = outside.warmed_to(warm + ZERO)
    by_density = float(exchange_by_density(gap, inside.density, outside.density)[0])
    by_warmth = _brown(gap, warm, cold, 0.6)
    assert by_density == pytest.approx(by_warmth, rel=APART)


@given(st.floats(-25, 15), st.floats(0.5, 20), st.floats(0.5, 20))
def test_more_air_moves_where_it_is_colder(
    cold: float, difference: float, more: float
) -> None:
    one = _brown(WIDE, cold + difference, cold, 0.6)
    other = _brown(WIDE, cold + difference, cold - more, 0.6)
    assert other > one


def test_no_difference_moves_no_air_and_no_heat() -> None:
    same = _air(20, 0.5)
    assert _brown(WIDE, 20, 20, 0.6) == 0.0
    assert float(heat_flow(WIDE, same, same)[0]) == 0.0


def test_an_orifice_under_four_pascals() -> None:
    assert orifice(4.4, 4, 1.2, 0.65) == pytest.approx(7.384488247, abs=1e-4)


def test_an_orifice_in_feet_gives_nearly_the_usual_constant() -> None:
    found = orifice(FOOT**2, INCH_OF_WATER, 1.2, 1.0) / CFM
    assert found == pytest.approx(4010.9, abs=0.5)


def test_the_unit_of_the_overall_coefficient() -> None:
    found = CFM / (FOOT**2 * sqrt(INCH_OF_WATER))
    assert found == pytest.approx(0.0003218744588, abs=1e-9)


def test_the_stack_of_ten_metres_of_warm_air() -> None:
    found = stack_pressure(10, 21 + ZERO, ZERO, SEA)
    assert found == pytest.approx(9.04735037, abs=0.005)


@pytest.mark.parametrize(
    ("speed", "share", "pascal"), [(5, 1.0, 15.0), (5, 0.6, 9.0), (6.7, 1.0, 26.934)]
)
def test_the_wind_that_comes_to_rest(speed: float, share: float, pascal: float) -> None:
    assert wind_pressure(speed, 1.2, share) == pytest.approx(pascal, abs=1e-3)
