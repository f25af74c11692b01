"""Air that changes places through an open doorway, and the heat it takes along.

Two ways to reckon the exchange that a difference of temperature drives, of different
origin, and what wind or height add: an orifice under a difference of pressure.
"""

from dataclasses import dataclass
from math import sqrt

import numpy as np

from limen.geometry.turns import Array
from limen.physics.moist_air import MoistAir

GRAVITY = 9.80665  # m/s²
DRY_AIR = 287.042  # J/(kg K), gas constant of dry air
DISCHARGE = 0.6  # of a doorway
LEAST_DISCHARGE, BY_DEGREE = 0.40, 0.0045  # and 1/K
MEASURED = 0.221  # Gosney and Olama's constant


@dataclass(frozen=True, slots=True)
class Gap:
    """The free opening (m)."""

    width: float
    height: float

    @property
    def area(self) -> float:
        """m²."""
        return self.width * self.height


def discharge(difference: Array | float) -> Array:
    """Coefficient of discharge by the difference of temperatures, 0.40 + 0.0045 ΔT.

    Args:
        difference: of the temperatures of both sides (K), either sign.

    Source:
        ASHRAE Handbook Fundamentals 1997, chapter 25, equation 38.
    """
    return LEAST_DISCHARGE + BY_DEGREE * np.abs(np.asarray(difference, np.float64))


def exchange(gap: Gap, inside: Array, outside: Array, discharged: Array) -> Array:
    """Air that flows each way through an open doorway: Q = (w/3) Cd √(g' H³).

    g' = g ΔT / T, T the mean of both temperatures.

    Args:
        gap: the opening.
        inside: temperatures (n,) K.
        outside: the same beyond the door.
        discharged: Cd (n,).

    Returns:
        (n,) m³/s.

    Source:
        Brown and Solvason 1962, International Journal of Heat and Mass Transfer 5:
        √(2 g' z) summed over half the height.  Left out: wind, and who walks through.
    """
    mean = (np.asarray(inside) + np.asarray(outside)) / 2
    lift = GRAVITY * np.abs(np.asarray(inside) - np.asarray(outside)) / mean
    return gap.width / 3 * discharged * np.sqrt(lift * gap.height**3)


def exchange_by_density(gap: Gap, one: Array, other: Array) -> Array:
    """The same from both densities: V = 0.221 A F √(g H (1 - ρw/ρc)).

    F = (2 / (1 + ∛(ρc/ρw)))^1.5, ρc the heavier.

    Args:
        gap: the opening.
        one: densities of one side (n,) kg/m³.
        other: of the other side.

    Returns:
        (n,) m³/s of the heavier air.

    Source:
        Gosney and Olama 1975, as the EnergyPlus Engineering Reference has it,
        "Density Difference Controlled Air Exchange".
    """
    heavy, light = np.maximum(one, other), np.minimum(one, other)
    shaped = (2 / (1 + np.cbrt(heavy / light))) ** 1.5
    drive = np.sqrt(GRAVITY * gap.height * (1 - light / heavy))
    return MEASURED * gap.area * shaped * drive


def heat_flow(gap: Gap, inside: MoistAir, outside: MoistAir) -> Array:
    """Heat that leaves through a doorway that stands open (W); negative: enters.

    Args:
        gap: the opening.
        inside: the air inside, (n,).
        outside: the air outside, (n,).

    Source:
        V ρc (h inside - h outside), V as in `exchange_by_density`.
    """
    one, other = inside.density, outside.density
    volume = exchange_by_density(gap, one, other)
    return volume * np.maximum(one, other) * (inside.enthalpy - outside.enthalpy)


def orifice(area: float, pressure: float, density: float, discharged: float) -> float:
    """Air through an opening under a difference of pressure: Cd A √(2 Δp/ρ) (m³/s).

    Args:
        area: m².
        pressure: difference across it (Pa), not negative.
        density: of the air (kg/m³).
        discharged: Cd.
    """
    return discharged * area * sqrt(2 * pressure / density)


def stack_pressure(
    height: float, inside: float, outside: float, pressure: float
) -> float:
    """Pressure across a doorway from warm air above it: (p/R) g z (1/To - 1/Ti) (Pa).

    Args:
        height: from the doorway to the level at which both pressures are alike (m).
        inside: temperature (K).
        outside: temperature (K).
        pressure: of the air (Pa).
    """
    return pressure / DRY_AIR * GRAVITY * height * (1 / outside - 1 / inside)


def wind_pressure(speed: float, density: float, share: float = 1.0) -> float:
    """Pressure of wind on a façade: Cp ρ v²/2 (Pa).

    Args:
        speed: m/s.
        density: kg/m³.
        share: Cp, 1 where the air comes to rest.
    """
    return share * density * speed**2 / 2
