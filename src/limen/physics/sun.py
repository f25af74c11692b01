"""Where the sun stands, and whether it may dazzle the units outside a door."""

from dataclasses import dataclass
from datetime import datetime
from math import degrees, pi, radians
from typing import Any, cast

LOW = radians(35)
"""Heights up to which it counts as low: an estimate, no source.  Higher up it still
lights the floor, but neither flat nor into a window that looks down."""
ASIDE = radians(75)
"""How far off the door's own bearing it may stand: an estimate, no source."""


@dataclass(frozen=True, slots=True)
class Sun:
    """Where it stands.

    Attributes:
        height: above the horizon, the air's bending included (rad).
        bearing: on the compass, from north over east (rad).
    """

    height: float
    bearing: float


def sun_at(latitude: float, longitude: float, at: datetime) -> Sun:
    """Where the sun stands at an instant.

    Args:
        latitude: rad, north positive.
        longitude: rad, east positive.
        at: the instant, with its offset from UTC.

    Raises:
        ValueError: the instant says no offset.

    Source:
        Reda, Andreas: Solar position algorithm for solar radiation applications,
        NREL/TP-560-34302 (2003, revised 2008), as pvlib reckons it.
    """
    if at.tzinfo is None:
        message = "the instant says no offset from UTC"
        raise ValueError(message)
    import pandas as pd  # pyright: ignore[reportMissingTypeStubs]
    from pvlib import solarposition  # pyright: ignore[reportMissingTypeStubs]

    times = pd.DatetimeIndex([at])
    # The library is typed in part only.
    reckon = cast("Any", solarposition).get_solarposition
    (row,) = reckon(times, degrees(latitude), degrees(longitude)).itertuples()
    return Sun(radians(row.apparent_elevation), radians(row.azimuth))


def is_low(sun: Sun, faces: float) -> bool:
    """Whether it stands low before a side that looks to a bearing (rad)."""
    return 0.0 < sun.height <= LOW and aside(sun, faces) <= ASIDE


def aside(sun: Sun, faces: float) -> float:
    """How far off straight before a side that looks to a bearing it stands (rad)."""
    return abs((sun.bearing - faces + pi) % (2 * pi) - pi)
