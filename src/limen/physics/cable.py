"""Voltage at the end of a lead: what its copper takes of the supply.

SI throughout: a resistance per metre of one core is in ohm/m, temperatures in K.
"""

from dataclasses import dataclass
from math import isclose, pi, sqrt

COPPER = 1.7241e-8
"""Resistivity of annealed copper at 20 °C (ohm m): IACS, 17.241 ohm mm²/km."""
ZERO = 273.15 - 234.5
"""Where a straight line through copper's resistance meets nothing (K)."""
AT_20 = 273.15 + 20.0
STRANDED_COATED = 1.09
"""A stranded, coated core of an AWG size against its bare solid one, at most.

NEC chapter 9, table 8, from memory: 8.45 against 7.77 ohm a thousand feet at 18 AWG.
"""
_SAME_SIZE = 1e-6


@dataclass(frozen=True, slots=True)
class Core:
    """A listed size of core and the most it may resist at 20 °C.

    Attributes:
        area: cross-section (m²).
        solid: classes 1 and 2 (ohm/m).
        fine: classes 5 and 6, plain (ohm/m).
        tinned: classes 5 and 6, tinned (ohm/m); as plain where no figure was seen.
        standard: whether the size stands in IEC 60228.
    """

    area: float
    solid: float
    fine: float
    tinned: float
    standard: bool


def _core(area: float, solid: float, fine: float, tinned: float | None = None) -> Core:
    """From mm² and ohm/km, as tables print them."""
    most = fine if tinned is None else tinned
    listed = tinned is not None
    return Core(area * 1e-6, solid * 1e-3, fine * 1e-3, most * 1e-3, listed)


CORES = (
    _core(0.14, 134.0, 138.0),
    _core(0.22, 96.0, 99.0),
    _core(0.25, 76.0, 79.0),
    _core(0.34, 53.0, 56.0),
    _core(0.5, 36.0, 39.0, 40.1),
    _core(0.75, 24.5, 26.0, 26.7),
    _core(1.0, 18.1, 19.5, 20.0),
    _core(1.5, 12.1, 13.3, 13.7),
    _core(2.5, 7.41, 7.98, 8.21),
)
"""IEC 60228; the sizes below 0.5 mm² stand in DIN VDE 0295 lists only."""


def core_of(area: float) -> Core | None:
    """The listed core of a cross-section (m²); None if no list has that size."""
    same = (core for core in CORES if isclose(core.area, area, rel_tol=_SAME_SIZE))
    return next(same, None)


def gauge_area(awg: int) -> float:
    """Cross-section of a solid core by its American wire gauge (m²).

    Source:
        ASTM B258: 0.005 in at 36 AWG, 39 equal ratios up to 0.46 in at 4/0.
    """
    diameter = 0.127e-3 * 92.0 ** ((36 - awg) / 39)
    return pi * diameter**2 / 4


def per_metre(area: float) -> float:
    """Resistance of pure copper of a cross-section (m²) at 20 °C (ohm/m).

    Raises:
        ValueError: the cross-section is not positive.
    """
    if area <= 0:
        raise ValueError(f"a core has a cross-section, not {area}")
    return COPPER / area


def span_of_area(area: float) -> tuple[float, float] | None:
    """Least and most that a core of a listed size resists at 20 °C (ohm/m).

    The least is pure copper of that size, the most the worst kind that is listed:
    what is printed on a lead tells neither class nor tin.

    Returns:
        Least and most; None if no list has that size.
    """
    core = core_of(area)
    return None if core is None else (per_metre(core.area), core.tinned)


def span_of_gauge(awg: int) -> tuple[float, float]:
    """Least and most that a core of a gauge resists at 20 °C (ohm/m)."""
    solid = per_metre(gauge_area(awg))
    return solid, STRANDED_COATED * solid


def warmed(resistance: float, temperature: float) -> float:
    """A copper resistance known at 20 °C, at another temperature (K).

    R = R₂₀ (234.5 + ϑ)/254.5, ϑ in °C.

    Source:
        IEC 60228, from memory.
    """
    return resistance * (temperature - ZERO) / (AT_20 - ZERO)


def loop_of(length: float, each_metre: float) -> float:
    """Resistance of a lead out and back (ohm): length one way (m), ohm/m of a core."""
    return 2 * length * each_metre


def at_current(supply: float, loop: float, current: float) -> float:
    """Voltage at a unit that draws a fixed current (V): supply less R I.

    Negative where the lead would have to take more than there is.
    """
    return supply - loop * current


def at_power(supply: float, loop: float, power: float) -> float | None:
    """Voltage at a unit that draws a fixed power, as a switching supply does (V).

    V² - Vs V + P R = 0; the upper root is the one at which it settles.

    Args:
        supply: voltage at the head of the lead (V).
        loop: resistance out and back (ohm).
        power: drawn by the unit (W).

    Returns:
        The voltage; None where the lead cannot carry the power at all: the unit
        pulls its own supply down and never starts.
    """
    inside = supply**2 - 4 * power * loop
    return None if inside < 0 else (supply + sqrt(inside)) / 2


def loop_most(supply: float, power: float) -> float:
    """Most a lead may resist out and back to carry a power at all (ohm): Vs²/4P.

    Raises:
        ValueError: no power is drawn.
    """
    if power <= 0:
        raise ValueError(f"a unit draws power, not {power}")
    return supply**2 / (4 * power)


def longest(spare: float, each_metre: float, current: float) -> float:
    """Longest lead, one way, that takes no more than a voltage to spare (m).

    Raises:
        ValueError: nothing flows, or the core does not resist.
    """
    if current <= 0 or each_metre <= 0:
        raise ValueError("no length is the longest where nothing is lost")
    return spare / (2 * each_metre * current)
