"""What changed at a doorway since its record, and which tests that owes."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Literal

from limen.desk.changes_doors import At, answered, doors, tests_of
from limen.desk.changes_readings import again, left_in, stated_in, things_in
from limen.desk.changes_said import of_difference, of_reading, way_of
from limen.findings import Message
from limen.keep.differing import Difference, ReadAgain, differing
from limen.keep.owing import Changed, Made, Owing, of_key, owing
from limen.keep.touching import DONE, EVERYTHING, FITTED, KINDS, MENDED, of_unit
from limen.model.visit import AsFoundEvent, StepEvent, WorkEvent
from limen.prove.causes import likely
from limen.quantity import Show
from limen.words import say
from limen.words.visits import said_step

if TYPE_CHECKING:
    from limen.model.visited import Visited
    from limen.prove.minimum import Step

Row = Mapping[str, Any]
Text = Literal["same", "known", "not here"]
_CAUSE = ".cause"
NEVER = (-1, 0)
"""Before any visit: what the text of the site says."""
ALWAYS = (10**6, 0)
"""After every visit: what somebody says was done."""


@dataclass(frozen=True, slots=True)
class Attended:
    """A visit that was begun after the record, and is not sealed.

    Attributes:
        found: what its events come to.
        folded: the same as JSON.
        current: whether the doorway was taken along as it is described now.
    """

    found: "Visited"
    folded: Row
    current: bool


@dataclass(frozen=True, slots=True)
class Then:
    """What a doorway is compared with.

    Attributes:
        record: what the record says.
        digest: SHA-256 of it.
        number: its number where it is kept; None if it has none.
        was: the doorway of that day; None where its text is not at hand.
        text: whether the text is still the same, another one, or not here.
        sheets: names of the sheets that are not as they were.
    """

    record: Row
    digest: str
    number: int | None
    was: At | None
    text: Text
    sheets: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Said:
    """What is said of the time since, beside what is kept.

    Attributes:
        visits: visits since, the first begun first.
        done: ids of pieces of work that were done.
        mended: ids of causes that were mended, with the group of tests each owes.
        parts: names of parts that were fitted, with the unit each is of, if of one.
    """

    visits: Sequence[Attended] = ()
    done: Sequence[str] = ()
    mended: Mapping[str, str] = field(default_factory=dict[str, str])
    parts: Sequence[tuple[str, str | None]] = ()


@dataclass(frozen=True, slots=True)
class Compared:
    """What changed, and what that owes.

    Attributes:
        then: what was compared with.
        now: the doorway as it is described now.
        settings: facts that are not as they were; None where the text of that day is
            not at hand.
        readings: what was read again, moved or not.
        since: what was done, in words.
        visits: how many visits since then are not sealed.
        owing: what is open again and which tests are owed.
        steps: the tests by id.
    """

    then: Then
    now: At
    settings: tuple[Difference, ...] | None
    readings: tuple[ReadAgain, ...]
    since: tuple[str, ...]
    visits: int
    owing: Owing
    steps: "Mapping[str, Step]"


def compare(then: Then, now: At, said: Said, *, system: Show) -> Compared:
    """What changed at a doorway, and which tests that owes.

    Args:
        then: what it is compared with.
        now: the doorway as it is described now.
        said: what is said of the time since.
        system: in which units it is said.
    """
    settings = _settings(then, now)
    read = _read(then, now, said)
    before = answered(then.record.get("visit"))
    steps = now.steps(before)
    timed = [
        *((one, NEVER) for one in _texts(then, now, settings, system)),
        *_readings(read, now, system),
        *_works(now, said, steps),
        *((one, ALWAYS) for one in _named(said)),
    ]
    was = then.was.steps(before) if then.was else {}
    changes = [one for one, _ in timed]
    made = {one: Made(good) for one, good in before.items()}
    made |= _made_since(said, [at for _, at in timed])
    found = owing(
        changes, doors(then.record, then.was, now), tests_of(steps, was), made
    )
    done = tuple(say(one.says, system=system) for one in _all_done(now, said, steps))
    readings = tuple(one for one, _ in read)
    return Compared(then, now, settings, readings, done, len(said.visits), found, steps)


def changed_by(one: ReadAgain, doorway: str, system: Show = Show.METRIC) -> Changed:
    """A reading that differs, as what it tells of the doorway.

    Args:
        one: the reading.
        doorway: id of the doorway.
        system: in which units it is said.
    """
    says = of_reading(one, doorway, system)
    if not one.fitting:
        return of_key(way_of(one.kind), says)
    ways = of_unit(KINDS.get(one.kind, EVERYTHING), one.fitting)
    return Changed(says, ways, one.fitting)


# Changes -------------------------------------------------------------------------

Time = tuple[int, int]
"""The visit, and the place of an event in it."""


def _settings(then: Then, now: At) -> tuple[Difference, ...] | None:
    return None if then.was is None else differing(then.was.door, now.door)


def _texts(
    then: Then, now: At, settings: Sequence[Difference] | None, system: Show
) -> Iterator[Changed]:
    """What texts say: the doorway's own, sheets, doorways that it looks at."""
    if settings is None:
        yield Changed(Message("change.unread"), EVERYTHING, known=False)
    for one in settings or ():
        yield of_key(one.way, of_difference(one, now.door.id, system))
    for fitting in now.door.fitting:
        if fitting.sheet in then.sheets:
            says = Message("change.did.sheet", {"fitting": fitting.id})
            yield of_key(("fitting", f"[{fitting.id}]", "sheet"), says)
    yield from _looked_at(then, now)


def _looked_at(then: Then, now: At) -> Iterator[Changed]:
    """Doorways that this one looks at, where their units are not as they were."""
    if then.was is None:
        return
    doors_now = {one.id: one for one in now.site.doorway}
    doors_was = {one.id: one for one in then.was.site.doorway}
    for table in ("facing", "beside"):
        for other in getattr(now.door, table):
            one, was = doors_now.get(other.doorway), doors_was.get(other.doorway)
            if one and was and _units_differ(was, one):
                says = Message("change.did.other_door", {"door": one.name})
                yield Changed(says, ((table, f"[{other.doorway}]"),))


def _units_differ(was: Any, now: Any) -> bool:  # noqa: ANN401 - two doorways
    return any(one.way[0] == "fitting" for one in differing(was, now))


def _read(then: Then, now: At, said: Said) -> list[tuple[ReadAgain, Time]]:
    """What was read again, and when."""
    door = (then.was or now).door
    left = (*left_in(then.record.get("visit"), door), *stated_in(door))
    read: list[tuple[ReadAgain, Time]] = []
    for number, visit in enumerate(said.visits):
        found = things_in(visit.folded, "as_found", now.door)
        places = [
            place
            for place, one in enumerate(visit.found.standing)
            if isinstance(one, AsFoundEvent)
        ]
        at = (number, max(places, default=0))
        read += [(one, at) for one in again(left, found, door)]
    return read


def _readings(
    read: Sequence[tuple[ReadAgain, Time]], now: At, system: Show
) -> Iterator[tuple[Changed, Time]]:
    for one, at in read:
        if one.moved:
            yield changed_by(one, now.door.id, system), at


def _works(
    now: At, said: Said, steps: "Mapping[str, Step]"
) -> Iterator[tuple[Changed, Time]]:
    for number, visit in enumerate(said.visits):
        for place, one in enumerate(visit.found.standing):
            if isinstance(one, WorkEvent):
                for done in _done(one.said.step, now, steps):
                    yield done, (number, place)


def _done(work: str, now: At, steps: "Mapping[str, Step]") -> Iterator[Changed]:
    """What a piece of work changes; nothing if it only looks."""
    test, cause, number = work.rpartition(_CAUSE)
    if cause and number.isdigit() and test in steps:
        yield from _turned(steps[test], int(number), now, steps)
    elif DONE.get(work):
        says = Message("change.did.work", {"what": said_step(work)})
        yield Changed(says, DONE[work])


def _turned(
    step: "Step", number: int, now: At, steps: "Mapping[str, Step]"
) -> Iterator[Changed]:
    """What was turned because a test failed: the card counts its causes from 1."""
    causes = likely(step, tuple(steps.values()), now.study)
    for one in causes[number - 1 : number]:
        says = Message("change.did.test", {"what": one.turn})
        yield Changed(says, (), tests=(step.id, *one.again))


def _named(said: Said) -> Iterator[Changed]:
    """What somebody says was done or mended."""
    for work in said.done:
        if DONE.get(work):
            says = Message("change.did.work", {"what": said_step(work)})
            yield Changed(says, DONE[work])
    for cause, group in said.mended.items():
        named = Message(f"trace.cause.{cause}")
        says = Message("change.did.cause", {"what": named})
        yield Changed(says, MENDED[group])
    for name, fitting in said.parts:
        says = Message("change.did.part", {"what": name})
        unit = (("fitting", f"[{fitting}]"),)
        yield Changed(says, unit if fitting else FITTED, fitting)


def _all_done(now: At, said: Said, steps: "Mapping[str, Step]") -> list[Changed]:
    return [*(one for one, _ in _works(now, said, steps)), *_named(said)]


# Tests made since -----------------------------------------------------------------


def _made_since(said: Said, times: Sequence[Time]) -> dict[str, Made]:
    """How tests ended that were made since, and after which changes."""
    made: dict[str, Made] = {}
    for number, visit in enumerate(said.visits):
        answers = visit.found.answers
        for place, one in enumerate(visit.found.standing):
            if isinstance(one, StepEvent) and answers.get(one.said.step) is one:
                made |= _made(one, (number, place), times, current=visit.current)
    return made


def _made(
    one: StepEvent, at: Time, times: Sequence[Time], *, current: bool
) -> dict[str, Made]:
    if one.said.answer == "cannot":
        return {}
    after = frozenset(
        number
        for number, time in enumerate(times)
        if (current if time == NEVER else time < at)
    )
    good = one.said.answer == "stayed open"
    return {one.said.step: Made(good, after, current and len(after) == len(times))}
