"""What a year's weather would take and bring through a doorway that stood open.

Summed for each hour of the day, so that how long it stands open in each of them can
be changed without going through the year again.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from limen.geometry.turns import Array
from limen.model.weather import Year
from limen.physics.air import Gap, discharge, exchange, exchange_by_density
from limen.physics.moist_air import MoistAir, moist_air

HOUR = 3600.0  # s
DAY_HOURS = 24
FLOW = (0.8, 1.1)
"""Of the full exchange, at the least and at the most: EnergyPlus Engineering
Reference, "Density Difference Controlled Air Exchange", for large and small
differences of temperature."""
SHARP = 0.6  # discharge of a doorway as Brown and Solvason have it


@dataclass(frozen=True, slots=True)
class Indoors:
    """What the building is kept at (K, relative humidity).

    Attributes:
        heated_to: temperature it is heated to.
        heats_below: it is heated while it is colder outdoors.
        cooled_to: temperature it is cooled to; None if it is not.
        humidity: relative, while it is cooled.
    """

    heated_to: float
    heats_below: float
    cooled_to: float | None
    humidity: float


@dataclass(frozen=True, slots=True, eq=False)
class OpenYear:
    """Heat through a doorway that stands open all year, by the hour of the day.

    Attributes:
        heating: (2, 24) J a year that heating has to make good, at the least and at
            the most of two ways to reckon the exchange.
        cooling: (2, 24) J a year that cooling has to take out.
    """

    heating: Array
    cooling: Array


@lru_cache(maxsize=64)
def open_year(gap: Gap, year: Year, indoors: Indoors) -> OpenYear:
    """Heat and cold through a doorway that stands open all year.

    Heating makes good what the outdoor air lacks at its own moisture, since nothing
    moistens it; cooling takes out its moisture too.

    Args:
        gap: the free opening.
        year: the weather.
        indoors: what the building is kept at.

    Source:
        `limen.physics.air` and `limen.physics.moist_air`, hour by hour.  Left out:
        wind, the pressure of the building, and heat stored in walls.
    """
    outside = moist_air(year.temperature, year.humidity, year.pressure)
    heating = _heated(gap, outside, indoors)
    nothing = np.zeros_like(heating)
    cooled = nothing if indoors.cooled_to is None else _cooled(gap, outside, indoors)
    return OpenYear(_by_hour(heating), _by_hour(cooled))


def _heated(gap: Gap, outside: MoistAir, indoors: Indoors) -> Array:
    """(2, n) W of heat that leaves while the building is heated."""
    cold = outside.temperature < min(indoors.heats_below, indoors.heated_to)
    inside = outside.warmed_to(indoors.heated_to)
    return np.where(cold, _flows(gap, inside, outside), 0.0)


def _cooled(gap: Gap, outside: MoistAir, indoors: Indoors) -> Array:
    """(2, n) W of heat that enters while the building is cooled."""
    kept = np.full_like(outside.temperature, indoors.cooled_to or 0.0)
    damp = np.full_like(kept, indoors.humidity)
    inside = moist_air(kept, damp, outside.pressure)
    flow = -_flows(gap, inside, outside)
    return np.where((outside.temperature > kept) & (flow > 0.0), flow, 0.0)


def _flows(gap: Gap, inside: MoistAir, outside: MoistAir) -> Array:
    """(2, n) W that leave, at the least and at the most of both ways to reckon."""
    volumes = np.stack(list(_volumes(gap, inside, outside)))
    heavy = np.maximum(inside.density, outside.density)
    each = heavy * (inside.enthalpy - outside.enthalpy)
    return np.stack(
        [FLOW[0] * volumes.min(axis=0) * each, FLOW[1] * volumes.max(axis=0) * each]
    )


def _volumes(
    gap: Gap, inside: MoistAir, outside: MoistAir
) -> tuple[Array, Array, Array]:
    """(n,) m³/s, reckoned in each way."""
    warm, cold = inside.temperature, outside.temperature
    return (
        exchange(gap, warm, cold, discharge(warm - cold)),
        exchange(gap, warm, cold, np.full_like(warm, SHARP)),
        exchange_by_density(gap, inside.density, outside.density),
    )


def _by_hour(watts: Array) -> Array:
    """(2, 24) J a year from (2, n) W of each hour."""
    days = watts.reshape(2, -1, DAY_HOURS)
    return np.asarray(HOUR * days.sum(axis=1), dtype=np.float64)
