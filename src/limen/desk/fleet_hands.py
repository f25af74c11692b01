"""Who studies: processes of this machine, or the workers of a Dask cluster."""

import os
import signal
from collections.abc import Generator
from concurrent.futures import Executor, Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from dataclasses import dataclass, field
from importlib.util import find_spec
from multiprocessing import active_children, get_context, parent_process
from multiprocessing.connection import wait
from threading import Thread
from typing import Any, Protocol

from limen.desk.fleet_tasks import Done, Task
from limen.desk.fleet_work import one_thread, work
from limen.desk.refusal import Refusal
from limen.findings import Message
from limen.words import say

WAIT_FOR_CLUSTER = 10
"""Seconds until a cluster that does not answer counts as none."""


class Hands(Protocol):
    """Whoever takes tasks."""

    @property
    def room(self) -> int:
        """Tasks to hand out before the first is given back."""
        ...

    @property
    def lost(self) -> tuple[type[BaseException], ...]:
        """What is raised where a worker died over a task."""
        ...

    @property
    def all_at_once(self) -> bool:
        """Whether the death of one ends all that was handed out."""
        ...

    def take(self, task: Task) -> "Future[Done]":
        """Take a task."""
        ...

    def alone(self, task: Task) -> "Future[Done]":
        """Take a task with nothing beside it."""
        ...

    def renew(self) -> None:
        """Put new workers in the place of those that died."""
        ...

    def close(self) -> None:
        """Send everybody home."""
        ...


# This machine -------------------------------------------------------------------


@dataclass(slots=True)
class Processes:
    """Processes of this machine.

    Attributes:
        workers: how many.
        pools: those that are at work, by how many they are.
    """

    workers: int
    pools: dict[int, Executor] = field(default_factory=dict[int, Executor])

    @property
    def room(self) -> int:
        """One each, and one that waits: what dies with a worker is done again."""
        return self.workers + 1

    @property
    def lost(self) -> tuple[type[BaseException], ...]:
        """What is raised where a worker died."""
        return (BrokenProcessPool,)

    @property
    def all_at_once(self) -> bool:
        """A pool breaks as a whole."""
        return True

    def take(self, task: Task) -> "Future[Done]":
        """Take a task."""
        return self._pool(self.workers).submit(work, task)

    def alone(self, task: Task) -> "Future[Done]":
        """Take a task in a pool of one."""
        return self._pool(1).submit(work, task)

    def renew(self) -> None:
        """Begin with new processes."""
        self.close()

    def close(self) -> None:
        """End the processes."""
        for pool in self.pools.values():
            pool.shutdown(wait=True, cancel_futures=True)
        self.pools.clear()

    def _pool(self, workers: int) -> Executor:
        if workers not in self.pools:
            self.close()
            self.pools[workers] = ProcessPoolExecutor(
                workers, mp_context=get_context("spawn"), initializer=begin_worker
            )
        return self.pools[workers]


def cores() -> int:
    """How many this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def begin_worker() -> None:
    """Compute in one thread, leave Ctrl-C to the parent, and never outlive it."""
    one_thread()
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    parent = parent_process()
    if parent is not None:
        watch = Thread(target=_end_with, args=(parent.sentinel,), daemon=True)
        watch.start()


def _end_with(sentinel: int) -> None:
    wait([sentinel])
    os._exit(1)


# A cluster ----------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Cluster:
    """The workers of a Dask cluster.

    Attributes:
        client: who speaks with the scheduler.
        hands: its executor.
        died: what is raised where workers died over a task again and again.
    """

    client: Any
    hands: Executor
    died: type[BaseException]

    @property
    def room(self) -> int:
        """Two for each thread: the way to a worker takes its time."""
        try:
            threads: dict[str, int] = self.client.nthreads()
        except OSError as error:
            raise Refusal([say(Message("fleet.refused.cluster_gone"))]) from error
        return 2 * max(sum(threads.values()), 1)

    @property
    def lost(self) -> tuple[type[BaseException], ...]:
        """What is raised where workers died over a task."""
        return (self.died,)

    @property
    def all_at_once(self) -> bool:
        """Other tasks go on."""
        return False

    def take(self, task: Task) -> "Future[Done]":
        """Take a task."""
        return self.hands.submit(work, task)

    def alone(self, task: Task) -> "Future[Done]":
        """Take a task as any other."""
        return self.take(task)

    def renew(self) -> None:
        """The cluster sees to it itself."""

    def close(self) -> None:
        """Leave the cluster as it is."""
        self.hands.shutdown(wait=False)
        self.client.close()


@contextmanager
def hands_of(workers: int | None, cluster: str | None) -> Generator[Hands]:
    """Whoever is to study, until the work is done.

    Args:
        workers: processes of this machine; one a core if None.
        cluster: address of a Dask scheduler instead.

    Raises:
        Refusal: there is no such cluster, or what speaks with it is missing.
    """
    hands: Hands = _cluster(cluster) if cluster else Processes(workers or cores())
    try:
        yield hands
    except KeyboardInterrupt:
        for child in active_children():  # nobody waits for what they are at
            child.terminate()
        raise
    finally:
        hands.close()


def _cluster(address: str) -> Cluster:
    if find_spec("distributed") is None:
        raise Refusal([say(Message("fleet.refused.no_distributed"))])
    import distributed  # pyright: ignore[reportMissingTypeStubs]

    try:
        client: Any = distributed.Client(address, timeout=WAIT_FOR_CLUSTER)
    except (OSError, ValueError) as error:
        values = {"address": address, "why": str(error)}
        raise Refusal([say(Message("fleet.refused.no_cluster", values))]) from error
    return Cluster(client, client.get_executor(pure=False), distributed.KilledWorker)
