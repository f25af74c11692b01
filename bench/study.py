"""A whole study, against the sum of the physics that it calls.

Prints, in one run: the median time of a study of each demo doorway, tolerances,
cases and margins included, and its ratio to the time spent inside the physics
package (the aim is 1.3).  Times are wall times after a warm-up.

    python bench/study.py [RUNS]
"""

import sys
from collections.abc import Callable
from functools import wraps
from importlib.resources import files
from pathlib import Path
from statistics import median
from time import perf_counter

from limen.physics import reach
from limen.questions import beyond, coverage, remedies
from limen.store.bookshelf import open_shelf
from limen.store.sitefile import read_site
from limen.study import study

SITES = ("alder-quay-as-found.toml", "alder-quay-corrected.toml")
INSIDE = (
    (coverage, ("solve", "bracket", "printable")),
    (beyond, ("solve", "cast", "seen_parts", "pose_problem")),
    (reach, ("cast", "pose_problem")),
    (remedies, ("light_room",)),
)


class Clock:
    """Time spent inside the outermost of the wrapped calls."""

    def __init__(self) -> None:
        """Start at nothing."""
        self.spent, self._depth = 0.0, 0

    def wrap(self, function: Callable[..., object]) -> Callable[..., object]:
        """The function, timed unless a timed one called it."""

        @wraps(function)
        def timed(*args: object, **more: object) -> object:
            if self._depth:
                return function(*args, **more)
            self._depth, start = 1, perf_counter()
            try:
                return function(*args, **more)
            finally:
                self.spent += perf_counter() - start
                self._depth = 0

        return timed


def main(runs: int) -> None:
    """Print a line a doorway."""
    clock = Clock()
    for module, names in INSIDE:
        for name in names:
            setattr(module, name, clock.wrap(getattr(module, name)))
    book = open_shelf().edition("en", "2012")
    folder = Path(str(files("limen") / "demo"))
    print(f"{'doorway':34} {'study':>10} {'physics':>10} {'ratio':>6}")
    for name in SITES:
        site = read_site(folder / name).site
        for door in site.doorway:
            whole: list[float] = []
            inner: list[float] = []
            for run in range(runs + 1):
                clock.spent, start = 0.0, perf_counter()
                study(door, book, site=site)
                if run:
                    whole.append(perf_counter() - start)
                    inner.append(clock.spent)
            one, two = median(whole), median(inner)
            label = f"{name.removesuffix('.toml')} {door.id}"
            print(
                f"{label:34} {one * 1e3:7.1f} ms {two * 1e3:7.1f} ms {one / two:6.2f}"
            )


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 5)
