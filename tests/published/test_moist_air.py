"""Moist air.

ASHRAE Handbook Fundamentals 2017, chapter 1, tables 2 and 3, as the SI tests of
psychrolib 2.5 quote them (tests/test_psychrolib_si.py, with these tolerances; MIT).
The worked states were computed by psychrolib 2.5: another release that says otherwise
is noticed.
"""

import numpy as np
import psychrolib
import pytest

from limen.physics import moist_air as module
from limen.physics.moist_air import ZERO, MoistAir, moist_air, psychrometry

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
WORKED = [
    (21, 0.4, 36_794.1, 1.19560),
    (0, 0.8, 7_542.1, 1.28996),
    (-10, 0.8, -6_885.3, 1.34039),
    (35, 0.4, 71_473.2, 1.13592),
    (24, 0.5, 47_814.6, 1.18133),
]
"""Temperature (°C), humidity, enthalpy (J/kg, ± 1) and density (kg/m³, ± 1e-4)."""


WATER_TO_AIR = 0.621945
"""Ratio of molar masses; equation 20."""


def _air(celsius: float, humidity: float, pressure: float = SEA) -> MoistAir:
    return moist_air(
        np.array([celsius + ZERO]), np.array([humidity]), np.array([pressure])
    )


def _saturation(celsius: float) -> float:
    return float(psychrometry().vapour(np.array([celsius]), np.array([1.0]))[0])


@pytest.mark.parametrize(("celsius", "pascal", "share"), SATURATION_PA)
def test_saturated_vapour_has_the_pressure_of_table_3(
    celsius: float, pascal: float, share: float
) -> None:
    assert _saturation(celsius) == pytest.approx(pascal, rel=share)


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


def test_heat_and_weight_are_those_computed_by_hand_at_30_degrees() -> None:
    vapour = 0.02 * 95_461 / (WATER_TO_AIR + 0.02)
    state = _air(30, vapour / _saturation(30), 95_461)
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


def test_no_state_is_made_of_what_is_no_humidity_or_no_number() -> None:
    with pytest.raises(ValueError, match="between 0 and 1"):
        _air(20, 1.2)
    with pytest.raises(ValueError, match="numbers only"):
        _air(float("nan"), 0.5)


def test_no_state_is_made_beyond_the_formulas() -> None:
    """Equations 5 and 6 hold from -100 to 200 °C; water boils at 100 °C here."""
    for celsius in (-100.1, 200.1):
        with pytest.raises(ValueError, match="-100 to 200"):
            _air(celsius, 0.5)
    with pytest.raises(ValueError, match="less pressure"):
        _air(100, 1.0)
    assert float(_air(100, 0.5).moisture[0]) > 0


def test_a_system_of_units_that_somebody_chose_is_neither_used_nor_changed() -> None:
    psychrometry.cache_clear()
    psychrolib.SetUnitSystem(psychrolib.IP)
    try:
        celsius, humidity, joules, kilograms = WORKED[0]
        found = _air(celsius, humidity)
        assert psychrolib.PSYCHROLIB_UNITS is psychrolib.IP
        assert float(found.enthalpy[0]) == pytest.approx(joules, abs=1)
        assert float(found.density[0]) == pytest.approx(kilograms, abs=1e-4)
    finally:
        psychrolib.SetUnitSystem(psychrolib.SI)
        psychrometry.cache_clear()


def test_without_a_compiler_it_is_the_same_one_by_one(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    celsius = np.linspace(-20.0, 40.0, 7)
    states = celsius + ZERO, np.full(7, 0.6), np.full(7, SEA)
    compiled = moist_air(*states)
    wanted = compiled.moisture, compiled.enthalpy, compiled.density
    psychrometry.cache_clear()
    with monkeypatch.context() as patched:
        patched.setattr(module, "find_spec", lambda _: None)
        alone = moist_air(*states)
        found = alone.moisture, alone.enthalpy, alone.density
    psychrometry.cache_clear()
    for one, other in zip(found, wanted, strict=True):
        assert one == pytest.approx(other, rel=1e-12)


def test_air_that_is_warmed_keeps_its_water() -> None:
    cold = _air(0, 0.8)
    warm = cold.warmed_to(21 + ZERO)
    assert warm.moisture == pytest.approx(cold.moisture)
    dry = 1006.0 * 21
    assert float((warm.enthalpy - cold.enthalpy)[0]) == pytest.approx(
        dry + 1860.0 * 21 * float(cold.moisture[0])
    )
