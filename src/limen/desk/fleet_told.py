"""How far a fleet is, how fast it goes, and how long it will still take."""

from collections import deque
from collections.abc import Callable, Generator
from dataclasses import dataclass
from time import monotonic

LATELY = 48
"""Answers over which the rate is taken: it follows a machine that has more to do."""


SELDOM = 0.5
"""Seconds between two tellings."""


@dataclass(frozen=True, slots=True)
class Progress:
    """How far it is.

    Attributes:
        looked: files looked at, while that is all that is done.
        done: doorways done, those of earlier runs included.
        every: doorways in all.
        rate: doorways a second, lately; 0 while nobody can say.
    """

    looked: int = 0
    done: int = 0
    every: int = 0
    rate: float = 0.0

    @property
    def ended(self) -> bool:
        """Whether all is done."""
        return 0 < self.every == self.done

    @property
    def seconds_left(self) -> float | None:
        """How long the rest takes at this rate; None while nobody can say."""
        return (self.every - self.done) / self.rate if self.rate else None


Told = Callable[[Progress], None]


def seldom(told: Told) -> Told:
    """Tell only what can be read: twice a second, and when all is done.

    Args:
        told: hears of it.
    """
    last = deque[float]([-SELDOM], 1)

    def sometimes(how: Progress) -> None:
        now = monotonic()
        if now - last[0] >= SELDOM or how.ended:
            last.append(now)
            told(how)

    return sometimes


def pace(every: int, done: int, told: Told) -> Generator[None, int, None]:
    """Tell of each answer; it is sent how many doorways came with it.

    Args:
        every: doorways in all.
        done: those that are done already.
        told: hears of it.
    """
    lately = deque[tuple[float, int]]([(monotonic(), done)], LATELY)
    told(Progress(done=done, every=every))
    while True:
        done += yield
        now = monotonic()
        then, had = lately[0]
        rate = (done - had) / (now - then) if now > then else 0.0
        lately.append((now, done))
        told(Progress(done=done, every=every, rate=rate))
