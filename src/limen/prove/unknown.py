"""Where nobody knows what a unit casts: a stretch of the opening may be missed.

Then no model says which place is doubtful.  Tests are spread over the opening such that
a stretch of any length, on either side, for a body that stands or lies, is soon met.
The shares are estimates, as all of a guess.
"""

from collections.abc import Sequence

import numpy as np

from limen.geometry.turns import Array
from limen.prove.casting import Flags
from limen.prove.places import Spot

COUNT = 480
MISSED = 0.3
"""How often a body is missed somewhere; estimate."""
SHORTEST, LONGEST = 0.05, 0.5
"""Half the length of such a stretch (m); estimates."""
BESIDE = 0.02
"""How far from the leaf line a body is that stands beside it (m)."""


def stretches(
    spots: Sequence[Spot], half: float, chance: np.random.Generator
) -> tuple[Array, Flags, Flags]:
    """Ways in which a doorway of unknown units may be.

    Args:
        spots: where the body can be put.
        half: half the clear width (m).
        chance: seeded by who asks.

    Returns:
        (n,) how likely each is; (n,) whether a body is missed somewhere in it;
        (spots, n) whether the body is reached at each place.
    """
    hole = np.arange(COUNT) >= COUNT // 4
    some = int(hole.sum())
    weights = np.where(hole, MISSED / some, (1.0 - MISSED) / (COUNT - some))
    middle = half * (2.0 * chance.permutation(COUNT) + 1.0 - COUNT) / COUNT
    length = np.exp(chance.uniform(np.log(SHORTEST), np.log(LONGEST), COUNT))
    side, face = chance.integers(-1, 2, COUNT), chance.integers(0, 3, COUNT)
    x = np.array([spot.pose[0] for spot in spots])[:, None]
    y = np.array([spot.pose[1] for spot in spots])[:, None]
    lies = np.array([spot.body.face != "upright" for spot in spots])[:, None]
    there = np.abs(x - middle) <= length
    beside = (side == 0) | (side * y >= BESIDE) | ((np.abs(y) < BESIDE) & (face == 0))
    alike = (face == 0) | (lies == (face == 1))
    return weights, hole, np.logical_not(hole & there & beside & alike)
