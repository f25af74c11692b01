"""Beams of a unit: straight lines from its lens, and where they meet the floor.

u = Rz(yaw) Rx(tilt) Ry(roll) Rx(row angle) (sin f, 0, -cos f), f the fan angle;
an inside unit is turned by half a turn about z.  With g = (ux, uy) / -uz the
beam at height z stands over lens + (h - z) g on the floor.
"""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from limen.geometry.turns import HALF_TURN, Array, about_x, unit_pose

Ints = NDArray[np.int64]
STEEPEST = 8.0  # a beam flatter than 83 degrees from the vertical never counts


class Attitude(NamedTuple):
    """How a unit is turned (rad); ``turned`` for a unit that stands inside."""

    tilt: float
    roll: float
    yaw: float
    turned: bool

    def frame(self) -> Array:
        """The unit's pose (3, 3) in the doorway's frame."""
        pose = unit_pose(self.tilt, self.roll, self.yaw)
        return HALF_TURN @ pose if self.turned else pose


@dataclass(frozen=True, slots=True)
class Beams:
    """The beams of one unit.

    Attributes:
        lens: (3,) place of the lens, m.
        directions: (n, 3) unit vectors, all leading down.
        fan_axes: (n, 3) unit axes about which a fan angle turns each beam.
        row_axes: (n, 3) unit axes about which a row angle turns each beam.
        row: (n,) number of each beam's row, from 0.
        spot: (n,) number of each beam in its row, from 0.
    """

    lens: Array
    directions: Array
    fan_axes: Array
    row_axes: Array
    row: Ints
    spot: Ints

    @property
    def slopes(self) -> Array:
        """(n, 2) horizontal over downward components of the directions."""
        return self.directions[:, :2] / -self.directions[:, 2:]

    def at_height(self, z: float) -> Array:
        """(n, 2) where each beam stands at height ``z`` (m)."""
        return self.lens[:2] + (self.lens[2] - z) * self.slopes


def beams_of(
    lens: tuple[float, float, float],
    attitude: Attitude,
    row_angles: tuple[float, ...],
    fans: tuple[Array, ...],
    rows_on: tuple[int, ...],
) -> Beams:
    """The beams of one unit.

    Args:
        lens: place of the lens (m).
        attitude: how the unit is turned.
        row_angles: angle of each row from the unit's axis (rad).
        fans: fan angles of each row (rad), one array a row.
        rows_on: numbers of the rows that are switched on, from 0.

    Returns:
        Beams whose directions lead down; others are dropped.
    """
    frame = attitude.frame()
    parts = [_row_of(frame, number, row_angles[number], fans) for number in rows_on]
    directions, fan_axes, row_axes, row, spot = (
        np.concatenate(column) for column in zip(*parts, strict=True)
    )
    flat = np.hypot(directions[:, 0], directions[:, 1])
    keep = (directions[:, 2] < 0) & (flat < STEEPEST * -directions[:, 2])
    return Beams(
        np.array(lens, dtype=np.float64),
        np.ascontiguousarray(directions[keep]),
        fan_axes[keep],
        row_axes[keep],
        row[keep],
        spot[keep],
    )


def _row_of(
    frame: Array, number: int, row_angle: float, fans: tuple[Array, ...]
) -> tuple[Array, Array, Array, Ints, Ints]:
    fan = fans[number]
    turn = frame @ about_x(row_angle)
    flat = np.stack([np.sin(fan), np.zeros_like(fan), -np.cos(fan)], axis=1)
    count = len(fan)
    return (
        flat @ turn.T,
        np.tile(turn[:, 1], (count, 1)),
        np.tile(frame[:, 0], (count, 1)),
        np.full(count, number, dtype=np.int64),
        np.arange(count, dtype=np.int64),
    )


def spans(height: float, low: float, high: float) -> tuple[float, float]:
    """The part of a body's height in which a beam counts, checked.

    Args:
        height: height of the lens (m).
        low: lowest height counted (m), sheet's lowest height plus unevenness.
        high: highest height counted (m), body's top less unevenness.

    Raises:
        ValueError: the lens stands below the body's top, or nothing is left.
    """
    if not height > high:
        raise ValueError(f"the lens at {height} m stands below the body's top")
    if not 0 <= low <= high:
        raise ValueError(f"nothing of the body counts between {low} m and {high} m")
    return low, high
