"""Work that takes longer than an answer may: begun, watched, given up, fetched."""

from collections import OrderedDict
from collections.abc import Callable
from concurrent.futures import Executor, ThreadPoolExecutor
from contextvars import copy_context
from dataclasses import dataclass, field, replace
from secrets import token_hex
from threading import Event, Lock
from traceback import print_exc
from typing import Literal

from limen.desk.exporting import Exported, Told
from limen.desk.library import FileFaults
from limen.desk.refusal import Refusal

State = Literal["waits", "works", "done", "refused", "broken", "given up"]
Work = Callable[[Told], Exported | None]
MOST = 24
"""Jobs that are remembered; the oldest that has ended makes room."""


class NoSuchJobError(LookupError):
    """There is no job of this id, or it was long ago."""


class _GivenUp(Exception):  # noqa: N818 - somebody wanted it so
    """Nobody waits for the work any more."""


@dataclass(frozen=True, slots=True)
class Job:
    """How far a piece of work is.

    Attributes:
        id: what it is called in addresses.
        site: the site that it is about.
        state: waits, works, done, refused, broken or given up.
        done, of: steps done, and in all; 0 of 0 before it has begun.
        doing: the doorway it is at, or what else it does.
        lines: why it was refused.
        made: the file, once it is done; None where none is made.
    """

    id: str
    site: str
    state: State = "waits"
    done: int = 0
    of: int = 0
    doing: str = ""
    lines: tuple[str, ...] = ()
    made: Exported | None = None

    @property
    def ended(self) -> bool:
        """Whether nothing more will happen."""
        return self.state not in ("waits", "works")

    @property
    def percent(self) -> int:
        """How much of it is done, in whole percent."""
        if self.state == "done":
            return 100
        return 100 * self.done // self.of if self.of else 0


@dataclass(frozen=True, slots=True)
class Jobs:
    """Work one piece after the other, beside the answers.

    Attributes:
        hands: who does it.
    """

    hands: Executor = field(
        default_factory=lambda: ThreadPoolExecutor(1, thread_name_prefix="limen-job")
    )
    _jobs: OrderedDict[str, Job] = field(default_factory=OrderedDict[str, Job])
    _unwanted: dict[str, Event] = field(default_factory=dict[str, Event])
    _lock: Lock = field(default_factory=Lock)

    def begin(self, site: str, work: Work) -> Job:
        """Begin a piece of work, in the language of whoever asks for it.

        Args:
            site: the site that it is about.
            work: tells how far it is, and makes a file, if it makes one.
        """
        job, unwanted = Job(token_hex(8), site), Event()
        with self._lock:
            self._jobs[job.id] = job
            self._unwanted[job.id] = unwanted
            self._make_room()
        self.hands.submit(copy_context().run, self._work, job.id, work, unwanted)
        return job

    def look(self, job_id: str) -> Job:
        """How far a piece of work is.

        Raises:
            NoSuchJobError: there is none of this id.
        """
        with self._lock:
            if job_id not in self._jobs:
                raise NoSuchJobError(job_id)
            return self._jobs[job_id]

    def give_up(self, job_id: str) -> Job:
        """End a piece of work at its next step; one that has ended stays as it is.

        Raises:
            NoSuchJobError: there is none of this id.
        """
        job = self.look(job_id)
        if not job.ended:
            self._unwanted[job_id].set()
            job = self._now(job_id, state="given up")
        return job

    def going_on(self) -> Job | None:
        """The piece of work that was begun last and has not ended, if there is one."""
        with self._lock:
            going = (one for one in reversed(self._jobs.values()) if not one.ended)
            return next(going, None)

    def last(self) -> Job | None:
        """The piece of work that was begun last, if there was one."""
        with self._lock:
            return next(reversed(self._jobs.values()), None)

    def close(self) -> None:
        """Give everything up."""
        for unwanted in self._unwanted.values():
            unwanted.set()
        self.hands.shutdown(wait=False, cancel_futures=True)

    def _work(self, job_id: str, work: Work, unwanted: Event) -> None:
        def told(done: int, of: int, doing: str) -> None:
            if unwanted.is_set():
                raise _GivenUp
            self._now(job_id, state="works", done=done, of=of, doing=doing)

        try:
            told(0, 0, "")
            made = work(told)
        except _GivenUp:
            return
        except Refusal as refusal:
            self._now(job_id, state="refused", lines=refusal.lines)
        except FileFaults as faults:
            self._now(job_id, state="refused", lines=tuple(faults.lines()))
        except Exception:  # noqa: BLE001 - nobody else would hear of it
            print_exc()
            self._now(job_id, state="broken")
        else:
            self._now(job_id, state="done", doing="", made=made)

    def _now(self, job_id: str, **changed: object) -> Job:
        with self._lock:
            job = self._jobs[job_id]
            if not job.ended:  # what was given up stays so
                job = replace(job, **changed)  # pyright: ignore[reportArgumentType]
                self._jobs[job_id] = job
            return job

    def _make_room(self) -> None:
        """Forget the oldest that have ended."""
        ended = [one.id for one in self._jobs.values() if one.ended]
        for job_id in ended[: max(0, len(self._jobs) - MOST)]:
            del self._jobs[job_id], self._unwanted[job_id]
