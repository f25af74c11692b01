"""What one missed pose says of every way to set a unit.

A body is reached where one unit alone reaches it.  So a pose that settings of one
unit miss, and settings of another miss too, rules out both together: each pose found
by one proof is held against all options of all units at once.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np
from numpy.typing import NDArray

from limen.physics.coverage import Problem
from limen.physics.coverage.pose import GUARD, Pose, gaps
from limen.physics.reach import Cast, Place

Bools = NDArray[np.bool_]
CORNERS = tuple(product((-1.0, 1.0), repeat=2))


@dataclass(frozen=True, slots=True)
class Stack:
    """What a unit casts at each of its options, one upon the other.

    Attributes:
        shifted: the beams with all of a unit at each corner of its common error.
        count: options.
    """

    shifted: tuple[Problem, ...]
    count: int

    def misses(self, pose: Pose, shrink: float) -> Bools:
        """Which options do not surely reach a body at a pose (count,).

        Args:
            pose: x, y (m) and yaw (rad).
            shrink: by which every side of the body is smaller (m).
        """
        missed = np.zeros(self.count, dtype=np.bool_)
        for problem in self.shifted:
            met = gaps(problem, pose, grow=-shrink) <= GUARD
            counts = np.bincount(problem.group[met], minlength=self.count)
            missed |= counts < problem.needed
        return missed


def stacked(casts: Sequence[Cast], place: Place, body: tuple[float, float]) -> Stack:
    """What a unit casts at each option, ready to be held against poses.

    Args:
        casts: of each option.
        place: where the body is asked for.
        body: its sides (m).
    """
    counts = [len(one.segments) for one in casts]
    group = np.repeat(np.arange(len(casts)), counts)
    lines = np.concatenate([np.empty((0, 4)), *(one.segments for one in casts)])
    own = np.concatenate([np.empty((0, 2)), *(one.residual for one in casts)])
    common = np.array([one.common for one in casts]).reshape(len(casts), 2)
    needed = np.array([one.needed for one in casts], dtype=np.int64)
    corners = CORNERS if common.any() else CORNERS[:1]
    shifted = tuple(
        Problem.build(
            lines + np.tile(common[group] * corner, 2),
            tuple(place.zone),
            body,
            group=group,
            needed=needed,
            tolerance=own,
        )
        for corner in corners
    )
    return Stack(shifted, len(casts))
