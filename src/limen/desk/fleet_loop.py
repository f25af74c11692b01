"""Tasks handed out and taken back, a few at a time, whatever happens to workers."""

from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import FIRST_COMPLETED, CancelledError, Future, wait
from dataclasses import dataclass

from limen.desk.fleet_hands import Hands
from limen.desk.fleet_tasks import Done, Task
from limen.desk.refusal import Refusal
from limen.findings import Message
from limen.words import say

LOOK_UP = 0.2
"""Seconds after which it is asked whether somebody wants it to stop."""


@dataclass(frozen=True, slots=True)
class Lost:
    """A doorway over which a worker died, again when it was tried alone."""

    task: Task


Outcome = tuple[Task, Done | Lost]


def carried_out(
    tasks: Iterable[Task], hands: Hands, unwanted: Callable[[], bool]
) -> Iterator[Outcome]:
    """Have tasks done, in whatever order they are ready.

    Where a worker dies, what it may have died over is tried again doorway by doorway,
    each alone; one over which it dies again is given up.

    Args:
        tasks: taken one by one, only when there is room.
        hands: who does them.
        unwanted: whether to stop; what was begun is finished first.

    Yields:
        Each task, or each of its doorways, and what became of it.

    Raises:
        Refusal: the cluster has gone.
    """
    waiting, rest = dict[Future[Done], Task](), iter(tasks)
    while True:
        died = _hand_out(rest, hands, waiting, unwanted)
        if not waiting and not died:
            return
        ready, _ = wait(waiting, LOOK_UP, FIRST_COMPLETED)
        for future in ready:
            yield from _taken_back(future, waiting.pop(future), hands, died)
        if died and hands.all_at_once:
            for future in [*waiting]:
                yield from _taken_back(future, waiting.pop(future), hands, died)
        yield from _each_alone(died, hands, unwanted)


def _hand_out(
    rest: Iterator[Task],
    hands: Hands,
    waiting: dict[Future[Done], Task],
    unwanted: Callable[[], bool],
) -> list[Task]:
    """Hand out as much as there is room for; returns what nobody could take."""
    room = hands.room
    while len(waiting) < room and not unwanted():
        task = next(rest, None)
        if task is None:
            break
        try:
            waiting[hands.take(task)] = task
        except hands.lost:
            return [task]
    return []


def _taken_back(
    future: "Future[Done]", task: Task, hands: Hands, died: list[Task]
) -> Iterator[Outcome]:
    try:
        yield task, future.result()
    except hands.lost:
        died.append(task)
    except CancelledError:
        raise Refusal([say(Message("fleet.refused.cluster_gone"))]) from None


def _each_alone(
    died: list[Task], hands: Hands, unwanted: Callable[[], bool]
) -> Iterator[Outcome]:
    if died:
        hands.renew()
    for task in died:
        for single in task.alone():
            if unwanted():
                return
            try:
                yield single, hands.alone(single).result()
            except hands.lost:
                hands.renew()
                yield single, Lost(single)
