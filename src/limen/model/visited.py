"""What the events of a visit come to, in whatever order they came in.

Each device's events stand in the order in which it numbered them: its clock may have
been set meanwhile.  Devices are put among each other by the time that they claim.
Nothing is merged by guess: where two devices say different things of one thing, none
of them counts until a person says which stands.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal, TypeVar

from limen.model.visit import (
    AsFoundEvent,
    Event,
    HandedOverEvent,
    OfValue,
    ReadingEvent,
    SettledEvent,
    StartedEvent,
    StepEvent,
    TracedEvent,
    UndoneEvent,
    WorkEvent,
)

About = Literal["step", "as_found", "reading", "handed_over"]
Run = tuple[int, int]
Kind = TypeVar("Kind")
Thing = tuple[About, str]
"""What is spoken of: a test, a value before or after, the hand-over."""


@dataclass(frozen=True, slots=True)
class Conflict:
    """Things that devices say of one thing, and that are not the same.

    Attributes:
        about: of what kind it is.
        of: which test or which value; empty for the hand-over.
        events: all that stands of it, in order; the last of two devices differ.
    """

    about: About
    of: str
    events: tuple[Event, ...]


@dataclass(frozen=True, slots=True)
class Visited:
    """What the events of a visit come to.

    Attributes:
        events: all of them, in order, each once.
        taken_back: ids of those that were taken back.
        set_aside: ids of those against which a person chose.
        conflicts: what devices contradict each other in, to be settled.
    """

    events: tuple[Event, ...]
    taken_back: frozenset[str]
    set_aside: frozenset[str]
    conflicts: tuple[Conflict, ...]

    @property
    def standing(self) -> tuple[Event, ...]:
        """Those that neither were taken back nor set aside."""
        gone = self.taken_back | self.set_aside
        return tuple(one for one in self.events if one.id not in gone)

    @property
    def started(self) -> StartedEvent | None:
        """The last beginning that stands; None if nobody said that it began."""
        return _last(self.standing, StartedEvent)

    @property
    def people(self) -> tuple[str, ...]:
        """Everybody who worked, in the order in which they began."""
        begun = (one for one in self.standing if isinstance(one, StartedEvent))
        return tuple(dict.fromkeys(one.said.person for one in begun))

    @property
    def answers(self) -> Mapping[str, StepEvent]:
        """By test how it ended; without those of which devices say different things."""
        open_ = {one.of for one in self.conflicts if one.about == "step"}
        steps = (one for one in self.standing if isinstance(one, StepEvent))
        return {one.said.step: one for one in steps if one.said.step not in open_}

    @property
    def work(self) -> Mapping[str, WorkEvent]:
        """By piece of work when it was done last."""
        done = (one for one in self.standing if isinstance(one, WorkEvent))
        return {one.said.step: one for one in done}

    @property
    def traced(self) -> Mapping[str, TracedEvent]:
        """By question of the fault finder what was answered last."""
        told = (one for one in self.standing if isinstance(one, TracedEvent))
        return {one.said.question: one for one in told}

    @property
    def handed_over(self) -> HandedOverEvent | None:
        """How the door is left; None while that is not said, or not settled."""
        if any(one.about == "handed_over" for one in self.conflicts):
            return None
        return _last(self.standing, HandedOverEvent)


def visited(events: Iterable[Event]) -> Visited:
    """What events come to.

    The order in which they are given, and giving one of them twice, changes nothing.

    Args:
        events: of one visit.
    """
    ordered = tuple(in_order(events))
    taken_back = frozenset(_taken_back(ordered))
    left = [one for one in ordered if one.id not in taken_back]
    set_aside = frozenset(_set_aside(left))
    standing = [one for one in left if one.id not in set_aside]
    return Visited(ordered, taken_back, set_aside, tuple(_conflicts(standing)))


def in_order(events: Iterable[Event]) -> Iterator[Event]:
    """Each event once: a device's own by number, devices by the time they claim.

    Of the next events of all devices the earliest goes first; at the same time the
    device whose name comes first.

    Args:
        events: in any order.
    """
    waiting: dict[str, list[Event]] = {}
    once = {(one.device, one.seq): one for one in events}
    for one in sorted(once.values(), key=lambda one: one.seq, reverse=True):
        waiting.setdefault(one.device, []).append(one)
    while waiting:
        heads = (line[-1] for line in waiting.values())
        first = min(heads, key=lambda one: (one.moment, one.device))
        yield waiting[first.device].pop()
        if not waiting[first.device]:
            del waiting[first.device]


def missing(events: Iterable[Event]) -> dict[str, tuple[Run, ...]]:
    """By device the numbers between its events that are not among them.

    Such a number may belong to another visit; as long as it has not come in, nobody
    knows.

    Args:
        events: in any order.
    """
    numbers: dict[str, set[int]] = {}
    for one in events:
        numbers.setdefault(one.device, set()).add(one.seq)
    return {device: gaps(sorted(known)) for device, known in numbers.items()}


def gaps(numbers: Iterable[int]) -> tuple[Run, ...]:
    """What lies between whole numbers and is not among them: runs, first and last.

    Args:
        numbers: going upwards.
    """
    return tuple(
        (one + 1, other - 1) for one, other in pairwise(numbers) if other > one + 1
    )


def _last(events: Sequence[Event], kind: type[Kind]) -> Kind | None:
    return next((one for one in reversed(events) if isinstance(one, kind)), None)


# Taken back ----------------------------------------------------------------------


def _taken_back(events: Sequence[Event]) -> Iterator[str]:
    """Ids of events that something takes back that was not taken back itself."""
    backs = {one.id: one.said.event for one in events if isinstance(one, UndoneEvent)}
    by_target: dict[str, list[str]] = {}
    for back, target in backs.items():
        by_target.setdefault(target, []).append(back)
    gone: dict[str, bool] = {}
    for one in events:
        _settle_gone(one.id, by_target, gone)
    return (one.id for one in events if gone[one.id])


def _settle_gone(
    first: str, by_target: Mapping[str, list[str]], gone: dict[str, bool]
) -> None:
    """Work out whether an event is taken back: those that take it back come first."""
    way = [first]
    while way:
        at = way[-1]
        backs = by_target.get(at, [])
        # Nobody can tap a ring; if one is made, its first event is the last asked.
        open_ = [one for one in backs if one not in gone and one not in way]
        if open_:
            way.append(open_[0])
            continue
        gone[at] = any(one in gone and not gone[one] for one in backs)
        way.pop()


# Chosen by a person --------------------------------------------------------------


def _set_aside(events: Sequence[Event]) -> Iterator[str]:
    """Ids of events that do not stand, by the last choice that speaks of each."""
    stands: dict[str, str] = {}
    for one in events:
        if isinstance(one, SettledEvent):
            stands |= dict.fromkeys(one.said.between, one.said.stands)
    return (one.id for one in events if stands.get(one.id, one.id) != one.id)


def _conflicts(events: Sequence[Event]) -> Iterator[Conflict]:
    told: dict[Thing, list[Event]] = {}
    for one in events:
        thing = _thing(one)
        if thing is not None:
            told.setdefault(thing, []).append(one)
    for (about, of), said in told.items():
        last = {one.device: _says(one) for one in said}
        if len(set(last.values())) > 1:
            yield Conflict(about, of, tuple(said))


def _thing(event: Event) -> Thing | None:
    """What an event speaks of, if two devices can contradict each other in it."""
    match event:
        case StepEvent():
            return "step", event.said.step
        case HandedOverEvent():
            return "handed_over", ""
        case AsFoundEvent() | ReadingEvent() if isinstance(event.said, OfValue):
            return event.kind, event.said.key
        case _:
            return None


def _says(event: Event) -> str:
    """What an event says of its thing."""
    match event:
        case StepEvent():
            return event.said.answer
        case HandedOverEvent():
            return event.said.state
        case AsFoundEvent() | ReadingEvent() if isinstance(event.said, OfValue):
            return event.said.value
        case _:
            return ""
