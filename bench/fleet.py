"""A fleet of doorways that all differ: how fast, how much memory, on how many cores.

Writes DOORWAYS doorways as site files (one in five as found somewhere, with remedies to
look for) and runs `limen fleet check` on them: one worker, then as many as there are
cores, in one run.  Prints for each third of the way the doorways a second and the
memory of parent and workers (resident, largest); then the ratio of the two runs (the
aim is 1.7 on two cores), how a run twice as long compares, and what it takes to find
that all is done.  With --cluster the same once more on a local Dask cluster.

    python bench/fleet.py [DOORWAYS] [--cluster]
"""

import os
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from importlib import import_module
from pathlib import Path
from time import perf_counter, sleep
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))

from builders.fleets import write_fleet

DOORWAYS = 300
PARTS = 3
AIM = 1.7
COMMAND = (sys.executable, "-m", "limen", "fleet", "check")
STARTED = 2
"""Doorways that are kept when the clock begins: processes have started by then."""


@dataclass
class Run:
    """What was seen while a run went on: seconds, doorways kept, memory."""

    seen: list[tuple[float, int, float, float]] = field(default_factory=list)

    @property
    def rate(self) -> float:
        """Doorways a second, once the processes have started."""
        first = next(one for one in self.seen if one[1] >= STARTED)
        last = next(one for one in self.seen if one[1] == self.seen[-1][1])
        return (last[1] - first[1]) / (last[0] - first[0])

    def parts(self) -> Iterator[tuple[float, float, float]]:
        """Rate and memory by parts of the way."""
        begun = [one for one in self.seen if one[1] >= STARTED]
        last = begun[-1][1]
        for part in range(PARTS):
            bounds = (last * part / PARTS, last * (part + 1) / PARTS)
            some = [one for one in begun if bounds[0] <= one[1] <= bounds[1]]
            first, end = some[0], next(one for one in some if one[1] == some[-1][1])
            spent = max(end[0] - first[0], 1e-9)
            yield (
                (end[1] - first[1]) / spent,
                max(one[2] for one in some),
                max(one[3] for one in some),
            )


def main(doorways: int, *, cluster: bool) -> None:
    with tempfile.TemporaryDirectory() as made:
        place = Path(made)
        start = perf_counter()
        write_fleet(place / "sites", doorways)
        print(f"{doorways} doorways written in {perf_counter() - start:.0f} s")
        cores = len(os.sched_getaffinity(0))
        one = shown("1 worker", run(place, "one", "--workers", "1"))
        every = shown(f"{cores} workers", run(place, "every", "--workers", str(cores)))
        print(f"ratio {every.rate / one.rate:.2f} x on {cores} cores (aim {AIM})")
        start = perf_counter()
        run(place, "every", "--workers", str(cores))
        spent = perf_counter() - start
        print(f"all done before: {spent:.1f} s, {1e3 * spent / doorways:.1f} ms a door")
        if cluster:
            with local(cores) as address:
                many = shown(
                    f"{cores} on Dask", run(place, "dask", "--cluster", address)
                )
            print(f"ratio {many.rate / one.rate:.2f} x on a local cluster")
        alike(place, "one", "every", *(["dask"] if cluster else []))


def run(place: Path, out: str, *more: str) -> Run:
    """One run of the command, looked at twice a second."""
    where = place / out
    command = [*COMMAND, str(place / "sites"), "--out", str(where), *more]
    command += ["--on", "2026-11-26"]
    noted, start = Run(), perf_counter()
    with subprocess.Popen(command, stdout=subprocess.DEVNULL) as process:  # noqa: S603
        while process.poll() is None:
            sleep(0.5)
            parent, workers = memory(process.pid)
            now = perf_counter() - start
            noted.seen.append((now, lines(where / "journal.txt"), parent, workers))
    assert process.returncode == 0
    return noted


def lines(journal: Path) -> int:
    """Doorways in a journal; the first line is that of the run."""
    counted = COUNTED.setdefault(journal, [0, 0])
    if journal.is_file():
        with journal.open("rb") as file:
            file.seek(counted[0])
            for line in file:
                counted[0] += len(line)
                counted[1] += b' {"where"' in line[:160]
    return counted[1]


COUNTED: dict[Path, list[int]] = {}


def memory(parent: int) -> tuple[float, float]:
    """Resident megabytes of a process, and of the largest of its children."""
    children = Path(f"/proc/{parent}/task/{parent}/children")
    try:
        pids = children.read_text().split()
    except OSError:
        return 0.0, 0.0
    return resident(str(parent)), max((resident(one) for one in pids), default=0.0)


def resident(pid: str) -> float:
    try:
        pages = Path(f"/proc/{pid}/statm").read_text().split()[1]
    except OSError:
        return 0.0
    return int(pages) * os.sysconf("SC_PAGE_SIZE") / 1e6


def shown(name: str, noted: Run) -> Run:
    print(f"\n{name}: {noted.rate:.2f} doorways a second")
    for part, (rate, parent, worker) in enumerate(noted.parts(), 1):
        sizes = f"parent {parent:.0f} MB, largest worker {worker:.0f} MB"
        print(f"  part {part} of {PARTS}: {rate:6.2f} a second, {sizes}")
    return noted


@contextmanager
def local(workers: int) -> Iterator[str]:
    distributed: Any = import_module("distributed")
    with distributed.LocalCluster(
        n_workers=workers, threads_per_worker=1, dashboard_address=None
    ) as cluster:
        yield cluster.scheduler_address


def alike(place: Path, first: str, *others: str) -> None:
    """Every run has written the same."""
    read = {
        out: (place / out / "findings.csv").read_bytes() for out in (first, *others)
    }
    assert len(set(read.values())) == 1
    print(f"\nfindings.csv of all runs: the same {len(read[first]) / 1e6:.1f} MB")


if __name__ == "__main__":
    words = [one for one in sys.argv[1:] if not one.startswith("--")]
    main(int(words[0]) if words else DOORWAYS, cluster="--cluster" in sys.argv)
