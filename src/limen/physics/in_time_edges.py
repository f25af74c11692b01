"""When the opening reaches so far, on either hand: bounds from a table."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

PLACES = 4096  # times in the table between the first break and the last


class Opens(Protocol):
    """What is asked of an opening: how much is free, some time after the signal."""

    @property
    def breaks(self) -> Sequence[float]:
        """Times between which the edges move smoothly; still after the last (s)."""
        ...

    def free(self, t: ArrayLike) -> tuple[Array, Array]:
        """Left and right end (x, m), of the shape of t (s); never shrinking."""
        ...


@dataclass(frozen=True, slots=True)
class Edges:
    """How far the opening reaches to either hand, over time, seen from one side.

    Attributes:
        times: after the signal (s), rising.
        right, left: how far it reaches towards positive and negative x by then
            (m), never falling; ``left`` counts towards negative x.
    """

    times: Array
    right: Array
    left: Array

    @property
    def full(self) -> tuple[float, float]:
        """The ends of the whole opening: x (m)."""
        return -float(self.left[-1]), float(self.right[-1])

    def earlier(self, seconds: float) -> "Edges":
        """The same, had the door been so much quicker."""
        return Edges(self.times - seconds, self.right, self.left)


def edges_of(opening: Opens, out: float) -> Edges:
    """The table of an opening, for who comes from outside (+1) or inside (-1)."""
    breaks = np.array([0.0, *opening.breaks])
    times = np.linspace(0.0, float(np.max(breaks)), PLACES)
    times = np.unique(np.concatenate([times, breaks[breaks >= 0.0]]))
    left, right = opening.free(times)
    if out > 0:
        return Edges(times, right, -left)
    return Edges(times, -left, right)


def free_at_latest(times: Array, reached: Array, wanted: Array) -> Array:
    """The first time of the table by which it is free so far; -inf if it ever is.

    Args:
        times: of the table (s).
        reached: how far is free by then (m), never falling.
        wanted: how far it must be free (m), any shape.

    Returns:
        Times of that shape (s); inf where it never opens so far.
    """
    index = np.searchsorted(reached, wanted - 1e-9, side="left")
    ends = np.concatenate([times, [np.inf]])
    return np.where(index == 0, -np.inf, ends[index])


def free_at_soonest(times: Array, reached: Array, wanted: Array) -> Array:
    """The last time of the table by which it is not free so far yet.

    Args and returns as in `free_at_latest`; -inf where it is free from the start.
    """
    index = np.searchsorted(reached, wanted - 1e-9, side="left")
    return np.where(index == 0, -np.inf, times[np.maximum(index - 1, 0)])
