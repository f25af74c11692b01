"""The fan of a row under every reading of the manual.

A usual manual does not state the angles of its spots.  It gives a field width
at a height and leaves open what was measured and how the spots are spaced.
Each way to read it gives other angles; a proof is made for all of them.
"""

from dataclasses import dataclass
from itertools import product
from math import atan, cos, tan
from typing import assert_never

import numpy as np

from limen.geometry.turns import Array, about_x
from limen.model.fitting import Read
from limen.model.sheet import FanByAngle, FanByWidth, FanUnknown, Presence
from limen.physics.beams import Attitude
from limen.quantity import Quantity

MEASURED_TO = ("spot centres", "light edges", "test body")
SPACINGS = ("equal in angle", "equal on floor")
BODY_LONG_SIDE = 0.300  # reference body, plan side met last by a field's end


@dataclass(frozen=True, slots=True)
class FanReading:
    """One reading of the manual.

    ``angles`` holds one array (spots,) of fan angles a row, rad, from left to
    right of someone who looks from the unit's own side towards +x of its frame.
    """

    measured_to: str
    spacing: str
    angles: tuple[Array, ...]


def readings(
    presence: Presence,
    choice: str | None,
    read: Read,
    *,
    lens: tuple[float, float, float],
    attitude: Attitude,
) -> tuple[FanReading, ...]:
    """Every reading of the manual's fan, narrowed by row ends read on site.

    Args:
        presence: the sheet's presence part.
        choice: which of the sheet's fan choices is set; the only one if None.
        read: what the tape showed; both row ends replace the manual's width.
        lens: place of the lens (m), used with row ends.
        attitude: how the unit is turned, used with row ends.

    Returns:
        One FanReading for each reading; none if the fan, or which of its choices
        is set, is unknown.

    Raises:
        KeyError: the sheet has no such fan choice.
    """
    if read.left_end is not None and read.right_end is not None:
        row = presence.rows[0].angle.value
        ends = (
            _fan_angle(end.value - lens[0], lens[2], attitude, row)
            for end in (read.left_end, read.right_end)
        )
        first, last = sorted(ends)
        return _spaced(
            presence, ("row ends read",), [(first, last)], _spacings(presence)
        )
    fan = presence.fan
    if choice is None and not isinstance(fan, FanUnknown) and len(fan.choices) > 1:
        return ()
    match fan:
        case FanUnknown():
            return ()
        case FanByAngle():
            half = fan.choices[_chosen(fan, choice)].value
            return _spaced(presence, ("angles",), [(-half, half)], _spacings(presence))
        case FanByWidth():
            ways = (fan.measured_to,) if fan.measured_to else MEASURED_TO
            width = fan.choices[_chosen(fan, choice)].value
            height = fan.at_height.value
            halves = [_half_angle(presence, height, width, way) for way in ways]
            limits_each = [(-half, half) for half in halves]
            return _spaced(presence, ways, limits_each, _spacings(presence))
        case _:
            assert_never(fan)


def choices(presence: Presence) -> tuple[str, ...]:
    """Names of the sheet's fan choices, widest first; none if unknown."""
    fan = presence.fan
    if isinstance(fan, FanUnknown):
        return ()
    return tuple(sorted(fan.choices, key=lambda name: -fan.choices[name].value))


def fan_doubt(presence: Presence, choice: str | None) -> float:
    """How far any spot's fan angle may be off by the doubt in the manual's figures.

    Args:
        presence: the sheet's presence part.
        choice: which of the sheet's fan choices is set; the only one if None.

    Returns:
        Angle (rad).  Spots equally spaced on the floor follow the outermost one:
        the angle at share k of a tangent T is off by at most k (1 + T^2)/(1 + k^2
        T^2) of that, which is largest at k = 1, or at k = 1/T beyond 45 degrees.
    """
    fan = presence.fan
    if isinstance(fan, FanUnknown) or (choice is None and len(fan.choices) > 1):
        return 0.0
    stated = fan.choices[_chosen(fan, choice)]
    if isinstance(fan, FanByAngle):
        half, off = stated.high, stated.u
    else:
        half, off = _half_doubt(presence, fan, stated)
    wide = tan(half)
    return off * max(1.0, (1 + wide**2) / (2 * wide) if wide > 1 else 1.0)


def _half_doubt(
    presence: Presence, fan: FanByWidth, width: Quantity
) -> tuple[float, float]:
    """Largest half-angle (rad) of a field of this width, and how far it may be off."""
    ways = (fan.measured_to,) if fan.measured_to else MEASURED_TO
    spread = presence.spot_divergence.u / 2 if presence.spot_divergence else 0.0
    ends = ((width.low, fan.at_height.high), (width.high, fan.at_height.low))
    most = off = 0.0
    for way in ways:
        middle = _half_angle(presence, fan.at_height.value, width.value, way)
        halves = [_half_angle(presence, height, w, way) for w, height in ends]
        most = max(most, *halves)
        off = max(off, halves[1] - middle, middle - halves[0])
    return most, off + spread


def _fan_angle(along: float, height: float, attitude: Attitude, row: float) -> float:
    """The fan angle of a beam that lands ``along`` (m) from under the lens.

    With F the pose of the row, F (sin f, 0, -cos f) has the slope along/height in
    x, which is linear in sin f and cos f.
    """
    pose = attitude.frame() @ about_x(row)
    slope = along / height
    return atan(
        float((pose[0, 2] + slope * pose[2, 2]) / (pose[0, 0] + slope * pose[2, 0]))
    )


def _chosen(fan: FanByAngle | FanByWidth, choice: str | None) -> str:
    return next(iter(fan.choices)) if choice is None else choice


def _spacings(presence: Presence) -> tuple[str, ...]:
    stated = presence.fan.spacing
    return (stated,) if stated else SPACINGS


def _half_angle(presence: Presence, height: float, width: float, way: str) -> float:
    """Half-angle (rad) of the outermost spot centre, the unit level, as drawn."""
    slant = height / cos(presence.rows[0].angle.value)
    edge = atan(width / 2 / slant)
    match way:
        case "light edges":
            spread = presence.spot_divergence
            return edge - (spread.value / 2 if spread else 0.0)
        case "test body":
            return atan(max(width / 2 - BODY_LONG_SIDE, 0.0) / slant)
        case _:
            return edge


def _spaced(
    presence: Presence,
    ways: tuple[str, ...],
    limits: list[tuple[float, float]],
    spacings: tuple[str, ...],
) -> tuple[FanReading, ...]:
    found: list[FanReading] = []
    for (way, (first, last)), spacing in product(
        zip(ways, limits, strict=True), spacings
    ):
        angles = tuple(_row(first, last, row.spots, spacing) for row in presence.rows)
        found.append(FanReading(way, spacing, angles))
    return tuple(found)


def _row(first: float, last: float, spots: int, spacing: str) -> Array:
    if spacing == "equal on floor":
        return np.arctan(np.linspace(tan(first), tan(last), spots))
    return np.linspace(first, last, spots)
