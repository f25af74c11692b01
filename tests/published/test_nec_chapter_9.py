"""Resistance of copper cores by American wire gauge.

NFPA 70, National Electrical Code, edition 2020, chapter 9, table 8: uncoated copper at
75 °C, ohm a thousand feet, read in a public reprint (grade seen). The gauge's own law
is ASTM B258-14; sizes of 20 to 24 AWG, which the table lacks, are worked from it and
agree with NBS Handbook 100, Copper wire tables, 1966 (from memory). The table has three
digits; where it differs from the gauge's law it does so by up to 0.3 %.
"""

import pytest

from limen.physics.cable import (
    at_current,
    gauge_area,
    loop_of,
    per_metre,
    span_of_gauge,
    warmed,
)

KFT = 304.8
AT_75 = 273.15 + 75
FOOT = 0.3048
# AWG: solid, stranded; ohm a thousand feet at 75 °C
TABLE = {18: (7.77, 7.95), 16: (4.89, 4.99), 14: (3.07, 3.14), 12: (1.93, 1.98)}
# AWG: ohm/km at 20 °C
WORKED = {24: 84.2, 22: 52.96, 20: 33.31, 18: 20.95, 16: 13.17, 14: 8.285}


@pytest.mark.parametrize(("awg", "printed"), TABLE.items())
def test_a_solid_core_resists_as_printed(
    awg: int, printed: tuple[float, float]
) -> None:
    found = warmed(per_metre(gauge_area(awg)), AT_75) * KFT
    assert found == pytest.approx(printed[0], rel=3e-3)


@pytest.mark.parametrize(("awg", "printed"), TABLE.items())
def test_a_stranded_core_lies_between_the_bounds(
    awg: int, printed: tuple[float, float]
) -> None:
    low, high = (warmed(each, AT_75) * KFT for each in span_of_gauge(awg))
    assert low < printed[1] < high


@pytest.mark.parametrize(("awg", "each"), WORKED.items())
def test_the_gauges_that_the_table_lacks(awg: int, each: float) -> None:
    assert per_metre(gauge_area(awg)) * 1e3 == pytest.approx(each, abs=each * 6e-4)


def test_a_core_of_22_awg() -> None:
    """0.6438 mm across, 0.3255 mm², 52.96 ohm/km."""
    assert gauge_area(22) * 1e6 == pytest.approx(0.3255, abs=5e-5)
    assert per_metre(gauge_area(22)) * 1e3 == pytest.approx(52.96, abs=0.03)


def test_a_hundred_feet_of_18_awg_at_three_tenths_of_an_ampere() -> None:
    """2 × 100 ft × 0.3 A × 7.95 ohm/kft = 0.477 V."""
    loop = loop_of(100 * FOOT, TABLE[18][1] / KFT)
    assert 24.0 - at_current(24.0, loop, 0.3) == pytest.approx(0.477, abs=5e-4)


def test_a_meter_at_20_degrees_reads_82_percent_of_the_table() -> None:
    assert 1 / warmed(1.0, AT_75) == pytest.approx(0.82, abs=0.005)
