"""The list of all doorways: how long one waits for it, on this machine.

A library with ten thousand doorways and a hundred thousand visits is made first; the
times are of a real server on its port.  `--doors N` and `--visits N` make a smaller
one; `--home FOLDER` keeps it, and takes one that is there.
"""

import argparse
import http.client
import sys
import tempfile
from datetime import date
from pathlib import Path
from statistics import median, quantiles
from time import perf_counter

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))

from browsing import DAY, running
from builders.many_doors import filled, restudied
from limen.desk.library import open_desk

TIMES = 40
WARM = 3
ASKED = (
    "/doors",
    "/doors?state=mend&sort=mend&down=1",
    "/doors?state=overdue&sort=due",
    "/doors?q=clinic+inner",
    "/doors?q=nothing+like+it",
    "/doors?sort=visit",
    "/doors?sort=name&start=5000",
    "/doors?state=defects&place=Dunmere&sort=place",
    "/doors?rulebook=us&state=measure",
    "/doors?question=presence.threshold&answer=fails",
    "/doors?due=overdue&view=list",
    "/doors?view=fails",
    "/doors?view=fails&q=station",
    "/doors?view=due&by=place",
    "/doors?view=due&by=site",
    "/",
    "/?q=clinic&show=mend",
)


def main() -> None:
    """Make the library, ask, and print a table."""
    told = _arguments()
    home = Path(told.home or tempfile.mkdtemp())
    file, day = home / "library.db", date.fromisoformat(DAY)
    if not file.exists():
        home.mkdir(parents=True, exist_ok=True)
        since = perf_counter()
        filled(file, told.doors // 10, told.doors, told.visits, day).library.close()
        took, size = perf_counter() - since, file.stat().st_size / 1e6
        print(f"made in {took:.0f} s, {size:.0f} MB")
    kept = open_desk(file, today=lambda: day)
    restudied(kept, day)
    kept.library.close()
    with running(home) as desk:
        empty = waits(desk.url, "/static/icon.svg")
        print(f"{'an empty request':52s} {_said(empty, empty)}")
        for path in ASKED:
            print(f"{path:52s} {_said(waits(desk.url, path), empty)}", flush=True)


def waits(url: str, path: str, times: int = TIMES) -> list[float]:
    """How long each of some requests takes on one open line (ms)."""
    line = http.client.HTTPConnection(url.removeprefix("http://"), timeout=60)
    took: list[float] = []
    for _ in range(times + WARM):
        since = perf_counter()
        line.request("GET", path, headers={"Accept": "text/html"})
        reply = line.getresponse()
        reply.read()
        took.append((perf_counter() - since) * 1000)
        assert reply.status == 200, (path, reply.status)
    line.close()
    return took[WARM:]


def _said(took: list[float], empty: list[float]) -> str:
    late = quantiles(took, n=20)[-1]
    ratio = median(took) / median(empty)
    return f"p50 {median(took):7.1f} ms  p95 {late:7.1f} ms  {ratio:6.1f} empty"


def _arguments() -> argparse.Namespace:
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--doors", type=int, default=10_000)
    asked.add_argument("--visits", type=int, default=100_000)
    asked.add_argument("--home")
    return asked.parse_args()


if __name__ == "__main__":
    main()
