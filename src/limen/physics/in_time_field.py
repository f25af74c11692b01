"""A radar's field as a polygon at one height, and where lines enter it.

The polygon lies within the contour, so that whoever is in it is in the field: it
may show that a door opens in time, never that it does not.
"""

from dataclasses import dataclass
from math import pi
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]

FURTHEST = 12.0  # m from the door at which nobody is looked for
COARSE = 0.25  # m between the points that find the field
CORNERS = 64
BETWEEN = 4  # rays a corner, on which the polygon is held within the contour
BEYOND = 2.0  # steps of the coarse look, for what it may have missed
PARTS = 8  # of a step, in which the edge is looked for
ROUNDS = 5  # the edge is known to COARSE/PARTS⁴: 0.06 mm
LEVEL = 1e-12  # m across a line: an edge along it
WITHIN = 1e-3  # share by which the polygon is drawn in, for what lies between rays


class Senses(Protocol):
    """What is asked of a radar in the doorway's frame."""

    @property
    def lens(self) -> tuple[float, float, float]:
        """Its place (m)."""
        ...

    @property
    def least_speed(self) -> float:
        """Slowest motion along the line of sight that it detects (m/s)."""
        ...

    @property
    def response(self) -> float:
        """From motion to output (s)."""
        ...

    def contains(self, point: Array) -> Bools:
        """Whether points (n, 3) lie within its contour."""
        ...

    def detects(self, point: Array, velocity: Array) -> Bools:
        """Whether motion (n, 3) at points (n, 3) is detected."""
        ...


@dataclass(frozen=True, slots=True)
class Field:
    """A field at one height, in the frame of its side.

    Attributes:
        corners: (n, 2) of the polygon, in order.
        lens: x, y of the lens, and its height above the field (m).
        least_speed: along the line of sight (m/s).
        response: s.
    """

    corners: Array
    lens: tuple[float, float, float]
    least_speed: float
    response: float


def field_of(
    radar: Senses, out: float, height: float, corners: int = CORNERS
) -> Field | None:
    """The field of a radar at a height, drawn in to a polygon.

    Rays from a point inside run to where they first leave the contour; the polygon
    joins every ``BETWEEN``-th of them and is drawn in where the others, or a
    thousandth, ask for it.  What lies beyond the first edge (side lobes) is left
    out.

    Args:
        radar: in the doorway's frame.
        out: +1 for the outside, -1 for the inside.
        height: above the floor (m), below the lens.
        corners: of the polygon.

    Returns:
        The field; None if none of it lies before the door at this height.

    Source:
        Derived: a smaller field never notices sooner.
    """
    found = _middle(radar, out, height)
    if found is None:
        return None
    middle, far = found
    count = corners * BETWEEN
    angles: Array = np.arange(count, dtype=np.float64) * (2 * pi / count)
    edge = _edge(radar, out, height, middle, (angles, far))
    reach = _drawn_in(edge, corners) * (1.0 - WITHIN)
    own = angles[::BETWEEN]
    points = middle + reach[:, None] * np.stack([np.cos(own), np.sin(own)], axis=1)
    x, y, z = radar.lens
    return Field(
        points, (out * x, out * y, z - height), radar.least_speed, radar.response
    )


def _contains(radar: Senses, out: float, height: float, places: Array) -> Bools:
    flat = out * places.reshape(-1, 2)
    points = np.column_stack([flat, np.full(len(flat), height)])
    return radar.contains(points).reshape(places.shape[:-1])


def _middle(radar: Senses, out: float, height: float) -> tuple[Array, float] | None:
    """A point of the field before the door, and how far the field is looked for (m).

    As far in, and as far out, as a coarse look tells.
    """
    across = np.arange(-FURTHEST / 2, FURTHEST / 2 + COARSE, COARSE)
    ahead = np.arange(COARSE / 2, FURTHEST, COARSE)
    grid = np.stack(np.meshgrid(across, ahead, indexing="ij"), axis=-1)
    inside = grid[_contains(radar, out, height, grid)]
    if len(inside) == 0:
        return None
    apart = np.linalg.norm(inside - inside.mean(axis=0), axis=1)
    middle = inside[np.argmin(apart)]
    far = np.max(np.linalg.norm(inside - middle, axis=1))
    return middle, float(far) + BEYOND * COARSE


def _edge(
    radar: Senses,
    out: float,
    height: float,
    middle: Array,
    rays: tuple[Array, float],
) -> Array:
    """How far along each ray the contour is first left (m), from within."""
    angles, furthest = rays
    ways = np.stack([np.cos(angles), np.sin(angles)], axis=1)[:, None, :]
    low, step = np.zeros(len(angles)), COARSE
    places: Array = np.arange(step, furthest + step, step)
    for _ in range(ROUNDS):
        far = low[:, None] + places
        inside = _contains(radar, out, height, middle + far[..., None] * ways)
        held = np.logical_and.accumulate(inside[:, :-1], axis=1)
        low, step = low + step * np.sum(held, axis=1), step / PARTS
        places = step * np.arange(1.0, PARTS + 1.0)
    return low


def _drawn_in(edge: Array, corners: int) -> Array:
    """Reach of each corner such that no chord runs outside the rays between."""
    reach = edge[::BETWEEN]
    step = 2 * pi / corners
    share = np.ones(corners)
    beside = np.roll(reach, -1)
    for part in range(1, BETWEEN):
        first = part * step / BETWEEN
        chord = (
            reach
            * beside
            * np.sin(step)
            / np.maximum(reach * np.sin(first) + beside * np.sin(step - first), 1e-12)
        )
        fits = np.minimum(edge[part::BETWEEN] / np.maximum(chord, 1e-12), 1.0)
        share = np.minimum(share, fits)
    return reach * np.minimum(share, np.roll(share, 1))


@dataclass(frozen=True, slots=True)
class Lines:
    """Bundles of straight walks: every heading and target within a cell.

    Attributes:
        heading, target: (n,) of each bundle's middle line (rad, m).
        turn, shift: (n,) how far its lines may differ from it (rad, m).
    """

    heading: Array
    target: Array
    turn: Array
    shift: Array

    def middles(self) -> "Lines":
        """The middle lines alone."""
        none = np.zeros_like(self.heading)
        return Lines(self.heading, self.target, none, none)


@dataclass(frozen=True, slots=True)
class Stretches:
    """Where bundles of walks lie inside a field, whatever their speed.

    Attributes:
        top, bottom: (…, k) stretches inside for every line, as way left (m); where
            there is none, top is not above bottom.
        abreast: (…) way left at which the lens is abreast, at most (m).
        off: (…) its distance then, at most (m).
    """

    top: Array
    bottom: Array
    abreast: Array
    off: Array


def stretches(field: Field, lines: Lines) -> Stretches:
    """Where bundles of walks lie inside a field.

    Where no line of a bundle meets the edge of the field, all are in it or none.

    Args:
        field: at the height at which bodies are noticed.
        lines: bundles of walks.
    """
    top, bottom = _inside(field.corners, lines)
    x, y, rise = field.lens
    dx = x - lines.target
    sine, cosine = np.sin(lines.heading), np.cos(lines.heading)
    moved = lines.shift + lines.turn * (np.hypot(dx, y) + lines.shift)
    abreast = dx * sine + y * cosine + moved
    off = np.hypot(dx * cosine - y * sine, rise) + moved
    return Stretches(top, bottom, abreast, off)


def noticed(
    field: Field, inside: Stretches, slow: Array, fast: Array, start: float
) -> Array:
    """From how far every walk of a bundle is noticed without a break.

    With s the way left, the lens d off the line and abreast of it at s*, the
    closing speed is v (s - s*)/√((s - s*)² + d²): enough from s* + d k/√(1 - k²)
    on, k = least speed over v.  The furthest stretch that is walked through in no
    less than the response counts.

    Args:
        field: at the height at which bodies are noticed.
        inside: where bundles of walks lie inside it.
        slow: (…) least speeds (m/s).
        fast: (…) greatest speeds (m/s).
        start: where walks begin, as way left (m).

    Returns:
        (…) way left at which it begins, at least (m); -inf where there is none.

    Source:
        Derived; the closing speed as in `limen.physics.radar`.
    """
    share = np.minimum(field.least_speed / slow, 1.0)
    steep = share / np.sqrt(np.maximum(1.0 - share**2, 1e-18))
    below = inside.abreast + steep * inside.off
    top = np.minimum(inside.top, start)
    bottom = np.maximum(inside.bottom, below[..., None])
    enough = top - bottom >= (fast * field.response)[..., None]
    return np.max(np.where(enough & (top > bottom), top, -np.inf), axis=-1)


def _inside(corners: Array, lines: Lines) -> tuple[Array, Array]:
    """Stretches inside for every line of a bundle, sorted from afar: top, bottom."""
    low, high, crossed = _edges_met(corners, lines)
    most = max(int(np.max(np.sum(high > -np.inf, axis=1), initial=0)), 1)
    order = np.argsort(-high, axis=1)[:, : most + 1]
    low, high, crossed = (
        np.take_along_axis(each, order, axis=1) for each in (low, high, crossed)
    )
    top = np.minimum.accumulate(low, axis=1)
    bottom = np.concatenate([high[:, 1:], np.full((len(high), 1), -np.inf)], axis=1)
    inside = np.cumsum(crossed, axis=1) % 2 == 1
    return np.where(inside, top, -np.inf), np.where(inside, bottom, np.inf)


def _edges_met(corners: Array, lines: Lines) -> tuple[Array, Array, Bools]:
    """Where on the way each edge may be met: (n, m) low, high, met by the middle.

    Of a line turned by δ and shifted by e, a place that lies on the middle line's
    way at s and aside of it at c has the way (s - e sin ψ)/cos δ, and
    c = e cos ψ + way·sin δ.  So c is at most e cos ψ + (|s| + e |sin ψ|) tan δ, and
    the way differs from s by |s|(1/cos δ - 1) + e |sin ψ|/cos δ at most.
    """
    sine, cosine = np.sin(lines.heading)[:, None], np.cos(lines.heading)[:, None]
    x, y = corners[:, 0] - lines.target[:, None], corners[:, 1]
    s, c = x * sine + y * cosine, x * cosine - y * sine
    s2, c2 = np.roll(s, -1, axis=1), np.roll(c, -1, axis=1)
    furthest = np.maximum(np.abs(s), np.abs(s2))
    turn, shift = lines.turn[:, None], lines.shift[:, None]
    slid, longer = shift * np.abs(sine), 1.0 / np.cos(turn)
    stray = shift * cosine + (furthest + slid) * np.tan(turn)
    slip = furthest * (longer - 1.0) + slid * longer
    along, across = s2 - s, c2 - c
    level = np.abs(across) < LEVEL
    safe = np.where(level, 1.0, across)
    one, two = (-stray - c) / safe, (stray - c) / safe
    first = np.where(level, 0.0, np.maximum(np.minimum(one, two), 0.0))
    last = np.where(level, 1.0, np.minimum(np.maximum(one, two), 1.0))
    met = np.where(level, np.abs(c) <= stray, first <= last)
    ends = s + first * along, s + last * along
    low = np.where(met, np.minimum(*ends) - slip, np.inf)
    high = np.where(met, np.maximum(*ends) + slip, -np.inf)
    return low, high, met & ((c > 0) != (c2 > 0))
