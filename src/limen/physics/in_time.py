"""Whether a door is open enough before those who walk to it arrive.

t₀ is the first instant from which a walker is noticed without a break for the
radar's response; then the operator acts, and the leading edges move from the worst
state they may be in.  The walker's body, with its side clearance, must lie within
what is free as long as its middle is less than half its depth and the stand-off
from the leaves.  *Lateness* is by how much the door would have to be earlier:

    max over y and both hands of T(x ± aside) + response - (s₀ - s)/v,

s the way left at distance y from the leaves, s₀ where the walker is first noticed,
T the time after the signal at which so much is free.  Negative: time to spare.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import atan2, inf

import numpy as np
from numpy.typing import NDArray

from limen.physics.in_time_edges import Edges, free_at_latest
from limen.physics.in_time_field import Field, Lines, Stretches, noticed, stretches
from limen.physics.walking import Group, Walker

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]

ALONG = 33  # places on the way through the door, for shares of a group
SPEEDS = 14  # speeds between which lateness is looked at
PARTS = 10  # of such a span, in which the speed is looked for
ROUNDS = 3


@dataclass(frozen=True, slots=True)
class Approach:
    """Everything that decides whether a door opens in time, on one side.

    Attributes:
        edges: the opening over time.
        fields: of the units that open from this side.
        walker: the body.
        headings: least and greatest heading (rad), positive from positive x; less
            than a quarter turn to either hand.
        targets: least and greatest x at which people cross the leaves (m).
        start: the longest way that people come straight (m); endless if unknown
            to be shorter.
        further: how much further out the units are taken to notice (m).
    """

    edges: Edges
    fields: tuple[Field, ...]
    walker: Walker
    headings: tuple[float, float]
    targets: tuple[float, float]
    start: float = inf
    further: float = 0.0


def fits(approach: Approach, heading: Array, target: Array) -> Bools:
    """Whether a straight walk fits through the opening at all, fully open.

    Who comes more steeply has to turn before the door; that is not asked here.

    Args:
        approach: what decides.
        heading: (n,) where walks come from (rad).
        target: (n,) where they cross the leaves (m).
    """
    left, right = approach.edges.full
    sway = approach.walker.ahead * np.abs(np.tan(heading)) + approach.walker.aside
    return (target + sway <= right + 1e-9) & (target - sway >= left - 1e-9)


def steepest(edges: Edges, walker: Walker) -> float | None:
    """The greatest heading at which a straight walk fits through the middle (rad).

    A body that is ahead/cos ψ on its way before and after the leaves sways by
    ahead·tan ψ to either hand.

    Args:
        edges: the opening over time.
        walker: the body.

    Returns:
        The heading; None if the body does not fit at all.
    """
    left, right = edges.full
    room = (right - left) / 2 - walker.aside
    return atan2(room, walker.ahead) if room >= 0.0 else None


def time_ahead(
    approach: Approach,
    inside: Sequence[Stretches],
    slow: Array,
    fast: Array,
    left: Array,
) -> Array:
    """Time from the signal until so much way is left, at the least (s).

    Args:
        approach: what decides.
        inside: where bundles of walks lie in each of its fields.
        slow: (n,) least speeds (m/s).
        fast: (n,) greatest speeds (m/s).
        left: (n,) way left (m).

    Returns:
        (n,) (s₀ - s)/v - response of the unit that notices best, at the worst of
        the speeds; -inf if none does.
    """
    seen = [
        noticed(field, where, slow, fast, approach.start)
        for field, where in zip(approach.fields, inside, strict=True)
    ]
    return ahead_of(approach, seen, slow, fast, left)


def ahead_of(
    approach: Approach, seen: Sequence[Array], slow: Array, fast: Array, left: Array
) -> Array:
    """The same where it is known from how far the units notice.

    Args:
        approach: what decides.
        seen: of each unit, way left when it notices (m), of the shape of ``left``.
        slow: least speeds (m/s).
        fast: greatest speeds (m/s).
        left: way left (m), any shape.

    Returns:
        Seconds of that shape; -inf where none notices.
    """
    best = np.full(left.shape, -np.inf)
    for field, way in zip(approach.fields, seen, strict=True):
        shown = np.minimum(way + approach.further, approach.start)
        walked = shown - left
        time = np.where(walked >= 0.0, walked / fast, walked / slow)
        best = np.maximum(best, time - field.response)
    return best


@dataclass(frozen=True, slots=True)
class Ways:
    """Straight walks, and all of them that does not depend on speed.

    Attributes:
        heading, target: (n,) rad, m; walks that fit.
        inside: where they lie in each field.
        need: (n, k) time after the signal by which enough is free (s), at places on
            the way through.
        left: (n, k) way left there (m).
    """

    heading: Array
    target: Array
    inside: tuple[Stretches, ...]
    need: Array
    left: Array


def ways(approach: Approach, heading: Array, target: Array) -> Ways:
    """Straight walks that fit, made ready for any speed."""
    none = np.zeros_like(heading)
    lines = Lines(heading, target, none, none)
    y = np.linspace(-1.0, 1.0, ALONG) * approach.walker.ahead
    need, left = _needed(approach, heading, target, y)
    inside = tuple(stretches(field, lines) for field in approach.fields)
    return Ways(heading, target, inside, need, left)


def lateness(approach: Approach, given: Ways, speed: Array) -> Array:
    """How late the door is for straight walks, by its fields drawn in (s).

    Args:
        approach: what decides.
        given: the walks.
        speed: (…, n) m/s, or (…, 1) for all of them.

    Returns:
        (…, n) seconds, at the places tried on the way through; negative is to spare,
        inf where the walk is not noticed.
    """
    none = np.zeros(np.broadcast_shapes(speed.shape, given.heading.shape))
    ahead = time_ahead(approach, given.inside, speed, speed, none)
    return np.max(given.need + given.left / speed[..., None], axis=-1) - ahead


def _needed(
    approach: Approach, heading: Array, target: Array, y: Array
) -> tuple[Array, Array]:
    """When enough must be free, and the way left, at places on the way: (n, y)."""
    x = target[:, None] + np.tan(heading)[:, None] * y
    edges, aside = approach.edges, approach.walker.aside
    need = np.maximum(
        free_at_latest(edges.times, edges.right, _within(x + aside, edges.right)),
        free_at_latest(edges.times, edges.left, _within(aside - x, edges.left)),
    )
    return need, y / np.cos(heading)[:, None]


def _within(wanted: Array, reached: Array) -> Array:
    """What is wanted of walks that fit: never more than there is."""
    return np.minimum(wanted, reached[-1])


def late_share(approach: Approach, group: Group, lines: int = 24) -> float:
    """The share of a group for whom the door is late.

    Headings and targets are taken alike over their range, walks that do not fit
    left out; speeds as the group's.  On each line the speeds at which lateness
    changes its sign are found, and the group's distribution gives the rest.

    Args:
        approach: what decides.
        group: the people.
        lines: headings tried; a third as many targets.

    Returns:
        0 to 1.

    Raises:
        ValueError: no walk fits through the opening.

    Source:
        Derived; midpoint rule over lines, roots over speed.
    """
    given = ways(approach, *_spread_over(approach, lines))
    ends = 1e-4, 1 - 1e-4
    shares = np.array([0.0, ends[0], *_probabilities(SPEEDS), ends[1], 1.0])
    steps = np.array([group.quantile(share) for share in shares[1:-1].tolist()])
    # Whoever is slower, or faster, than anybody looked at is late as they are.
    late = np.pad(_late(approach, given, steps[:, None]), ((1, 1), (0, 0)), "edge")
    was, then = late[:-1], late[1:]
    share = np.sum(np.where(was & then, np.diff(shares)[:, None], 0.0))
    span, walk = np.nonzero(was != then)
    turned = _turn(
        approach, _chosen(given, walk), (steps[span - 1], steps[span]), was[span, walk]
    )
    below = np.array([group.slower(speed) for speed in turned.tolist()])
    parts = np.where(was[span, walk], below - shares[span], shares[span + 1] - below)
    return float((share + np.sum(parts)) / len(given.heading))


def _chosen(given: Ways, walk: NDArray[np.intp]) -> Ways:
    """Some of the walks, each as often as it is named."""
    return Ways(
        given.heading[walk],
        given.target[walk],
        tuple(
            Stretches(one.top[walk], one.bottom[walk], one.abreast[walk], one.off[walk])
            for one in given.inside
        ),
        given.need[walk],
        given.left[walk],
    )


def _late(approach: Approach, given: Ways, speed: Array) -> Bools:
    return lateness(approach, given, speed) > 0.0


def _turn(
    approach: Approach, given: Ways, span: tuple[Array, Array], late: Bools
) -> Array:
    """The speed between two at which each walk is late no longer, or begins to be."""
    low, step = span[0], span[1] - span[0]
    for _ in range(ROUNDS):
        step = step / PARTS
        within = low + np.arange(1.0, PARTS)[:, None] * step
        same = _late(approach, given, within) == late
        low = low + step * np.sum(np.logical_and.accumulate(same, axis=0), axis=0)
    return low + step / 2


def _probabilities(count: int) -> Array:
    return (np.arange(count) + 0.5) / count


def _spread_over(approach: Approach, lines: int) -> tuple[Array, Array]:
    heading = _middles(approach.headings, lines)
    target = _middles(approach.targets, max(lines // 3, 1))
    one, two = (each.ravel() for each in np.meshgrid(heading, target, indexing="ij"))
    fit = fits(approach, one, two)
    if not fit.any():
        raise ValueError("no walk fits through the opening")
    return one[fit], two[fit]


def _middles(span: tuple[float, float], count: int) -> Array:
    return span[0] + (span[1] - span[0]) * _probabilities(count)
