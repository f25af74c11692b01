"""The work at a door in its order: a change further up opens again what is below it.

The order is common practice, no source.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from limen.findings import Measure, Message
from limen.model.doorway import Doorway
from limen.prove.minimum import senses
from limen.quantity import Dimension

Found = Literal["new", "existing", "called out"]
ALWAYS: tuple[Found, ...] = ("new", "existing", "called out")
NEW: tuple[Found, ...] = ("new",)
LOOKED: tuple[Found, ...] = ("new", "existing")
LEARN = 30.0
"""How long the field stays empty so that a unit learns its floor (s): common practice,
no source; where the manual says longer, the manual."""


@dataclass(frozen=True, slots=True)
class Work:
    """One piece of work.

    Attributes:
        id: its name.
        title, says: what is done, and how.
        found: of which doors it is asked, by how they were found; elsewhere it is
            done where something was turned.
        after: whether it comes after the tests.
        seconds: how long to stay away; None where nothing is timed.
    """

    id: str
    title: Message
    says: Message
    found: tuple[Found, ...] = NEW
    after: bool = False
    seconds: float | None = None


def order_of_work(doorway: Doorway) -> tuple[Work, ...]:
    """The work at a doorway, in its order.

    Args:
        doorway: as described.
    """
    return tuple(_work(doorway))


def _work(doorway: Doorway) -> Iterator[Work]:
    yield _of("mechanics", ALWAYS)
    yield _of("operator_learns")
    yield _of("wires")
    yield _of("test_enabled", LOOKED)
    yield _of("mount")
    yield _of("cable_loop")
    if senses(doorway, "presence"):
        yield from _presence(doorway)
    if senses(doorway, "motion"):
        yield _of("radar")
    yield _of("timing")
    yield _of("force", after=True)
    yield _of("signs", LOOKED, after=True)
    yield _of("log", ALWAYS, after=True)


def _presence(doorway: Doorway) -> Iterator[Work]:
    yield _of("aim")
    yield _of("widths")
    if _has_channels(doorway):
        yield _of("channels")
    said = {"time": Measure(LEARN, Dimension.TIME)}
    says = Message("card_tests.work.learn.says", said)
    yield Work("learn", Message("card_tests.work.learn.title"), says, seconds=LEARN)
    if _pauses(doorway):
        yield _of("pause_over")


def _has_channels(doorway: Doorway) -> bool:
    """Whether some unit has channels, or may have: its sheet does not say."""
    sheets = [fitting.unit for fitting in doorway.fitting]
    shown = [one.presence for one in sheets if one is not None and one.presence]
    return None in sheets or any(one.channels != 1 for one in shown)


def _pauses(doorway: Doorway) -> bool:
    """Whether presence of some unit can be paused for work; left out is not known."""
    sheets = [fitting.unit for fitting in doorway.fitting]
    zero = [
        one and one.service_pause and one.service_pause.value == 0 for one in sheets
    ]
    return not all(zero)


def _of(name: str, found: tuple[Found, ...] = NEW, *, after: bool = False) -> Work:
    base = f"card_tests.work.{name}"
    return Work(name, Message(f"{base}.title"), Message(f"{base}.says"), found, after)
