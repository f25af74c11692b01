# pyright: reportMissingTypeStubs=false, reportUnknownVariableType=false
"""Moist air: what is in it, what it weighs, and the heat that it carries.

Reckoned by psychrolib: ASHRAE Handbook Fundamentals 2017, chapter 1.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from importlib import import_module
from importlib.util import find_spec
from threading import Lock
from typing import Any, cast

import numpy as np

from limen.geometry.turns import Array

ZERO = 273.15  # K, of 0 °C
FORMULAS = (173.15, 473.15)
"""K, from where to where moist air is known.  Compiled, psychrolib says 0 beyond."""

Reckoner = Callable[..., Array]


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
        warm = self.temperature - ZERO
        return psychrometry().density(warm, self.moisture, self.pressure)

    @property
    def enthalpy(self) -> Array:
        """(n,) J in 1 kg of dry air with its moisture, from dry air at 0 °C."""
        return psychrometry().enthalpy(self.temperature - ZERO, self.moisture)

    def warmed_to(self, temperature: Array | float) -> "MoistAir":
        """The same air with its moisture at another temperature (K)."""
        there = np.broadcast_to(temperature, self.temperature.shape)
        return MoistAir(np.asarray(there, np.float64), self.moisture, self.pressure)


def moist_air(temperature: Array, humidity: Array, pressure: Array) -> MoistAir:
    """Moist air by its relative humidity.

    Args:
        temperature: (n,) K, 173.15 to 473.15.
        humidity: (n,) relative, 0 to 1.
        pressure: (n,) Pa, more than that of the vapour in the air.

    Raises:
        ValueError: a value is not finite, a humidity is not between 0 and 1, there is
            more vapour than pressure, or a temperature is beyond the formulas.

    Source:
        ASHRAE Handbook Fundamentals 2017, chapter 1, equations 5, 6, 20 and 22.
    """
    warm, damp, press = (
        np.asarray(one, dtype=np.float64) for one in (temperature, humidity, pressure)
    )
    if not all(np.isfinite(one).all() for one in (warm, damp, press)):
        raise ValueError("a state of air has numbers only")
    if (damp < 0).any() or (damp > 1).any():
        raise ValueError("a relative humidity lies between 0 and 1")
    if (warm < FORMULAS[0]).any() or (warm > FORMULAS[1]).any():
        raise ValueError("moist air is known from -100 to 200 °C")
    vapour = psychrometry().vapour(warm - ZERO, damp)
    if (vapour >= press).any():
        raise ValueError("vapour alone has less pressure than the air it is in")
    return MoistAir(warm, psychrometry().moisture(vapour, press), press)


# The library ---------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Psychrometry:
    """psychrolib's functions for whole arrays, in °C, Pa and J.

    Attributes:
        vapour: pressure of vapour by temperature and relative humidity.
        moisture: kg of water in 1 kg of dry air, by pressure of vapour and of air.
        enthalpy: of 1 kg of dry air, by temperature and moisture.
        density: by temperature, moisture and pressure.
    """

    vapour: Reckoner
    moisture: Reckoner
    enthalpy: Reckoner
    density: Reckoner


_ONE_AT_A_TIME = Lock()


@cache
def psychrometry() -> Psychrometry:
    """psychrolib, compiled for arrays in SI and taken from the cache thereafter.

    psychrolib has one system of units for the whole process.  It is SI while these
    functions are compiled, which settles it for them; a system that somebody else has
    chosen is put back.  Where nobody has, SI stays.
    """
    if find_spec("numba") is not None:
        import_module("limen.physics.coverage.kernel_types")  # loads it quickest
    import psychrolib

    library = cast("Any", psychrolib)
    with _ONE_AT_A_TIME:
        # Not GetUnitSystem(): compiled by the library itself, it ends the process.
        before = library.PSYCHROLIB_UNITS
        library.SetUnitSystem(library.SI)
        try:
            return Psychrometry(
                _for_arrays(library.GetVapPresFromRelHum, 2),
                _for_arrays(library.GetHumRatioFromVapPres, 2),
                _for_arrays(library.GetMoistAirEnthalpy, 2),
                _for_arrays(library.GetMoistAirDensity, 3),
            )
        finally:
            if before is not None:
                library.SetUnitSystem(before)


def _for_arrays(function: Reckoner, arguments: int) -> Reckoner:
    """A function of psychrolib for arrays, compiled now or taken from the cache.

    The library's own compile themselves again in every process.
    """
    body = cast("Any", function)
    if find_spec("numba") is None:
        return cast("Reckoner", np.vectorize(body, otypes=[np.float64]))
    from numba import vectorize

    compiler = cast("Callable[..., Callable[[Any], Reckoner]]", vectorize)
    signature = f"float64({', '.join(['float64'] * arguments)})"
    return compiler([signature], cache=True)(body.__wrapped__)
