"""What is said of a doorway between its visits, and what it comes to.

Whatever is said of one thing stands in the order of its numbers, which count up with
what was known when it was said: two that knew the same go by the time that they
claim.  A thing is what its last word makes it; in whatever order the words came in,
they come to the same.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal, TypeVar

from limen.model.between import (
    Between,
    CalledOffEvent,
    DoneEvent,
    FittedEvent,
    MendedEvent,
    MovedEvent,
    OrderedEvent,
    OwedEvent,
    PlannedEvent,
    RefusedEvent,
    UndoneEvent,
)

PlanState = Literal["planned", "refused", "called off", "done"]
OwedState = Literal["open", "mended", "called off"]
PartState = Literal["ordered", "fitted", "called off"]
Kind = TypeVar("Kind")


@dataclass(frozen=True, slots=True)
class Words:
    """All that was said of one thing.

    Attributes:
        about: its id.
        events: all of it, in order, each once.
        taken_back: ids of events that were taken back.
    """

    about: str
    events: tuple[Between, ...]
    taken_back: frozenset[str]

    @property
    def standing(self) -> tuple[Between, ...]:
        """What was not taken back."""
        return tuple(one for one in self.events if one.id not in self.taken_back)

    @property
    def seq(self) -> int:
        """The highest number that was said of it."""
        return max((one.seq for one in self.events), default=0)


@dataclass(frozen=True, slots=True)
class Plan:
    """An attendance.

    Attributes:
        words: all that was said of it.
        first: by what it was planned.
        state: what its last word makes it.
        day: the day for which it stands.
        who: who comes; None if nobody is named.
        last: the last word on it that is no other day; None if there is none.
    """

    words: Words
    first: PlannedEvent
    state: PlanState
    day: date
    who: str | None
    last: RefusedEvent | CalledOffEvent | DoneEvent | None

    @property
    def visit(self) -> str | None:
        """Id of the visit by which it was done; None if none is named."""
        return self.last.said.visit if isinstance(self.last, DoneEvent) else None


@dataclass(frozen=True, slots=True)
class Defect:
    """A defect of a visit that left the door with it.

    Attributes:
        id: id of the event that says it.
        text: what is amiss.
        day: the day on which it was found, as the phone claims.
        visit, site, doorway: where.
        told: who was told; None if nobody.
    """

    id: str
    text: str
    day: date
    visit: str
    site: str
    doorway: str
    told: str | None = None


@dataclass(frozen=True, slots=True)
class FollowUp:
    """Something that is left to be done.

    Attributes:
        words: all that was said of it.
        first: by what it was said to be owed; a defect of a visit is owed by itself.
        state: what its last word makes it.
        day: by when; None if nobody said.
        last: by what it was closed; None while it is open.
    """

    words: Words
    first: OwedEvent | Defect
    state: OwedState
    day: date | None
    last: MendedEvent | CalledOffEvent | None

    @property
    def text(self) -> str:
        """What is to be done."""
        one = self.first
        return one.text if isinstance(one, Defect) else one.said.text

    @property
    def visit(self) -> str | None:
        """Id of the visit at which it was found; None if none is named."""
        one = self.first
        return one.visit if isinstance(one, Defect) else one.said.visit

    @property
    def site(self) -> str:
        """Id of the site."""
        return self.first.site

    @property
    def doorway(self) -> str:
        """Id of the doorway."""
        return self.first.doorway


@dataclass(frozen=True, slots=True)
class Parts:
    """A part that was ordered or fitted.

    Attributes:
        words: all that was said of it.
        last: the last that says which part it is.
        state: what its last word makes it.
    """

    words: Words
    last: OrderedEvent | FittedEvent
    state: PartState


@dataclass(frozen=True, slots=True)
class Agenda:
    """What is ahead of doorways, and what became of it.

    Attributes:
        plans: by day, then in the order in which they were made.
        follow_ups: by the day by which they are owed, those without one last.
        parts: in the order in which they were spoken of.
        loose: what speaks of a thing that nobody began, or whose beginning was taken
            back: kept, shown, and of no effect.
    """

    plans: tuple[Plan, ...]
    follow_ups: tuple[FollowUp, ...]
    parts: tuple[Parts, ...]
    loose: tuple[Words, ...]

    def thing(self, about: str) -> Plan | FollowUp | Parts | None:
        """The thing of this id; None if there is none."""
        every = (*self.plans, *self.follow_ups, *self.parts)
        return next((one for one in every if one.words.about == about), None)


def agenda(events: Iterable[Between], defects: Iterable[Defect] = ()) -> Agenda:
    """What events and the defects of visits come to.

    The order in which they are given, and giving one of them twice, changes nothing.

    Args:
        events: of any doorways.
        defects: that visits left behind: open until something is said of them.
    """
    said = _by_thing(events)
    found = {one.id: one for one in defects}
    every = [_words(about, said.get(about, ())) for about in sorted({*said, *found})]
    things = [_thing(one, found.get(one.about)) for one in every]
    plans = [one for one in things if isinstance(one, Plan)]
    owed = [one for one in things if isinstance(one, FollowUp)]
    parts = [one for one in things if isinstance(one, Parts)]
    loose = [one for one, it in zip(every, things, strict=True) if it is None]
    return Agenda(
        tuple(sorted(plans, key=lambda one: (one.day, *_order(one.first)))),
        tuple(sorted(owed, key=_urgency)),
        tuple(sorted(parts, key=lambda one: _order(one.words.events[0]))),
        tuple(loose),
    )


def _urgency(one: FollowUp) -> tuple[date, str, str]:
    return one.day or date.max, one.text, one.words.about


def _by_thing(events: Iterable[Between]) -> Mapping[str, Sequence[Between]]:
    said: dict[str, dict[str, Between]] = {}
    for one in events:
        said.setdefault(one.about, {})[one.id] = one
    return {about: tuple(by_id.values()) for about, by_id in said.items()}


def _words(about: str, events: Iterable[Between]) -> Words:
    ordered = tuple(sorted(events, key=_order))
    return Words(about, ordered, frozenset(_taken_back(ordered)))


def _order(one: Between) -> tuple[int, str, str]:
    """By what was known, then by the time that is claimed, then by id."""
    return one.seq, one.moment.isoformat(), one.id


def _taken_back(ordered: Sequence[Between]) -> Iterator[str]:
    """Ids of events that a later one takes back which was not taken back itself."""
    aimed: set[str] = set()
    for one in reversed(ordered):
        if one.id in aimed:
            yield one.id
        elif isinstance(one, UndoneEvent):
            aimed.add(one.said.event)


def _thing(words: Words, defect: Defect | None) -> Plan | FollowUp | Parts | None:
    """What was said of one thing; None where nothing that stands began it."""
    standing = words.standing
    plan, owed = _first(standing, PlannedEvent), _first(standing, OwedEvent)
    if plan is not None:
        return _plan(words, plan, standing)
    first = owed or defect
    if first is not None:
        return _follow_up(words, first, standing)
    part = _last(standing, OrderedEvent, FittedEvent)
    if part is None:
        return None
    closed = _last(standing, OrderedEvent, FittedEvent, CalledOffEvent) or part
    return Parts(words, part, _part_state(closed))


def _part_state(last: OrderedEvent | FittedEvent | CalledOffEvent) -> PartState:
    match last:
        case OrderedEvent():
            return "ordered"
        case FittedEvent():
            return "fitted"
        case CalledOffEvent():
            return "called off"


def _plan(words: Words, first: PlannedEvent, standing: Sequence[Between]) -> Plan:
    day, who = first.said.day, first.said.who
    for one in standing:
        if isinstance(one, MovedEvent):
            day, who = one.said.day, one.said.who or who
    # Another day after a refusal is another try.
    last = _last(standing, RefusedEvent, CalledOffEvent, DoneEvent, MovedEvent)
    if last is None or isinstance(last, MovedEvent):
        return Plan(words, first, "planned", day, who, None)
    match last:
        case RefusedEvent():
            state: PlanState = "refused"
        case CalledOffEvent():
            state = "called off"
        case DoneEvent():
            state = "done"
    return Plan(words, first, state, day, who, last)


def _follow_up(
    words: Words, first: OwedEvent | Defect, standing: Sequence[Between]
) -> FollowUp:
    moved = _last(standing, MovedEvent)
    day = None if isinstance(first, Defect) else first.said.day
    day = moved.said.day if moved else day
    last = _last(standing, MendedEvent, CalledOffEvent)
    if last is None:
        return FollowUp(words, first, "open", day, None)
    state: OwedState = "mended" if isinstance(last, MendedEvent) else "called off"
    return FollowUp(words, first, state, day, last)


def _first(events: Iterable[Between], kind: type[Kind]) -> Kind | None:
    return next((one for one in events if isinstance(one, kind)), None)


def _last(events: Sequence[Between], *kinds: type[Kind]) -> Kind | None:
    return next((one for one in reversed(events) if isinstance(one, kinds)), None)
