"""Resistance of copper cores, and voltage at the end of a lead.

IEC 60228:2004, Conductors of insulated cables (values unchanged in IEC 60228:2023 as
far as seen): maximum resistance at 20 °C of plain and tinned copper, classes 1, 2, 5
and 6, read in a public reprint of its tables, exact as printed (grade seen). Sizes
below 0.5 mm² stand in lists after DIN VDE 0295 and HD 383, read in a public table
whose columns are not named there (grade memory). The factor 254.5/(234.5 + ϑ) is that
of its annex, from memory; a public list of correction factors was seen. Voltages are
worked from Ohm's law and rounded to the last printed digit.
"""

import pytest

from limen.physics.cable import (
    AT_20,
    CORES,
    Core,
    at_current,
    at_power,
    core_of,
    longest,
    loop_most,
    loop_of,
    per_metre,
    span_of_area,
    warmed,
)

OHM_KM = 1e-3
MM2 = 1e-6
# mm²: classes 1 and 2, classes 5 and 6 plain, classes 5 and 6 tinned; ohm/km at 20 °C
STANDARD = {
    0.5: (36.0, 39.0, 40.1),
    0.75: (24.5, 26.0, 26.7),
    1.0: (18.1, 19.5, 20.0),
    1.5: (12.1, 13.3, 13.7),
    2.5: (7.41, 7.98, 8.21),
}
# mm²: both columns of the lists for small sizes
SMALL = {0.14: (134, 138), 0.22: (96, 99), 0.25: (76, 79), 0.34: (53, 56)}


def core(area: float) -> Core:
    found = core_of(area * MM2)
    assert found is not None
    return found


@pytest.mark.parametrize(("area", "printed"), STANDARD.items())
def test_the_standard_sizes_resist_as_printed(
    area: float, printed: tuple[float, float, float]
) -> None:
    listed = core(area)
    found = (listed.solid, listed.fine, listed.tinned)
    assert found == pytest.approx([value * OHM_KM for value in printed])
    assert listed.standard


@pytest.mark.parametrize(("area", "printed"), SMALL.items())
def test_the_small_sizes_resist_as_listed_and_are_no_sizes_of_the_standard(
    area: float, printed: tuple[float, float]
) -> None:
    listed = core(area)
    assert (listed.solid, listed.fine) == pytest.approx(
        [value * OHM_KM for value in printed]
    )
    assert not listed.standard


def test_there_is_no_other_size() -> None:
    assert len(CORES) == len(STANDARD) + len(SMALL)
    assert core_of(0.6 * MM2) is None
    assert span_of_area(0.6 * MM2) is None


@pytest.mark.parametrize("listed", CORES, ids=lambda one: f"{one.area * 1e6:.2f}")
def test_no_listed_core_resists_less_than_pure_copper_of_its_size(listed: Core) -> None:
    """Annealed copper, 17.241 ohm mm²/km: IEC 60028, 1925."""
    assert per_metre(listed.area) < listed.solid < listed.fine <= listed.tinned


@pytest.mark.parametrize(("celsius", "factor"), [(40, 0.926), (30, 0.962), (10, 1.042)])
def test_the_public_factors_back_to_20_degrees(celsius: int, factor: float) -> None:
    """Printed as 1/(1 + 0.004 (ϑ - 20)); the annex's 254.5 rule to its third digit."""
    at_20 = 1 / warmed(1.0, 273.15 + celsius)
    assert at_20 == pytest.approx(factor, abs=2e-3)


def test_at_40_degrees_a_class_5_core_of_half_a_square_millimetre() -> None:
    """39.0 × 274.5/254.5 = 42.06 ohm/km."""
    assert warmed(39.0, 273.15 + 40) == pytest.approx(42.06, abs=0.005)
    assert warmed(39.0, AT_20) == 39.0


# length m, current A, ohm/km, voltage lost in the lead V
LOST = [
    (30, 0.3, 39.0, 0.702),
    (100, 0.5, 19.5, 1.950),
    (25, 1.0, 13.3, 0.665),
    (50, 0.25, 96.0, 2.400),
    (20, 0.25, 96.0, 0.960),
    (50, 1.0, 13.3, 1.330),
    (10, 0.15, 134.0, 0.402),
]


@pytest.mark.parametrize(("length", "current", "each", "lost"), LOST)
def test_voltage_lost_in_a_lead(
    length: float, current: float, each: float, lost: float
) -> None:
    loop = loop_of(length, each * OHM_KM)
    assert 24.0 - at_current(24.0, loop, current) == pytest.approx(lost, abs=1e-9)


def test_voltage_lost_at_60_degrees() -> None:
    """0.96 V × (1 + 0.00393 × 40) = 1.110912 V; α is printed to three digits."""
    loop = warmed(loop_of(20, 96 * OHM_KM), 273.15 + 60)
    assert loop * 0.25 == pytest.approx(1.110912, abs=0.96 * 40 * 0.000005)


def test_a_12_v_supply_fails_a_10_8_v_unit_at_the_end_of_50_m() -> None:
    assert at_current(12.0, loop_of(50, 96 * OHM_KM), 0.25) == pytest.approx(9.6)


def test_the_longest_lead_for_2_4_v() -> None:
    assert longest(2.4, 96 * OHM_KM, 0.25) == pytest.approx(50.0, abs=1e-9)


def test_a_load_of_3_w_at_12_v_gets_10_948_v() -> None:
    """Using the nominal current instead gives 11.04 V: too much."""
    found = at_power(12.0, 3.84, 3.0)
    assert found == pytest.approx(10.94772675, abs=1e-8)
    assert at_current(12.0, 3.84, 3.0 / 12.0) == pytest.approx(11.04)


def test_a_lead_of_more_than_12_ohm_carries_no_3_w_at_12_v() -> None:
    assert loop_most(12.0, 3.0) == 12.0
    assert at_power(12.0, 12.0, 3.0) == pytest.approx(6.0)
    assert at_power(12.0, 12.001, 3.0) is None
