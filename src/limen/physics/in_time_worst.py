"""The worst lateness over every heading, target and place: bounded, not sampled.

A cell is a range of headings, of targets and of places on the way through the
door.  Its bound is the latest time at which any of its lines needs any of its
places free, less the least time that any of its lines leaves; its samples are walks
that are at least so late.  Cells that cannot hold the worst are left as they are,
the others parted, until the bounds meet.
"""

from dataclasses import dataclass, replace

import numpy as np

from limen.physics.in_time import Approach, Array, Bools, ahead_of
from limen.physics.in_time_cells import LINE, SMALLEST, Cover, first_cover, refined
from limen.physics.in_time_field import noticed
from limen.physics.walking import Walk

TOLERANCE = 0.01  # s
MOST = 30_000  # cells
KEPT = 2_000  # bundles of a cover that is kept for the next question


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


class Sweep:
    """Every walk of an approach, asked about at one speed after another.

    What was found out about cells stays true at any speed, so that each question
    begins where the last one ended.
    """

    def __init__(self, approach: Approach, cover: Cover | None = None) -> None:
        """Begin.

        Args:
            approach: what decides.
            cover: cells of the same walks, fields, opening and body.
        """
        self.approach = approach
        self._cover = first_cover(approach) if cover is None else cover

    def further(self, way: float) -> "Sweep":
        """The same, were the units to notice so much further out (m)."""
        return Sweep(replace(self.approach, further=way), self._cover)

    def in_time(self, slow: float, fast: float) -> bool:
        """Whether surely nobody who walks at speeds from slow to fast is late."""
        return self.worst(slow, fast, decide=True).high <= 0.0

    def worst(
        self,
        slow: float,
        fast: float,
        *,
        tolerance: float = TOLERANCE,
        most: int = MOST,
        decide: bool = False,
    ) -> Worst:
        """The worst lateness of all straight walks at speeds from slow to fast.

        Args:
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
        cover, seen = self._cover, len(self._cover)
        while len(cover):
            late = _lateness(self.approach, cover, slow, fast)
            high, low = late[0], np.max(late[1:], axis=0)
            found = _bounds(cover, late, fast, seen)
            enough = found.high - found.low <= tolerance
            if enough or (decide and (found.high <= 0.0 or found.low > 0.0)):
                return found
            floor = max(found.low + tolerance, 0.0 if decide else -np.inf)
            chosen = (high > floor) & ~_small(cover)
            if seen >= most or not chosen.any():
                return found
            deep = _deep(cover, high, low, fast)
            rest = len(cover) - int(np.sum(chosen))
            cover = refined(self.approach, cover, chosen, deep)
            seen += len(cover) - rest
            if len(cover.bundles.fit) <= KEPT:
                self._cover = cover
        return Worst(-np.inf, -np.inf, None, seen)


def worst(
    approach: Approach,
    slow: float,
    fast: float,
    *,
    tolerance: float = TOLERANCE,
    most: int = MOST,
    decide: bool = False,
) -> Worst:
    """The worst lateness of all straight walks, asked once: see `Sweep.worst`."""
    sweep = Sweep(approach)
    return sweep.worst(slow, fast, tolerance=tolerance, most=most, decide=decide)


def _lateness(approach: Approach, cover: Cover, slow: float, fast: float) -> Array:
    """Of each cell (5, n): what no walk exceeds; how late its samples are at least."""
    bundles, cells = cover.bundles, cover.cells
    ways = [
        noticed(field, where, np.array(slow), np.array(fast), approach.start)
        for field, where in zip(approach.fields, bundles.inside, strict=True)
    ]
    there = [way[LINE][:, cells.of] for way in ways]
    ahead = ahead_of(approach, there, np.array(slow), np.array(fast), cells.left)
    needed = cells.need > -np.inf
    none = np.full_like(ahead, -np.inf)
    return np.subtract(cells.need, ahead, out=none, where=needed)


def _bounds(cover: Cover, late: Array, speed: float, seen: int) -> Worst:
    high = float(np.max(late[0]))
    index = int(np.argmax(late[1:]))
    sample, cell = index // late.shape[1], index % late.shape[1]
    low = float(late[1 + sample, cell])
    if low == -np.inf:
        return Worst(low, high, None, seen)
    bundle = cover.cells.of[cell]
    heading = float(cover.bundles.lines.heading[bundle])
    target = float(cover.bundles.samples[sample // 2, bundle])
    return Worst(low, max(high, low), Walk(heading, target, speed), seen)


def _small(cover: Cover) -> Bools:
    lines, cells = cover.bundles.lines, cover.cells
    small = (lines.turn < SMALLEST) & (lines.shift < SMALLEST)
    return small[cells.of] & (cells.deep < SMALLEST)


def _deep(cover: Cover, high: Array, low: Array, speed: float) -> Bools:
    """Whether most of what bound and samples of each cell differ by is its depth."""
    lines, cells = cover.bundles.lines, cover.cells
    best = np.max(cells.need[1:] + cells.left[1:] / speed, axis=0)
    best = np.where(best > -np.inf, best, np.inf)
    by_depth = cells.cap + cells.left[2] / speed - best
    narrow = ((lines.turn < SMALLEST) & (lines.shift < SMALLEST))[cells.of]
    most = (by_depth > 0.0) & (low + 2.0 * by_depth > high)
    return (cells.deep >= SMALLEST) & (most | narrow)
