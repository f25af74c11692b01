"""A fleet of doorways that all differ: how fast, how much memory, on how many cores.

Writes DOORWAYS doorways as site files (one in five as found somewhere, with remedies to
look for) and runs `limen fleet check` on them.  Prints, of one run: doorways a second
on one worker and on all cores, over at most 1,000 of them, and their ratio (the aim is
1.7 on two cores); then all of them on all cores, killed half way and gone on with: for
each third of the way the doorways a second and the memory (resident) of the parent and
of its largest worker, which show whether it is linear and flat, and that nothing was
done twice; then what it takes to find that all is done.  With --cluster the thousand
once more on a local Dask cluster.

    python bench/fleet.py [DOORWAYS] [--cluster]
"""

import os
import signal
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
SOME = 1000
PARTS = 3
AIM = 1.7
COMMAND = (sys.executable, "-m", "limen", "fleet", "check")


@dataclass
class Run:
    """What was seen while a run went on: seconds, doorways kept, memory."""

    seen: list[tuple[float, int, float, float]] = field(default_factory=list)

    @property
    def begun(self) -> list[tuple[float, int, float, float]]:
        """From the first answer of this run on."""
        before = self.seen[0][1]
        return [one for one in self.seen if one[1] > before]

    @property
    def rate(self) -> float:
        """Doorways a second, once the processes have started."""
        first = self.begun[0]
        last = next(one for one in self.begun if one[1] == self.seen[-1][1])
        return (last[1] - first[1]) / max(last[0] - first[0], 1e-9)

    def parts(self) -> Iterator[tuple[float, float, float]]:
        """Rate and memory by parts of the way."""
        begun, many = self.begun, self.begun[-1][1] - self.begun[0][1]
        for part in range(PARTS):
            start = begun[0][1]
            bounds = (start + many * part / PARTS, start + many * (part + 1) / PARTS)
            some = [one for one in begun if bounds[0] <= one[1] <= bounds[1]]
            if not some:
                continue
            first, end = some[0], next(one for one in some if one[1] == some[-1][1])
            spent = max(end[0] - first[0], 1e-9)
            yield (
                (end[1] - first[1]) / spent,
                max(one[2] for one in some),
                max(one[3] for one in some),
            )


def main(doorways: int, *, cluster: bool) -> None:
    with tempfile.TemporaryDirectory() as made:
        place, cores = Path(made), len(os.sched_getaffinity(0))
        start = perf_counter()
        write_fleet(place / "some", min(doorways, SOME))
        write_fleet(place / "all", doorways)
        print(f"{doorways} doorways written in {perf_counter() - start:.0f} s")
        compared(place, cores, cluster=cluster)
        killed(place, doorways, cores)
        start = perf_counter()
        run(place, "all", "whole", "--workers", str(cores))
        spent = perf_counter() - start
        print(f"all done before: {spent:.1f} s, {1e3 * spent / doorways:.1f} ms a door")


def compared(place: Path, cores: int, *, cluster: bool) -> None:
    """One worker, all cores, and a cluster, over the same doorways."""
    one = shown("1 worker", run(place, "some", "one", "--workers", "1"))
    every = shown(f"{cores} workers", run(place, "some", "every"))
    print(f"ratio {every.rate / one.rate:.2f} x on {cores} cores (aim {AIM})")
    if cluster:
        with local(cores) as address:
            noted = run(place, "some", "dask", "--cluster", address)
        many = shown(f"{cores} workers on Dask", noted)
        print(f"ratio {many.rate / one.rate:.2f} x on a local cluster (aim {AIM})")
    alike(place, "one", "every", *(["dask"] if cluster else []))


def killed(place: Path, doorways: int, cores: int) -> None:
    """All doorways on all cores; the parent is killed half way, and begun again."""
    first = run(place, "all", "whole", kill_at=doorways // 2)
    shown(f"{doorways} doorways on {cores} workers, until it was killed", first)
    kept = first.seen[-1][1]
    second = shown("gone on with", run(place, "all", "whole"))
    assert second.seen[-1][1] == doorways, "something was done twice, or not at all"
    print(
        f"{kept} were kept when it was killed; {doorways - kept} were done after that"
    )


def run(place: Path, sites: str, out: str, *more: str, kill_at: int = 0) -> Run:
    """One run of the command, looked at twice a second."""
    where = place / out
    command = [*COMMAND, str(place / sites), "--out", str(where), *more]
    command += ["--on", "2026-11-26"]
    noted, start = Run(), perf_counter()
    with subprocess.Popen(command, stdout=subprocess.DEVNULL) as process:  # noqa: S603
        while process.poll() is None:
            sleep(0.5)
            parent, workers = memory(process.pid)
            now, kept = perf_counter() - start, lines(where / "journal.txt")
            noted.seen.append((now, kept, parent, workers))
            if kill_at and kept >= kill_at:
                process.kill()
    now, kept = perf_counter() - start, lines(where / "journal.txt")
    noted.seen.append((now, kept, *noted.seen[-1][2:]))
    assert process.returncode == (-signal.SIGKILL if kill_at else 0)
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
    """A cluster of this machine, as docs/fleet.md says: its workers do not sample."""
    os.environ["DASK_DISTRIBUTED__WORKER__PROFILE__ENABLED"] = "False"
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
