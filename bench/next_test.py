"""How soon holes are found, how true what is thought is, and how long a guess takes.

`python bench/next_test.py [doors] [each]`: on each of some doorways as many mountings
with a hole as without, of every kind of tests/prove/mountings.py; how many places
beyond the four boxes that are never left out it takes to find a hole by our order, by
least room as planned and by a raster; and how likely a hole was thought to be against
how often there was one. Times are of one run on this machine, next to a proof.
"""

import sys
from pathlib import Path
from statistics import median
from time import perf_counter

import numpy as np

from limen.physics.coverage import solve

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))

from prove.doors import planned
from prove.mountings import KINDS, Door, Summary, door_of, tallies

DOORS, EACH, SPARE = 25, 80, 15


def figures(name: str, found: Summary) -> str:
    """One kind of truth in two lines."""
    middle, late = np.percentile(found.places, (50, 95), axis=0)
    orders = zip(("ours", "least room", "raster"), middle, late, strict=True)
    told = "   ".join(f"{who} {m:.0f}, {p:.0f}" for who, m, p in orders)
    bins, clear = (
        "  ".join(f"{b.said:.3f} {b.was:.3f} ({b.looks})" for b in some)
        for some in (found.bins, found.clear)
    )
    holes = f"{found.with_hole} with a hole, {found.without} without"
    seen = f"{found.shown} shown by the four boxes, {found.hidden} by no place"
    return (
        f"{name}: {holes}; {seen}\n"
        f"  places to a hole, median and 95th percentile: {told}\n"
        f"  thought, was (looks): {bins}\n"
        f"  while all was good:   {clear}"
    )


def timed(doors: list[Door]) -> str:
    """How long a guess takes, as so many proofs of a doorway."""
    guesses, proofs = list[float](), list[float]()
    for door in doors:
        start = perf_counter()
        door_of(door.question)
        guesses.append(perf_counter() - start)
        units, ground = door.scene.units, door.scene.ground
        start = perf_counter()
        for case in door.scene.cases:
            solve(ground.problem(units, case.place, case.body, exact=True))
        proofs.append(perf_counter() - start)
    ratio = median(guesses) / median(proofs)
    most = max(guesses)
    return (
        f"a guess: median {median(guesses):.2f} s, longest {most:.2f} s, "
        f"{ratio:.0f} proofs of a doorway"
    )


def main() -> None:
    """Print the figures."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else DOORS
    each = int(sys.argv[2]) if len(sys.argv) > 2 else EACH
    doors = [door_of(question) for question in planned(count + SPARE)]
    print(timed(doors))
    for name, kind in KINDS.items():
        print(figures(name, tallies(doors, kind, each, count)), flush=True)


if __name__ == "__main__":
    main()
