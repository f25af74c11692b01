"""The worst lateness over every heading, target and place: bounded, not sampled.

A cell is a range of headings, of targets and of places on the way through the
door.  Its bound is the latest time at which any of its lines needs any of its
places free, less the least time that any of its lines leaves; the middle of the
cell is a walk that is at least so late.  Cells that cannot hold the worst are
dropped, the others halved, until the bounds meet.
"""

from dataclasses import dataclass

import numpy as np

from limen.physics.in_time import Approach, Array, Bools, fits, time_ahead
from limen.physics.in_time_edges import free_at_latest, free_at_soonest
from limen.physics.in_time_field import Lines, stretches
from limen.physics.walking import Walk

FIRST = (12, 2, 4)  # cells at the beginning: headings, targets, places
TOLERANCE = 0.01  # s
MOST = 30_000  # cells
SMALLEST = 1e-5  # rad, m: walks that close are one walk


@dataclass(frozen=True, slots=True)
class Worst:
    """The worst lateness over all walks, between two bounds (s).

    Attributes:
        low, high: between which it lies; positive is late, inf not noticed.  Over a
            range of speeds ``low`` is what can be shown of ``walk`` for all of them
            at once; it may be late at none.
        walk: a walk that is ``low`` late by the field drawn in; None if no walk
            fits.
        cells: how many were looked at.
    """

    low: float
    high: float
    walk: Walk | None
    cells: int


@dataclass(frozen=True, slots=True)
class _Cells:
    """(n,) middles and half sizes of headings (rad), targets and places (m)."""

    heading: Array
    turn: Array
    target: Array
    shift: Array
    y: Array
    deep: Array

    def __getitem__(self, chosen: Bools) -> "_Cells":
        return _Cells(*(part[chosen] for part in self.parts()))

    def parts(self) -> tuple[Array, ...]:
        return (
            self.heading,
            self.turn,
            self.target,
            self.shift,
            self.y,
            self.deep,
        )


def worst(
    approach: Approach,
    slow: float,
    fast: float,
    *,
    tolerance: float = TOLERANCE,
    most: int = MOST,
    decide: bool = False,
) -> Worst:
    """The worst lateness of all straight walks at speeds from slow to fast.

    Args:
        approach: what decides.
        slow: least speed (m/s); the bound is for all speeds between.
        fast: greatest speed (m/s).
        tolerance: bounds so close are close enough (s).
        most: cells looked at, at most.
        decide: stop once it is known whether any walk is late.

    Returns:
        The bounds.  ``high`` ≤ 0 proves that no such walk is late.

    Source:
        Derived.  For a given line, need and way left are exact at the ends of a
        range of places; bundles of lines as in `limen.physics.in_time_field`.
    """
    cells, found, seen = _first(approach), Worst(-np.inf, -np.inf, None, 0), 0
    done, end = -np.inf, np.inf
    while len(cells.heading) and seen < most:
        seen += len(cells.heading)
        high = _high(approach, cells, slow, fast)
        low = _low(approach, cells, slow, fast)
        found = _worse(found, cells, low, fast)
        end = max(float(np.max(high)), done)
        settled = end <= 0.0 or found.low > 0.0
        if end - found.low <= tolerance or (decide and settled):
            return Worst(found.low, max(end, found.low), found.walk, seen)
        small = (cells.turn < SMALLEST) & (cells.shift < SMALLEST)
        small &= cells.deep < SMALLEST
        open_ = (high > found.low + tolerance) & ~small
        done = max(done, float(np.max(high[~open_], initial=-np.inf)))
        cells = _halved(cells[open_], fast, approach.walker.ahead)
    # What is left is part of what was bounded last.
    end = end if len(cells.heading) else max(done, found.low)
    return Worst(found.low, end, found.walk, seen)


def _first(approach: Approach) -> _Cells:
    ahead = approach.walker.ahead
    spans = (approach.headings, approach.targets, (-ahead, ahead))
    axes: list[Array] = []
    halves: list[float] = []
    for (low, high), wanted in zip(spans, FIRST, strict=True):
        count = wanted if high > low else 1
        halves.append((high - low) / count / 2)
        steps = np.arange(count, dtype=np.float64)
        axes.append(low + halves[-1] * (2.0 * steps + 1.0))
    grid = [each.ravel() for each in np.meshgrid(*axes, indexing="ij")]
    parts = [
        part
        for middle, half in zip(grid, halves, strict=True)
        for part in (middle, np.full_like(middle, half))
    ]
    return _Cells(*parts)


def _high(approach: Approach, cells: _Cells, slow: float, fast: float) -> Array:
    """What no walk of a cell exceeds; -inf where none of them fits."""
    least, steepest = _slopes(cells)
    sway = approach.walker.ahead * least + approach.walker.aside
    left, right = approach.edges.full
    none_fits = (cells.target - cells.shift + sway > right + 1e-9) | (
        cells.target + cells.shift - sway < left - 1e-9
    )
    lines = Lines(cells.heading, cells.target, cells.turn, cells.shift)
    left = _way_at_most(cells, steepest)
    ahead = _ahead(approach, lines, slow, fast, left)
    return np.where(none_fits, -np.inf, _need_at_most(approach, cells) - ahead)


def _slopes(cells: _Cells) -> tuple[Array, Array]:
    """The least |tan heading| in a cell, and the greatest heading (rad)."""
    far = np.abs(cells.heading)
    return np.tan(np.maximum(far - cells.turn, 0.0)), far + cells.turn


def _way_at_most(cells: _Cells, steepest: Array) -> Array:
    """The longest way left in a cell (m): y/cos heading."""
    furthest = cells.y + cells.deep
    flattest = np.maximum(np.abs(cells.heading) - cells.turn, 0.0)
    return furthest / np.cos(np.where(furthest > 0, steepest, flattest))


def _need_at_most(approach: Approach, cells: _Cells) -> Array:
    """The latest time at which enough is free for every walk of a cell that fits."""
    ends = [
        np.tan(cells.heading + i * cells.turn) * (cells.y + j * cells.deep)
        for i in (-1, 1)
        for j in (-1, 1)
    ]
    edges, aside = approach.edges, approach.walker.aside
    right = cells.target + cells.shift + np.max(ends, axis=0) + aside
    left = -(cells.target - cells.shift + np.min(ends, axis=0)) + aside
    return np.maximum(
        free_at_latest(edges.times, edges.right, _there(right, edges.right)),
        free_at_latest(edges.times, edges.left, _there(left, edges.left)),
    )


def _there(wanted: Array, reached: Array) -> Array:
    """What walks that fit want is never more than there is."""
    return np.minimum(wanted, reached[-1])


def _ahead(
    approach: Approach, lines: Lines, slow: float, fast: float, way: Array
) -> Array:
    inside = [stretches(field, lines) for field in approach.fields]
    least, most = (np.full_like(way, v) for v in (slow, fast))
    return time_ahead(approach, inside, least, most, way)


def _low(approach: Approach, cells: _Cells, slow: float, fast: float) -> Array:
    """How late the middle walk of a cell is at its middle place, at least."""
    edges, aside = approach.edges, approach.walker.aside
    x = cells.target + np.tan(cells.heading) * cells.y
    need = np.maximum(
        free_at_soonest(edges.times, edges.right, _there(x + aside, edges.right)),
        free_at_soonest(edges.times, edges.left, _there(aside - x, edges.left)),
    )
    lines = Lines(cells.heading, cells.target, cells.turn, cells.shift).middles()
    left = cells.y / np.cos(cells.heading)
    late = need - _ahead(approach, lines, slow, fast, left)
    return np.where(fits(approach, cells.heading, cells.target), late, -np.inf)


def _worse(found: Worst, cells: _Cells, low: Array, speed: float) -> Worst:
    """The worse of what was found and the worst middle of these cells."""
    index = int(np.argmax(low))
    if not low[index] > found.low:
        return found
    heading, target = float(cells.heading[index]), float(cells.target[index])
    return Worst(float(low[index]), np.inf, Walk(heading, target, speed), 0)


def _halved(cells: _Cells, speed: float, ahead: float) -> _Cells:
    """Each cell in two, across what adds most to its bound."""
    steep = np.minimum(np.abs(cells.heading) + cells.turn, 1.5)
    weights = np.stack(
        [
            cells.turn * (3.0 / speed + 2.0 * ahead / np.cos(steep) ** 2),
            cells.shift * (2.0 + 1.0 / speed),
            cells.deep * (2.0 * np.tan(steep) + 1.0 / (speed * np.cos(steep))),
        ]
    )
    across = np.argmax(weights, axis=0)
    parts = list(cells.parts())
    halves = [np.where(across == k, parts[2 * k + 1] / 2, 0.0) for k in range(3)]
    both = [
        [
            changed
            for k in range(3)
            for changed in (
                parts[2 * k] + way * halves[k],
                parts[2 * k + 1] - halves[k],
            )
        ]
        for way in (-1.0, 1.0)
    ]
    return _Cells(*(np.concatenate(pair) for pair in zip(*both, strict=True)))
