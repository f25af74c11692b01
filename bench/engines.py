"""How fast the coverage proof is: the compiled search against its NumPy twin.

`python bench/engines.py [doorways]` proves the same random doorways with both in one
run and prints milliseconds and their ratio. `ratios` gives the table to other benches.
"""

import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from time import perf_counter

import numpy as np

from limen.physics.coverage import Problem, solve

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))

from physics.coverage.problems import problem

COUNT = 100
WARM = 3
AIM = 15.0
"""How many times faster than the twin the compiled search is to be."""


@dataclass(frozen=True)
class Line:
    """One line of the table: a kind of question and the milliseconds it took."""

    kind: str
    fast: np.ndarray
    plain: np.ndarray
    differ: int

    @property
    def ratio(self) -> float:
        """Median time of the twin over that of the compiled search."""
        return float(np.median(self.plain) / np.median(self.fast))


def timed(work: Callable[[], str]) -> tuple[float, str]:
    start = perf_counter()
    verdict = work()
    return (perf_counter() - start) * 1e3, verdict


def line(kind: str, asked: list[Problem]) -> Line:
    for each in asked[:WARM]:
        solve(each, engine="numba")
        solve(each, engine="numpy")
    fast = [timed(lambda p=p: solve(p, engine="numba").verdict) for p in asked]
    plain = [timed(lambda p=p: solve(p, engine="numpy").verdict) for p in asked]
    differ = sum(f[1] != p[1] for f, p in zip(fast, plain, strict=True))
    return Line(
        kind, np.array([t for t, _ in fast]), np.array([t for t, _ in plain]), differ
    )


def ratios(count: int = COUNT) -> list[Line]:
    """Both engines on nominal doorways and on doorways with errors."""
    nominal = [problem(seed) for seed in range(count)]
    errors = [problem(seed, errors=True) for seed in range(count)]
    return [line("nominal", nominal), line("with errors and shifts", errors)]


def spread(times: np.ndarray) -> str:
    p95 = np.percentile(times, 95)
    return f"{np.median(times):9.2f}{p95:9.2f}{times.max():9.1f}"


def main() -> None:
    count = int(sys.argv[1]) if len(sys.argv) > 1 else COUNT
    print(f"Coverage proof, {count} random doorways each; milliseconds a proof")
    print(f"{'':24}{'compiled':^27}{'NumPy twin':^27}{'':>8}")
    columns = f"{'median':>9}{'p95':>9}{'worst':>9}"
    print(f"{'':24}{columns}{columns}{'ratio':>8}{'differ':>8}")
    for each in ratios(count):
        spreads = spread(each.fast) + spread(each.plain)
        print(f"{each.kind:24}{spreads}{each.ratio:7.0f}×{each.differ:8d}")
    print(f"aim: at least {AIM:.0f}× on nominal doorways")


if __name__ == "__main__":
    main()
