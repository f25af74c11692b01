"""People who only walk past: on which share of their walks a radar speaks.

Everything is in the doorway's frame.  A walk is a straight line along the façade,
before the face of one side, at a steady speed.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

import numpy as np
from numpy.typing import NDArray

from limen.geometry.turns import Array
from limen.physics.radar import Bools, Radar
from limen.physics.walking import Group

LINES = 25  # lines of a strip, each for its share of the people
FURTHER = 50  # lines beside them, at most, for what its place leaves open
SPEEDS = 12  # speeds of a group, each for its share
PLACES = 101  # places on a line at which a radar is asked
BEYOND = 1.02  # of the reach: where the asking begins

Runs = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Strip:
    """Where people walk past.

    Attributes:
        middle: y of the middle of the strip (m).
        off: how far that may be off, to either side (m).
        breadth: across it people walk anywhere, as many here as there (m).
        height: at which a body is noticed (m).
    """

    middle: float
    off: float
    breadth: float
    height: float

    def lines(self) -> Array:
        """(n,) y of lines; any LINES in a row make a place that the strip may have."""
        more = min(ceil(2 * self.off / self.breadth * LINES), FURTHER)
        count = LINES + more
        half = self.breadth / 2 + self.off
        share = (np.arange(count) + 0.5) / count * 2.0 - 1.0
        return np.asarray(self.middle + share * half, dtype=np.float64)


def triggering(
    radars: Sequence[Radar],
    strip: Strip,
    group: Group,
    *,
    from_left: tuple[float, float],
) -> tuple[float, float]:
    """Share of those who walk past for whom at least one radar speaks.

    A radar speaks for a walk on which it detects motion for its response without a
    break: the walker is within its contour and comes nearer (or, where it does not
    tell coming from going, comes nearer or goes away) along the line of sight at
    its least speed or more.

    Args:
        radars: of the side, any of which opens the door.
        strip: where they walk.
        group: how quickly.
        from_left: share that walks towards positive x, at the least and at the most.

    Returns:
        The least and the greatest share, 0 to 1, over the places that the strip and
        the shares that the directions may have: each the mean over lines and speeds.

    Source:
        Derived; the radar's contour and the radial speed are those of
        `limen.physics.radar`.  Left out: who stops, turns to the door or stands.
    """
    if not radars:
        return 0.0, 0.0
    speeds, lines = speeds_of(group), strip.lines()
    right = np.zeros((len(lines), len(speeds)), dtype=np.bool_)
    left = right.copy()
    for radar in radars:
        there, back = _spoken(radar, lines, strip.height, speeds)
        right, left = right | there, left | back
    window = np.full(LINES, 1.0 / LINES)
    to_right = np.convolve(right.mean(axis=1), window, mode="valid")
    to_left = np.convolve(left.mean(axis=1), window, mode="valid")
    shares = [share * to_right + (1.0 - share) * to_left for share in from_left]
    low, high = np.clip((np.min(shares), np.max(shares)), 0.0, 1.0)
    return float(low), float(high)


def speeds_of(group: Group) -> Array:
    """(SPEEDS,) speeds that stand for equal shares of a group (m/s)."""
    if group.spread <= 0.0:
        return np.full(SPEEDS, group.mean)
    shares = ((i + 0.5) / SPEEDS for i in range(SPEEDS))
    return np.array([group.quantile(share) for share in shares])


def _spoken(
    radar: Radar, lines: Array, height: float, speeds: Array
) -> tuple[Bools, Bools]:
    """Of each line and speed, whether one radar speaks: walking to +x, and to -x."""
    reach = BEYOND * max(one.ahead for one in radar.contours)
    x = radar.lens[0] + np.linspace(-reach, reach, PLACES)
    places = np.empty((len(lines), PLACES, 3))
    places[..., 0], places[..., 1], places[..., 2] = x, lines[:, None], height
    flat = places.reshape(-1, 3)
    inside = radar.contains(flat).reshape(len(lines), PLACES)
    if not inside.any():
        nobody = np.zeros((len(lines), len(speeds)), dtype=np.bool_)
        return nobody, nobody
    walk = np.broadcast_to(np.array([1.0, 0.0, 0.0]), flat.shape)
    shown = radar.closing_speed(flat, walk).reshape(inside.shape)
    step = 2 * reach / (PLACES - 1)
    if not radar.direction_aware:
        both = _held(inside, np.abs(shown), radar, speeds, step)
        return both, both
    there = _held(inside, shown, radar, speeds, step)
    return there, _held(inside, -shown, radar, speeds, step)


def _held(
    inside: Bools, shown: Array, radar: Radar, speeds: Array, step: float
) -> Bools:
    """Whether it is detected without a break for the radar's response."""
    need = radar.least_speed / speeds
    seen = inside[:, None, :] & (shown[:, None, :] >= need[None, :, None])
    longest = _longest(seen)
    way = speeds * radar.response
    return (longest > 0) & (longest * step >= way[None, :])


def _longest(seen: Bools) -> Runs:
    """The longest run of true values along the last axis."""
    place: Runs = np.arange(1, seen.shape[-1] + 1, dtype=np.int64)
    broken = np.maximum.accumulate(np.where(seen, 0, place), axis=-1)
    return np.asarray(np.max(place - broken, axis=-1), dtype=np.int64)
