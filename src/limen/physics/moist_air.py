"""Moist air: what is in it, what it weighs, and the heat that it carries.

The formulas of ASHRAE Handbook Fundamentals 2017, chapter 1, for whole arrays:
psychrolib has the same for one state at a time, and compiles itself when first
called; a year has 8760 hours.  They are held against it in the tests.
"""

from dataclasses import dataclass

import numpy as np

from limen.geometry.turns import Array

ZERO = 273.15  # K, of 0 °C
SEA_LEVEL = 101_325.0  # Pa
DRY_AIR = 287.042  # J/(kg K), gas constant of dry air
WATER_TO_AIR = 0.621945  # ratio of molar masses
HEAVIER = 1.607858  # its inverse
CP = 1006.0  # J/(kg K), of dry air
STEAM = 2_501_000.0  # J/kg, enthalpy of vapour at 0 °C
CP_STEAM = 1860.0  # J/(kg K), of vapour
TRIPLE = 273.16  # K, below which vapour is over ice
ICE = (-5.6745359e3, 6.3925247, -9.677843e-3, 6.2215701e-7, 2.0747825e-9)
ICE_4, ICE_LOG = -9.484024e-13, 4.1635019
WATER = (-5.8002206e3, 1.3914993, -4.8640239e-2, 4.1764768e-5, -1.4452093e-8)
WATER_LOG = 6.5459673


@dataclass(frozen=True, slots=True)
class MoistAir:
    """States of moist air.

    Attributes:
        temperature: (n,) K.
        moisture: (n,) kg of water in 1 kg of dry air.
        pressure: (n,) Pa.
    """

    temperature: Array
    moisture: Array
    pressure: Array

    @property
    def density(self) -> Array:
        """(n,) kg/m³ of moist air."""
        dry = DRY_AIR * self.temperature * (1 + HEAVIER * self.moisture)
        return (1 + self.moisture) * self.pressure / dry

    @property
    def enthalpy(self) -> Array:
        """(n,) J in 1 kg of dry air with its moisture, from dry air at 0 °C."""
        warm = self.temperature - ZERO
        return CP * warm + self.moisture * (STEAM + CP_STEAM * warm)

    def warmed_to(self, temperature: Array | float) -> "MoistAir":
        """The same air with its moisture at another temperature (K)."""
        there = np.broadcast_to(temperature, self.temperature.shape)
        return MoistAir(np.asarray(there, np.float64), self.moisture, self.pressure)


def moist_air(temperature: Array, humidity: Array, pressure: Array) -> MoistAir:
    """Moist air by its relative humidity.

    Args:
        temperature: (n,) K, 173.15 to 473.15.
        humidity: (n,) relative, 0 to 1.
        pressure: (n,) Pa.

    Raises:
        ValueError: a humidity is not between 0 and 1, or a value is not finite.

    Source:
        ASHRAE Handbook Fundamentals 2017, chapter 1, equations 20 and 22.
    """
    warm, damp, press = (
        np.asarray(one, dtype=np.float64) for one in (temperature, humidity, pressure)
    )
    if not all(np.isfinite(one).all() for one in (warm, damp, press)):
        raise ValueError("a state of air has numbers only")
    if (damp < 0).any() or (damp > 1).any():
        raise ValueError("a relative humidity lies between 0 and 1")
    vapour = damp * saturation(warm)
    moisture = WATER_TO_AIR * vapour / (press - vapour)
    return MoistAir(warm, moisture, press)


def saturation(temperature: Array) -> Array:
    """Pressure of saturated vapour, over ice below 0.01 °C (Pa).

    Args:
        temperature: (n,) K, 173.15 to 473.15.

    Source:
        ASHRAE Handbook Fundamentals 2017, chapter 1, equations 5 and 6 (Hyland and
        Wexler 1983).
    """
    warm = np.asarray(temperature, dtype=np.float64)
    ice = sum(c * warm ** (n - 1) for n, c in enumerate(ICE)) + ICE_4 * warm**4
    water = sum(c * warm ** (n - 1) for n, c in enumerate(WATER))
    logs = np.log(warm)
    told = np.where(warm <= TRIPLE, ice + ICE_LOG * logs, water + WATER_LOG * logs)
    return np.asarray(np.exp(told), dtype=np.float64)


def pressure_at(altitude: float) -> float:
    """Pressure of the standard atmosphere (Pa).

    Args:
        altitude: above the sea (m).

    Source:
        ASHRAE Handbook Fundamentals 2017, chapter 1, equation 3.
    """
    return float(SEA_LEVEL * (1 - 2.25577e-5 * altitude) ** 5.2559)
