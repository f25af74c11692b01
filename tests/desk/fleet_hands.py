"""Hands that work here, one task after the other, and die when they are told to."""

from collections.abc import Iterator
from concurrent.futures import Future
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from datetime import date
from pathlib import Path

import pytest

from limen.desk import fleet
from limen.desk.fleet import Asked, FleetChecked, fleet_check
from limen.desk.fleet_tasks import Done, Task
from limen.desk.fleet_work import work

DAY = date(2026, 11, 26)


@dataclass
class Here:
    """Stands for a pool of two.

    Attributes:
        deadly: ids of doorways over which a worker dies.
        basis: that of the workers, if it is another.
        taken: ids of doorways that were handed out, in order.
        renewed: how often the pool was.
        stop_after: doorways after which somebody wants it to stop.
    """

    deadly: set[str] = field(default_factory=set[str])
    basis: str = ""
    taken: list[str] = field(default_factory=list[str])
    renewed: int = 0
    stop_after: int = 10**6
    room: int = 3
    all_at_once: bool = True
    lost: tuple[type[BaseException], ...] = (BrokenProcessPool,)
    broken: bool = False

    def take(self, task: Task) -> "Future[Done]":
        names = [name for piece in task.pieces for name in piece.names]
        self.taken += names
        self.broken = self.broken or bool(self.deadly & set(names))
        given = Future[Done]()
        if self.broken:  # as a pool does: whatever it was given is gone
            given.set_exception(BrokenProcessPool())
            return given
        done = work(task)
        given.set_result(replace(done, basis=self.basis or done.basis))
        return given

    alone = take

    def renew(self) -> None:
        self.renewed += 1
        self.broken = False

    def close(self) -> None:
        """Nothing to send home."""

    def unwanted(self) -> bool:
        return len(self.taken) >= self.stop_after


@dataclass
class Runs:
    """Runs of a fleet in a folder, each with hands that work here."""

    monkeypatch: pytest.MonkeyPatch
    folder: Path

    @property
    def sites(self) -> Path:
        return self.folder / "sites"

    @property
    def out(self) -> Path:
        return self.folder / "out"

    def __call__(
        self, hands: Here | None = None, /, **asked: object
    ) -> tuple[FleetChecked, Here]:
        hands = hands or Here()

        @contextmanager
        def given(*_: object) -> Iterator[Here]:
            yield hands

        self.monkeypatch.setattr(fleet, "hands_of", given)
        whole = {"where": [self.sites], "out": self.out, "on": DAY, **asked}
        done = fleet_check(Asked(**whole), unwanted=hands.unwanted)  # pyright: ignore[reportArgumentType]
        return done, hands
