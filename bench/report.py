"""A report of five doorways, against the studies it rests on.

Prints medians of one run after a warm-up: the studies of both states of the demo
building, their report on each paper, and the ratio of report to studies (the aim is
a report within two seconds).

    python bench/report.py [RUNS]
"""

import sys
from collections.abc import Callable
from datetime import date
from importlib.resources import files
from io import BytesIO
from pathlib import Path
from statistics import median
from time import perf_counter

from pypdf import PdfReader

from limen.desk.checking import check
from limen.desk.reporting import contents
from limen.report import pdf

SITES = ("alder-quay-as-found.toml", "alder-quay-corrected.toml")
ON = date(2026, 11, 12)


def main(runs: int) -> None:
    """Print a line a report."""
    folder = Path(str(files("limen") / "demo"))
    print(f"{'report':34} {'studies':>10} {'report':>10} {'ratio':>6} {'pages':>6}")
    for name in SITES:
        checked = check(folder / name, on=ON)
        asked = timed(lambda n=name: check(folder / n, on=ON), runs)
        for paper in ("a4", "letter"):
            made = pdf(contents(checked, paper=paper))
            spent = timed(lambda c=checked, p=paper: pdf(contents(c, paper=p)), runs)
            label = f"{name.removesuffix('.toml')} {paper}"
            pages = len(PdfReader(BytesIO(made)).pages)
            print(
                f"{label:34} {asked * 1e3:7.0f} ms {spent * 1e3:7.0f} ms "
                f"{spent / asked:6.2f} {pages:>6}"
            )


def timed(work: Callable[[], object], runs: int) -> float:
    """The median of some runs (s)."""
    times: list[float] = []
    for _ in range(runs):
        start = perf_counter()
        work()
        times.append(perf_counter() - start)
    return median(times)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 3)
