"""How fast it is known who finds a door late, against people who walk to it.

`python bench/walks.py [doors] [walks]`: on each of a few random doors the share of
late walkers is computed, fields and opening made anew, and walked for step by step;
one run, wall times, medians.  The walking is timed on a part of the walks and
scaled to 200,000.  The error of the computed share is taken against all the walks
that were walked; the statistical error is that of 200,000.
"""

import sys
from dataclasses import dataclass
from pathlib import Path
from statistics import median
from time import perf_counter

import numpy as np

from limen.physics.in_time import late_share
from limen.physics.in_time_worst import worst
from limen.physics.walking import Group

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))

from oracles.walks import Door, a_door, late, some_walks
from physics.crossings import approach_of

DOORS = 5
WALKS = 20_000
FULL = 200_000
FAST = 1.6  # m/s
ADULTS = Group(1.34, 0.26)
AIM = 100.0
"""How many times faster than 200,000 walks the share is to be known."""


@dataclass(frozen=True)
class Line:
    """One door: seconds for share, bound and walks, and both shares."""

    share_in: float
    bound_in: float
    walked_in: float
    share: float
    walked: float

    @property
    def ratio(self) -> float:
        """Time of 200,000 walks over that of the share."""
        return self.walked_in / self.share_in


def line(door: Door, count: int, rng: np.random.Generator) -> Line:
    approach_of(door)
    start = perf_counter()
    approach = approach_of(door)
    share = late_share(approach, ADULTS)
    computed = perf_counter()
    worst(approach, FAST, FAST, tolerance=0.02)
    bounded = perf_counter()
    walks = some_walks(door, rng, count, ADULTS.mean, ADULTS.spread)
    begun = perf_counter()
    by_foot = float(late(door, walks).mean())
    took = (perf_counter() - begun) * FULL / count
    return Line(computed - start, bounded - computed, took, share, by_foot)


def lines(doors: int = DOORS, count: int = WALKS) -> list[Line]:
    """A line for each of some doors where some are late and some are not."""
    found: list[Line] = []
    seed = 0
    while len(found) < doors:
        rng = np.random.default_rng(seed)
        door, seed = a_door(rng), seed + 1
        one = line(door, count, rng)
        if 0.02 < one.walked < 0.98:
            found.append(one)
    return found


def main() -> None:
    """Print the table."""
    doors = int(sys.argv[1]) if len(sys.argv) > 1 else DOORS
    count = int(sys.argv[2]) if len(sys.argv) > 2 else WALKS
    found = lines(doors, count)
    print(f"{'late':>8} {'walked':>8} {'differs':>9} {'share':>9} {'bound':>9} ratio")
    for one in found:
        print(
            f"{one.share:8.4f} {one.walked:8.4f} {one.share - one.walked:9.4f} "
            f"{1e3 * one.share_in:6.1f} ms {1e3 * one.bound_in:6.1f} ms "
            f"{one.ratio:,.0f}"
        )
    print(
        f"{FULL:,} walks take {median(o.ratio for o in found):,.0f} times as long "
        f"as the share (aim {AIM:.0f})"
    )


if __name__ == "__main__":
    main()
