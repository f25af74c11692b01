"""Moist air.

ASHRAE Handbook Fundamentals 2017, chapter 1, tables 2 and 3, as the SI tests of
psychrolib 2.5 quote them (tests/test_psychrolib_si.py, with these tolerances; MIT);
and psychrolib 2.5 itself, over all the air that a door may meet.
"""

import numpy as np
import psychrolib
import pytest

from limen.physics.moist_air import (
    WATER_TO_AIR,
    ZERO,
    MoistAir,
    moist_air,
    pressure_at,
    saturation,
)

SEA = 101_325.0
SATURATION_PA = [
    (-60, 1.08, 0.01 / 1.08),
    (-20, 103.24, 0.0003),
    (-5, 401.74, 0.0003),
    (5, 872.6, 0.0003),
    (25, 3169.7, 0.0003),
    (50, 12351.3, 0.0003),
    (100, 101418.0, 0.0003),
    (150, 476101.4, 0.0003),
]
SATURATED_MOISTURE = [
    (-50, 0.0000243, 0.01),
    (-20, 0.0006373, 0.01),
    (-5, 0.0024863, 0.005),
    (5, 0.005425, 0.005),
    (25, 0.020173, 0.005),
    (50, 0.086863, 0.01),
]
SATURATED_ENTHALPY = [(-20, -18542, 0.01), (5, 18639, 0.01), (25, 76504, 0.01)]
ATMOSPHERE_PA = [
    (-500, 107478),
    (0, 101325),
    (500, 95461),
    (1000, 89875),
    (4000, 61640),
]
WORKED = [
    (21, 0.4, 36_794.1, 1.19560),
    (0, 0.8, 7_542.1, 1.28996),
    (-10, 0.8, -6_885.3, 1.34039),
    (35, 0.4, 71_473.2, 1.13592),
    (24, 0.5, 47_814.6, 1.18133),
]
"""Temperature (°C), humidity, enthalpy (J/kg, ± 1) and density (kg/m³, ± 1e-4)."""


@pytest.fixture(autouse=True)
def _si() -> None:
    psychrolib.SetUnitSystem(psychrolib.SI)


def _air(celsius: float, humidity: float, pressure: float = SEA) -> MoistAir:
    return moist_air(
        np.array([celsius + ZERO]), np.array([humidity]), np.array([pressure])
    )


@pytest.mark.parametrize(("celsius", "pascal", "share"), SATURATION_PA)
def test_saturated_vapour_has_the_pressure_of_table_3(
    celsius: float, pascal: float, share: float
) -> None:
    found = float(saturation(np.array([celsius + ZERO]))[0])
    assert found == pytest.approx(pascal, rel=share)


@pytest.mark.parametrize(("celsius", "moisture", "share"), SATURATED_MOISTURE)
def test_saturated_air_holds_the_water_of_table_2(
    celsius: float, moisture: float, share: float
) -> None:
    assert float(_air(celsius, 1.0).moisture[0]) == pytest.approx(moisture, rel=share)


@pytest.mark.parametrize(("celsius", "joules", "share"), SATURATED_ENTHALPY)
def test_saturated_air_carries_the_heat_of_table_2(
    celsius: float, joules: float, share: float
) -> None:
    assert float(_air(celsius, 1.0).enthalpy[0]) == pytest.approx(joules, rel=share)


@pytest.mark.parametrize(("altitude", "pascal"), ATMOSPHERE_PA)
def test_the_standard_atmosphere_is_that_of_table_1(
    altitude: float, pascal: float
) -> None:
    assert pressure_at(altitude) == pytest.approx(pascal, abs=1)


def test_heat_and_weight_are_those_computed_by_hand_at_30_degrees() -> None:
    vapour = 0.02 * 95_461 / (WATER_TO_AIR + 0.02)
    state = _air(30, vapour / float(saturation(np.array([30 + ZERO]))[0]), 95_461)
    assert float(state.moisture[0]) == pytest.approx(0.02, rel=1e-9)
    assert float(state.enthalpy[0]) == pytest.approx(81_316, rel=0.0003)
    assert float(state.density[0]) == pytest.approx(1.08411986348219, rel=0.0003)


@pytest.mark.parametrize(("celsius", "humidity", "joules", "kilograms"), WORKED)
def test_the_worked_states_come_out(
    celsius: float, humidity: float, joules: float, kilograms: float
) -> None:
    state = _air(celsius, humidity)
    assert float(state.enthalpy[0]) == pytest.approx(joules, abs=1)
    assert float(state.density[0]) == pytest.approx(kilograms, abs=1e-4)


def test_every_state_that_a_door_may_meet_is_that_of_psychrolib() -> None:
    for celsius in np.arange(-45.0, 51.0, 4.7):
        for humidity in (0.02, 0.31, 0.77, 1.0):
            for pressure in (70_000.0, 101_325.0, 104_000.0):
                own = _air(celsius, humidity, pressure)
                water = psychrolib.GetHumRatioFromRelHum(celsius, humidity, pressure)
                heat = psychrolib.GetMoistAirEnthalpy(celsius, water)
                weight = psychrolib.GetMoistAirDensity(celsius, water, pressure)
                assert float(own.moisture[0]) == pytest.approx(
                    water, rel=1e-9, abs=1e-7
                )
                assert float(own.enthalpy[0]) == pytest.approx(heat, rel=1e-9, abs=0.3)
                assert float(own.density[0]) == pytest.approx(weight, rel=1e-7)


def test_no_state_is_made_of_what_is_no_humidity_or_no_number() -> None:
    with pytest.raises(ValueError, match="between 0 and 1"):
        _air(20, 1.2)
    with pytest.raises(ValueError, match="numbers only"):
        _air(float("nan"), 0.5)


def test_air_that_is_warmed_keeps_its_water() -> None:
    cold = _air(0, 0.8)
    warm = cold.warmed_to(21 + ZERO)
    assert warm.moisture == pytest.approx(cold.moisture)
    dry = 1006.0 * 21
    assert float((warm.enthalpy - cold.enthalpy)[0]) == pytest.approx(
        dry + 1860.0 * 21 * float(cold.moisture[0])
    )
