"""The field of a side's radars on the floor: how deep, how wide, how it looks.

A body is in the field where one radar has it within its contour at every height
asked: at the floor, and at the body's middle if the rule names a body.  Lines are
walked in steps of a millimetre; what is found inside is therefore up to one step
smaller than it is.
"""

from dataclasses import dataclass
from math import cos, hypot, pi, sin

import numpy as np

from limen.geometry.turns import Array
from limen.physics.radar import Bools, Radar

STEP = 0.001  # m
CORNERS = 72
COARSE = 0.02  # m, steps of the outline


@dataclass(frozen=True, slots=True)
class Zone:
    """The field of the radars of one side.

    Attributes:
        radars: all of them; any of them opens the door.
        heights: where a body must be within the contour (m above the floor).
        face: y of the leaf face on this side.
        way: +1 outside, -1 inside.
    """

    radars: tuple[Radar, ...]
    heights: tuple[float, ...]
    face: float
    way: float

    def at(self, x: Array, out: Array, height: float = 0.0) -> Array:
        """Places (n, 3) at x along the opening and ``out`` from the leaf face."""
        y = self.way * (self.face + np.asarray(out, dtype=np.float64))
        return np.stack([np.broadcast_to(x, y.shape), y, np.full_like(y, height)], 1)

    def covers(self, x: Array, out: Array) -> Bools:
        """Whether a body at each place is in the field; (n,) metres each."""
        found = np.zeros(len(out), dtype=np.bool_)
        for radar in self.radars:
            found |= np.logical_and.reduce(
                [radar.contains(self.at(x, out, z)) for z in self.heights]
            )
        return found

    def farthest(self) -> float:
        """A distance from the leaf face beyond which nothing is reached (m)."""
        reaches = [
            abs(radar.lens[1]) + max(one.ahead for one in radar.contours)
            for radar in self.radars
        ]
        return max(reaches, default=0.0)


def ahead(zone: Zone) -> tuple[float, float]:
    """Where the field begins and ends on the middle of the opening.

    Args:
        zone: the field.

    Returns:
        Distances from the leaf face of the first unbroken run, m; both 0 if there
        is none.
    """
    out = np.arange(0.0, zone.farthest() + 2 * STEP, STEP)
    inside = zone.covers(np.zeros(1), out)
    return _first_run(inside, out)


def least_half_width(zone: Zone, out: float) -> float:
    """How far the field reaches to both sides of the middle (m).

    Args:
        zone: the field.
        out: distance from the leaf face, m.
    """
    x = np.arange(0.0, zone.farthest() + 2 * STEP, STEP)
    ends = [_run_from_middle(zone, side * x, out) for side in (-1.0, 1.0)]
    return min(ends)


def closing_speed(zone: Zone, start: tuple[float, float], speed: float) -> float:
    """Greatest speed towards a lens that somebody walking to the middle shows it.

    Args:
        zone: the field.
        start: x along the opening and distance from the leaf face (m); the walk
            leads from there straight to the middle of the leaf face.
        speed: of the walk (m/s).

    Returns:
        m/s, the greatest over the places within the field; 0 if there are none.
    """
    x0, out0 = start
    length = hypot(x0, out0)
    left = np.linspace(1.0, 0.0, max(2, int(length / COARSE)))
    inside = zone.covers(x0 * left, out0 * left)
    walk = np.array([-x0, -out0 * zone.way, 0.0]) * (speed / length)
    best = 0.0
    for radar in zone.radars:
        seen = [
            radar.closing_speed(zone.at(x0 * left, out0 * left, z), walk[None, :])
            for z in zone.heights
        ]
        shown = np.where(inside, np.minimum.reduce(seen), 0.0)
        best = max(best, float(np.max(shown)))
    return best


def outline(zone: Zone, middle: float) -> tuple[tuple[float, float], ...]:
    """Corners (x, y) of the field, from a place within it.

    Args:
        zone: the field.
        middle: distance from the leaf face of a place within it, on the middle (m).

    Returns:
        Corners in the doorway's frame; a field that is bent is drawn smaller.
    """
    reach = np.arange(0.0, 2 * zone.farthest(), COARSE)
    corners: list[tuple[float, float]] = []
    for number in range(CORNERS):
        turn = 2 * pi * number / CORNERS
        x, out = reach * sin(turn), middle + reach * cos(turn)
        last = _last(zone.covers(x, out) & (out >= 0), reach)
        corners.append(
            (last * sin(turn), zone.way * (zone.face + middle + last * cos(turn)))
        )
    return tuple(corners)


def _first_run(inside: Bools, out: Array) -> tuple[float, float]:
    if not inside.any():
        return 0.0, 0.0
    first = int(np.argmax(inside))
    return float(out[first]), _last(inside[first:], out[first:])


def _run_from_middle(zone: Zone, x: Array, out: float) -> float:
    inside = zone.covers(x, np.full_like(x, out))
    return abs(_last(inside, x)) if inside[0] else 0.0


def _last(inside: Bools, at: Array) -> float:
    """The last place of the run that begins at the first one."""
    end = len(inside) if inside.all() else int(np.argmin(inside))
    return float(at[max(end - 1, 0)])
