"""A fleet over real processes that are really killed, and over a Dask cluster."""

import logging
import os
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from time import monotonic, sleep
from typing import Any

import pytest

from builders.fleets import write_bare
from desk.fleet_hands import DAY, Runs
from limen.desk.fleet import Asked, FleetChecked, fleet_check
from limen.desk.fleet_kept import JOURNAL
from limen.desk.fleet_told import Progress

PATIENCE = 120.0
"""Seconds after which what was waited for will not come."""
DOORS = 60
AT_RISK = 20
"""Doorways that two workers may hold: those are tried alone after one was killed."""
RESULTS = ("findings.csv", "doorways.csv", "summary.json")


@pytest.fixture(scope="module")
def sites(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Many small buildings."""
    folder = tmp_path_factory.mktemp("fleet")
    for number in range(30):
        write_bare(folder / f"{number:02}.toml", 1000 + number, 1100 + number)
    return folder


@pytest.fixture(scope="module")
def whole(sites: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Results of a run that nothing disturbed."""
    folder = tmp_path_factory.mktemp("whole")
    with pytest.MonkeyPatch.context() as patch:
        runs = Runs(patch, folder)
        runs(where=[sites])
    return runs.out


def _check(sites: Path, out: Path, **more: Any) -> FleetChecked:
    told: Callable[[Progress], None] | None = more.pop("told", None)
    return fleet_check(Asked([sites], out, on=DAY, **more), told=told)


def _same(out: Path, whole: Path) -> None:
    for name in RESULTS:
        assert (out / name).read_bytes() == (whole / name).read_bytes(), name


def _kept(out: Path) -> list[bytes]:
    journal = out / JOURNAL
    lines = journal.read_bytes().splitlines() if journal.is_file() else []
    return [one for one in lines if b'{"where"' in one]


def _until(done: Callable[[], bool]) -> None:
    end = monotonic() + PATIENCE
    while not done():
        assert monotonic() < end, "waited in vain"
        sleep(0.02)


def _children(pid: int) -> list[int]:
    """Processes that study; the one that sees to what is shared is none."""
    listed = Path(f"/proc/{pid}/task/{pid}/children").read_text("utf-8").split()
    return [int(one) for one in listed if b"spawn_main" in _command(int(one))]


def _command(pid: int) -> bytes:
    try:
        return Path(f"/proc/{pid}/cmdline").read_bytes()
    except OSError:
        return b""


@contextmanager
def _started(
    sites: Path, out: Path, workers: int = 2
) -> Iterator["subprocess.Popen[bytes]"]:
    """The command, in a process of its own, at work."""
    command = [sys.executable, "-m", "limen", "fleet", "check", sites]
    command += ["--out", out, "--workers", f"{workers}", "--on", DAY.isoformat()]
    with subprocess.Popen(command, stderr=subprocess.PIPE) as process:
        try:
            _until(lambda: len(_kept(out)) > 0 or process.poll() is not None)
            assert process.poll() is None, process.communicate()[1].decode()
            yield process
        finally:
            process.kill()


@pytest.mark.skipif(not Path("/proc/self/task").is_dir(), reason="no /proc here")
def test_a_run_that_was_killed_is_gone_on_with_and_nothing_is_done_twice(
    sites: Path, whole: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    runs = Runs(monkeypatch, tmp_path)
    with _started(sites, runs.out, workers=1) as process:
        workers = _children(process.pid)
        process.kill()
        process.wait()
    before = _kept(runs.out)
    assert 0 < len(before) < DOORS
    _until(lambda: not any(_command(one) for one in workers))
    done, hands = runs(where=[sites])
    assert (done.before, done.done) == (len(before), DOORS)
    assert len(hands.taken) == DOORS - len(before)
    assert _kept(runs.out)[: len(before)] == before
    _same(runs.out, whole)


@pytest.mark.slow
@pytest.mark.skipif(not Path("/proc/self/task").is_dir(), reason="no /proc here")
def test_workers_that_are_killed_cost_nothing_but_time(
    sites: Path, whole: Path, tmp_path: Path
) -> None:
    with _started(sites, tmp_path) as process:
        for _ in range(2):
            kept = len(_kept(tmp_path))
            os.kill(_children(process.pid)[0], signal.SIGKILL)
            _until(lambda kept=kept: len(_kept(tmp_path)) > kept + AT_RISK)
        assert process.wait(PATIENCE) == 0
    assert len(_kept(tmp_path)) == DOORS
    _same(tmp_path, whole)


@pytest.mark.slow
@pytest.mark.parametrize("times", [1, 2])
def test_an_interrupt_stops_in_order_and_a_second_at_once(
    times: int, sites: Path, whole: Path, tmp_path: Path
) -> None:
    with _started(sites, tmp_path) as process:
        for _ in range(times):
            process.send_signal(signal.SIGINT)
            sleep(0.5)
        _, told = process.communicate(timeout=PATIENCE)
        assert process.returncode == 130
    said = " ".join(told.decode().split())
    assert "Ctrl-C once more stops at once" in said
    assert "Traceback" not in said
    if times == 1:
        assert f"Stopped: {len(_kept(tmp_path))} of {DOORS}" in said
    assert not (tmp_path / "findings.csv").exists()
    assert _check(sites, tmp_path, workers=1).done == DOORS
    _same(tmp_path, whole)


# On a cluster ----------------------------------------------------------------------


def test_a_cluster_finds_the_same(sites: Path, whole: Path, tmp_path: Path) -> None:
    distributed: Any = pytest.importorskip("distributed")
    with distributed.Client(
        processes=False,
        n_workers=1,
        threads_per_worker=2,
        dashboard_address=None,
        silence_logs=logging.CRITICAL,
    ) as client:
        done = _check(sites, tmp_path, cluster=client.scheduler.address)
    assert (done.done, done.lost) == (DOORS, ())
    _same(tmp_path, whole)


@pytest.mark.slow
def test_a_cluster_whose_workers_are_killed_finds_the_same(
    sites: Path, whole: Path, tmp_path: Path
) -> None:
    distributed: Any = pytest.importorskip("distributed")
    killed: list[int] = []

    with distributed.LocalCluster(
        n_workers=2,
        threads_per_worker=1,
        dashboard_address=None,
        silence_logs=logging.CRITICAL,
    ) as cluster:

        def kill_one(how: Progress) -> None:
            if how.done > 20 and not killed:
                killed.append(cluster.workers[0].pid)
                os.kill(killed[0], signal.SIGKILL)

        address = cluster.scheduler_address
        done = _check(sites, tmp_path, cluster=address, told=kill_one)
    assert killed
    assert (done.done, done.lost) == (DOORS, ())
    _same(tmp_path, whole)


@pytest.mark.slow
def test_a_cluster_that_goes_away_leaves_what_was_done(
    sites: Path, whole: Path, tmp_path: Path
) -> None:
    from limen.desk.refusal import Refusal

    distributed: Any = pytest.importorskip("distributed")
    cluster = distributed.LocalCluster(
        n_workers=1,
        threads_per_worker=1,
        dashboard_address=None,
        silence_logs=logging.CRITICAL,
    )

    def end_it(how: Progress) -> None:
        if how.done > 0:
            cluster.close()

    with cluster, pytest.raises(Refusal, match="cluster has gone"):
        _check(sites, tmp_path, cluster=cluster.scheduler_address, told=end_it)
    before = len(_kept(tmp_path))
    done = _check(sites, tmp_path, workers=1)
    assert (done.before, done.done) == (before, DOORS)
    _same(tmp_path, whole)


def test_where_no_cluster_answers_it_says_so(
    sites: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from limen.desk import fleet_hands
    from limen.desk.refusal import Refusal

    pytest.importorskip("distributed")
    monkeypatch.setattr(fleet_hands, "WAIT_FOR_CLUSTER", 0.5)
    with pytest.raises(Refusal, match="No cluster answers"):
        _check(sites, tmp_path, cluster="tcp://127.0.0.1:9")
