"""What is kept of a fleet between runs, and what is still to be done."""

import json
from collections.abc import Generator, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

from limen.desk.fleet_files import Look
from limen.desk.fleet_tasks import FILE, Kept, Task, key_of
from limen.desk.refusal import Refusal, refusing
from limen.findings import Message
from limen.store.journal import Journal, JournalHeldError, keep_only, open_journal
from limen.words import say

JOURNAL = "journal.txt"
RUN = "run"


@dataclass(frozen=True, slots=True)
class Keeping:
    """The journal of a folder, and what this run alone knows.

    Attributes:
        journal: what is done, on the disk.
        lost: keys of doorways over which workers died; tried again by the next run.
    """

    journal: Journal
    lost: set[str] = field(default_factory=set[str])

    def unfinished(self) -> date | None:
        """The day of the last run, if it was not finished."""
        if RUN not in self.journal:
            return None
        last = json.loads(self.journal.said(RUN))
        return None if last["ended"] else date.fromisoformat(last["on"])

    def begin(self, on: date) -> None:
        """Note that a run begins."""
        self._note(on, ended=False)

    def has(self, one: Look, which: int | str) -> bool:
        """Whether a doorway of a file, or the file as a whole, is done."""
        return key_of(one.key, which) in self.journal

    def said(self, one: Look, which: int | str) -> str:
        """What is kept of it."""
        return self.journal.said(key_of(one.key, which))

    def keep(self, kept: Iterable[Kept]) -> None:
        """Keep what a worker gave back; it is on the disk when this returns."""
        fresh = {one.key: one.said for one in kept if one.key not in self.journal}
        self.journal.add(fresh.items())

    def lose(self, task: Task) -> None:
        """Give a doorway up for this run."""
        for piece in task.pieces:
            numbers = piece.numbers or (FILE,)
            self.lost.update(key_of(piece.key, which) for which in numbers)

    def missing(self, one: Look) -> list[int] | None:
        """Numbers of doorways that are not done; None where the file is done."""
        if one.told or key_of(one.key, FILE) in self.journal:
            return None
        every = range(len(one.names))
        return [n for n in every if key_of(one.key, n) not in self.journal]

    def finished(self, looks: Iterable[Look]) -> int:
        """How many doorways are done."""
        return sum(self._finished(one) for one in looks)

    def lost_of(self, looks: Iterable[Look]) -> Iterator[tuple[str, str]]:
        """Files and ids of doorways that were given up."""
        for one in looks:
            for number, name in enumerate(one.names):
                if key_of(one.key, number) in self.lost:
                    yield one.label, name
            if key_of(one.key, FILE) in self.lost:
                yield one.label, ""

    def end(self, looks: Iterable[Look], on: date, *, complete: bool) -> None:
        """Note that a run is finished, and forget what it did not use.

        Args:
            looks: its files.
            on: its day.
            complete: whether nothing was given up.
        """
        self._note(on, ended=complete)
        used = [key for one in looks for key in self._used(one)]
        live = sum(self.journal.places[key][1] for key in used)
        size = self.journal.path.stat().st_size
        if size > 2 * live:
            keep_only(self.journal, [*used, RUN])

    def _finished(self, one: Look) -> int:
        missing = self.missing(one)
        if missing is None:
            return one.doorways
        return len(one.names) - len(missing)

    def _used(self, one: Look) -> Iterator[str]:
        for which in (FILE, *range(len(one.names))):
            if (key := key_of(one.key, which)) in self.journal:
                yield key

    def _note(self, on: date, *, ended: bool) -> None:
        said = json.dumps({"on": on.isoformat(), "ended": ended})
        self.journal.add([(RUN, said)])


@contextmanager
def keeping(folder: Path) -> Generator[Keeping]:
    """Open what is kept in a folder.

    Args:
        folder: is there.

    Raises:
        Refusal: another run is at work there, or it cannot be written.
    """
    try:
        with refusing():
            journal = open_journal(folder / JOURNAL)
    except JournalHeldError:
        values = {"folder": str(folder)}
        raise Refusal([say(Message("fleet.refused.at_work", values))]) from None
    try:
        yield Keeping(journal)
    finally:
        journal.close()
