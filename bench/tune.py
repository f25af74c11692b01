"""The search for the best settings, as so many studies of the same doorway.

Prints, in one run, for each doorway of the demo as found: the time of the search over
that of one study (processor time, after a warm-up), studies and proofs made, and how
many studies a grid takes.

    python bench/tune.py
"""

from importlib.resources import files
from pathlib import Path
from statistics import median
from time import process_time

from limen.store.bookshelf import open_shelf
from limen.store.sitefile import read_site
from limen.study import study
from limen.tune.searching import tune

RUNS = 3


def main() -> None:
    """Print a line a doorway."""
    book = open_shelf().edition("en", "2012")
    demo = Path(str(files("limen") / "demo" / "alder-quay-as-found.toml"))
    site = read_site(demo).site
    print(
        f"{'doorway':14} {'units':>5} {'study':>9} {'search':>8} {'ratio':>6}", end=""
    )
    print(f" {'studies':>8} {'proofs':>7} {'grid':>12}")
    for door in site.doorway:
        one, whole = list[float](), list[float]()
        found = tune(door, book, site=site)
        for _ in range(RUNS):
            start = process_time()
            study(door, book, site=site)
            one.append(process_time() - start)
            start = process_time()
            found = tune(door, book, site=site)
            whole.append(process_time() - start)
        a, b, work = median(one), median(whole), found.work
        print(f"{door.id:14} {len(door.fitting):5} {a * 1e3:6.0f} ms", end="")
        print(f" {b:6.2f} s {b / a:6.1f} {work.studies:8} {work.proofs:7}", end="")
        print(f" {work.grid:12}")


if __name__ == "__main__":
    main()
