"""One walk to a door, looked at closely: what is printed is checked so."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, inf, sin

import numpy as np

from limen.physics.in_time_edges import Array, Edges, free_at_soonest
from limen.physics.in_time_field import FURTHEST, Bools, Senses
from limen.physics.walking import Walk, Walker

LOOK = 0.002  # m walked between two looks
PLACES = 513  # on the way through the door


@dataclass(frozen=True, slots=True)
class Met:
    """What one walker meets.

    Attributes:
        late: by how much the door would have to be earlier, at least (s).
        left: way left when noticed (m); -inf if never.
        signal: when the operator is told, after the crossing of the mid-plane of the
            leaves (s); negative before it, inf if never.
        at: x and y of the walker where too little is free, or least to spare (m).
        free: ends of what is free there and then: x (m).
    """

    late: float
    left: float
    signal: float
    at: tuple[float, float]
    free: tuple[float, float]


def walked(
    walk: Walk,
    radars: Sequence[Senses],
    edges: Edges,
    walker: Walker,
    out: float,
    height: float,
) -> Met:
    """Walk to the door once, looking every two millimetres.

    The radars are asked themselves, and each is taken to notice one look earlier
    than it was seen to, the opening to be as soon as its table allows: who is late
    here is late.

    Args:
        walk: in the frame of its side.
        radars: of that side, in the doorway's frame.
        edges: the opening, seen from that side.
        walker: the body.
        out: +1 outside, -1 inside.
        height: at which a body is noticed (m).

    Returns:
        What the walker meets.

    Source:
        The definition of lateness, at places on the way.
    """
    left, signal = _signal(walk, radars, out, height)
    y = np.linspace(-walker.ahead, walker.ahead, PLACES)
    way = y / cos(walk.heading)
    x = walk.target + way * sin(walk.heading)
    late = _lateness(edges, walker, x, way / walk.speed) + signal
    worst = int(np.argmax(late))
    since = -way[worst] / walk.speed - signal
    return Met(
        float(late[worst]),
        left,
        signal,
        (float(x[worst]), float(y[worst])),
        _free(edges, float(since)),
    )


def _lateness(edges: Edges, walker: Walker, x: Array, before: Array) -> Array:
    """Lateness at places, the signal given as walkers cross the leaves (s)."""
    right = free_at_soonest(edges.times, edges.right, x + walker.aside)
    left = free_at_soonest(edges.times, edges.left, walker.aside - x)
    return np.maximum(right, left) + before


def _signal(
    walk: Walk, radars: Sequence[Senses], out: float, height: float
) -> tuple[float, float]:
    """Way left when first noticed, and when the signal comes before the crossing.

    Returns:
        Metres; and seconds after the crossing (negative: before it).
    """
    begin = min(walk.start, FURTHEST)
    left = np.arange(begin, -FURTHEST / 4, -LOOK)
    best = -inf, inf
    for radar in radars:
        seen = _detected(walk, radar, out, height, left)
        way = _held(seen, left, walk.speed * radar.response)
        way = min(way + LOOK, begin)
        if radar.response - way / walk.speed < best[1]:
            best = way, radar.response - way / walk.speed
    return best


def _detected(
    walk: Walk, radar: Senses, out: float, height: float, left: Array
) -> Bools:
    x = walk.target + left * sin(walk.heading)
    y = left * cos(walk.heading)
    points = np.column_stack([out * x, out * y, np.full_like(x, height)])
    going = -out * walk.speed * np.array([sin(walk.heading), cos(walk.heading), 0.0])
    going[2] = 0.0
    return radar.detects(points, np.broadcast_to(going, points.shape))


def _held(seen: Bools, left: Array, length: float) -> float:
    """The first place from which it is seen without a break for a length (m)."""
    edges = np.flatnonzero(np.diff(np.concatenate([[False], seen, [False]])))
    for first, last in zip(edges[::2].tolist(), edges[1::2].tolist(), strict=True):
        if left[first] - left[last - 1] + 2 * LOOK >= length:
            return float(left[first])
    return -inf


def _free(edges: Edges, since: float) -> tuple[float, float]:
    """The ends of what is free so long after the signal: x (m)."""
    index = max(int(np.searchsorted(edges.times, since, side="right")) - 1, 0)
    return -float(edges.left[index]), float(edges.right[index])
