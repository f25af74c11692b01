"""The field of a side's radars on the floor: how deep, how wide, how it looks.

A body is surely in the field where one radar has it within its contour at every
height asked, and may be where one has it at any.  Edges are found to a millimetre,
on the inner side; a hole of less than COARSE is not seen.
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import hypot, pi

import numpy as np

from limen.geometry.turns import Array
from limen.physics.radar import Bools, Radar

STEP = 0.001  # m
CORNERS = 48
HALVINGS = 7
RAY = 0.1  # m
RAYS = 8  # steps of a ray looked at together
COARSE = 0.02  # m


@dataclass(frozen=True, slots=True)
class Zone:
    """The field of the radars of one side.

    Attributes:
        radars: all of them; any of them opens the door.
        heights: where a body is looked for (m above the floor).
        surely: whether it must be within a contour at all of them, or at any.
        face: y of the leaf face on this side.
        way: +1 outside, -1 inside.
    """

    radars: tuple[Radar, ...]
    heights: tuple[float, ...]
    surely: bool
    face: float
    way: float

    def at(self, x: Array, out: Array, height: float = 0.0) -> Array:
        """Places (n, 3) at x along the opening and ``out`` from the leaf face."""
        y = self.way * (self.face + np.asarray(out, dtype=np.float64))
        return np.stack([np.broadcast_to(x, y.shape), y, np.full_like(y, height)], 1)

    def covers(self, x: Array, out: Array) -> Bools:
        """Whether a body at each place is in the field; (n,) metres each."""
        places = np.concatenate([self.at(x, out, z) for z in self.heights])
        found = np.zeros(len(out), dtype=np.bool_)
        for radar in self.radars:
            within = radar.contains(places).reshape(len(self.heights), -1)
            found |= within.all(axis=0) if self.surely else within.any(axis=0)
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

    def covers(out: Array) -> Bools:
        return zone.covers(np.zeros(1), out)

    out = np.arange(0.0, zone.farthest() + 2 * COARSE, COARSE)
    inside = covers(out)
    if not inside.any():
        return 0.0, 0.0
    first = int(np.argmax(inside))
    begins = _edge(covers, float(out[first]), float(out[max(first - 1, 0)]))
    last = float(out[first + _run(inside[first:])])
    return begins, _edge(covers, last, last + COARSE)


def least_half_width(zone: Zone, out: float) -> float:
    """How far the field reaches to both sides of the middle (m).

    Args:
        zone: the field.
        out: distance from the leaf face, m.
    """

    def covers(x: Array) -> Bools:
        both = np.concatenate([-x, x])
        inside = zone.covers(both, np.full_like(both, out))
        return inside[: len(x)] & inside[len(x) :]

    x = np.arange(0.0, zone.farthest() + 2 * COARSE, COARSE)
    inside = covers(x)
    if not inside[0]:
        return 0.0
    last = float(x[_run(inside)])
    return _edge(covers, last, last + COARSE)


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
    places = [zone.at(x0 * left, out0 * left, z) for z in zone.heights]
    for radar in zone.radars:
        seen = radar.closing_speed(np.concatenate(places), walk[None, :])
        seen = seen.reshape(len(places), -1)
        least = np.min(seen, axis=0) if zone.surely else np.max(seen, axis=0)
        shown = np.where(inside, least, 0.0)
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
    turn = np.linspace(0.0, 2 * pi, CORNERS, endpoint=False)
    sine, cosine = np.sin(turn), np.cos(turn)

    def within(reach: Array) -> Bools:
        out = middle + reach * cosine
        flat = zone.covers((reach * sine).ravel(), out.ravel())
        return flat.reshape(out.shape) & (out >= 0)

    low, high = np.zeros(CORNERS), _first_beyond(within, 2 * zone.farthest())
    for _ in range(HALVINGS):
        half = (low + high) / 2
        inside = within(half)
        low, high = np.where(inside, half, low), np.where(inside, high, half)
    y = zone.way * (zone.face + middle + low * cosine)
    return tuple(zip((low * sine).tolist(), y.tolist(), strict=True))


def _first_beyond(within: Callable[[Array], Bools], most: float) -> Array:
    """For each corner a distance beyond the field, in steps of RAY."""
    reach = np.arange(RAY, most + RAY, RAY)
    beyond, left = np.full(CORNERS, reach[0]), np.zeros(CORNERS, dtype=np.bool_)
    for begin in range(0, len(reach), RAYS):
        part = reach[begin : begin + RAYS]
        out = ~within(np.tile(part[:, None], CORNERS))
        first = out.any(axis=0) & ~left
        beyond = np.where(first, part[np.argmax(out, axis=0)], beyond)
        left |= first
        if left.all():
            break
    return beyond


def _run(inside: Bools) -> int:
    """Number of the last place of the run that begins at the first one."""
    return max(len(inside) if inside.all() else int(np.argmin(inside)), 1) - 1


def _edge(covers: Callable[[Array], Bools], within: float, beyond: float) -> float:
    """The last place within, going from one within to one beyond, in steps of 1 mm."""
    steps = max(round(abs(beyond - within) / STEP), 1)
    places = np.linspace(within, beyond, steps + 1)
    return float(places[_run(covers(places))])
