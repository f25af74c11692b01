"""Rooms and readings of a doorway over the years, and which of them drift.

Every record says how much room each question had.  Where a record's text says of the
doorway what the one before said, its rooms are drawn and tell nothing new; where
settings or the rulebook changed between them, a new run begins: what a person turned
did not drift.  What tape and finder read goes the same way from visit to visit.
"""

import tomllib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from itertools import pairwise
from typing import TYPE_CHECKING, Any, Literal, cast

from limen.desk.library import Desk, Opened, book_of, study_of
from limen.desk.merging import Key, changed
from limen.desk.visits import Folded, record_of_bytes
from limen.exchange.recorded import recorded
from limen.exchange.symbols import SI
from limen.keep.drifting import Drift, Point, drift, since_set
from limen.model.visit import AsFoundEvent, OfLens, OfRow, OfValue, ReadingEvent
from limen.quantity import Dimension, Quantity
from limen.store.database.records import KeptRecord

if TYPE_CHECKING:
    from limen.model.doorway import Doorway
    from limen.model.readings import Reading

How = Literal["record", "now", "found", "left"]
DIMENSIONS: Mapping[str, Dimension] = {symbol: one for one, symbol in SI.items()}
SETTINGS = "settings"
OF_DATES = "keeping."
"""Questions whose room gets less by a day each day."""
TENTH = 0.1
"""m: readings of a row within it, along the opening, are of one place."""
LENS = ("height", "from_leaf", "along")
TURNING = frozenset({"mount", "aim", "widths"})
"""Pieces of work after which a row lies elsewhere."""


@dataclass(frozen=True, slots=True)
class Mark:
    """A value on a day.

    Attributes:
        day: the day.
        value: what it was (SI).
        how: from a record, as the doorway is now, as found or as left at a visit.
        of: number of the record, or id of the visit; empty for now.
        u: half-width of the interval in which it lies; None where nobody knows it.
        verdict: how the question was answered; empty for what was read.
        anew: whether it may have been set just before.
        tells: whether it says more than the mark before it.
    """

    day: date
    value: float
    how: How
    of: str
    u: float | None = None
    verdict: str = ""
    anew: bool = False
    tells: bool = True


@dataclass(frozen=True, slots=True)
class Course:
    """One thing over the years.

    Attributes:
        of: the question; or what was read, ``row line``, ``lens height``.
        fitting, case: whose, and in which case; empty where there is none.
        row, end, place: of a reading: which row, which end, and where along the
            opening (m); None where there is none.
        dimension: of its values.
        marks: its values, the earliest first.
        least, most: its limits (SI); None where there is none.
        best: where it is best (SI); None where nobody says.
        found: whether it drifts.
    """

    of: str
    fitting: str
    case: str
    dimension: Dimension
    marks: tuple[Mark, ...]
    row: int | None = None
    end: str | None = None
    place: float | None = None
    least: float | None = None
    most: float | None = None
    best: float | None = None
    found: Drift = field(default_factory=lambda: Drift(0))

    @property
    def last(self) -> Mark:
        """Its last value."""
        return self.marks[-1]


# Rooms of questions ----------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _State:
    """What was known of a doorway: of a record, or now."""

    day: date
    how: How
    of: str
    rows: Sequence[Mapping[str, Any]]
    book: str
    text: str | None


def margins_of(
    desk: Desk, opened: Opened, doorway: str, records: Sequence[KeptRecord]
) -> tuple[Course, ...]:
    """The room of each question in every record and now; what drifts first.

    Args:
        desk: the desk.
        opened: the site as it is kept.
        doorway: which doorway.
        records: its records, in any order; without one there is nothing to compare.

    Raises:
        Refusal: there is no such doorway, or nothing settles its edition.
    """
    if not records:
        return ()
    texts = _texts(desk, opened)
    states = [_recorded(one, texts) for one in sorted(records, key=_number)]
    states.append(_now(desk, opened, doorway))
    steps = [(False, True), *_steps(states, doorway)]
    made: dict[tuple[str, str, str], list[tuple[Mark, Dimension]]] = {}
    for state, (anew, tells) in zip(states, steps, strict=True):
        for key, mark, dimension in _marks(state):
            full = replace(mark, anew=anew, tells=tells)
            made.setdefault(key, []).append((full, dimension))
    courses = (
        Course(*key, of[-1][1], tuple(mark for mark, _ in of), least=0.0)
        for key, of in made.items()
        if len(of) > 1 and len({dimension for _, dimension in of}) == 1
    )
    return _judged(courses, desk.day())


def _texts(desk: Desk, opened: Opened) -> Mapping[str, str]:
    """By digest the texts of a site."""
    site = opened.stored.id
    every = desk.library.history(site)
    return {one.digest: desk.library.text(site, one.number) for one in every}


def _recorded(record: KeptRecord, texts: Mapping[str, str]) -> _State:
    said = record_of_bytes(record.sealed)
    study = said["study"]
    named = said.get("files", {}).values()
    return _State(
        date.fromisoformat(study["on"] or record.kept[:10]),
        "record",
        str(record.number),
        study["findings"],
        study["rulebook_digest"],
        next((texts[one] for one in named if one in texts), None),
    )


def _now(desk: Desk, opened: Opened, doorway: str) -> _State:
    study = study_of(desk, opened, doorway)
    said, _ = recorded(study, site=opened.site.name)
    text = opened.stored.text
    rows = cast("Sequence[Mapping[str, Any]]", said["findings"])
    return _State(desk.day(), "now", "", rows, study.digest, text)


def _number(one: KeptRecord) -> int:
    return one.number


def _steps(states: Sequence[_State], doorway: str) -> Iterator[tuple[bool, bool]]:
    """From each state to the next: whether a run begins, and whether it tells more.

    Where the text of a record is not kept here, nobody knows what was set meanwhile:
    a run begins.
    """
    for before, after in pairwise(states):
        keys = _own(before.text, after.text, doorway)
        if keys is None or before.book != after.book:
            yield True, True
        else:
            yield any(SETTINGS in key for key in keys), bool(keys)


def _own(before: str | None, after: str | None, doorway: str) -> list[Key] | None:
    """Keys of a doorway in which two texts differ; None where one is not known."""
    if before is None or after is None:
        return None
    try:
        every = changed(before, after)
    except tomllib.TOMLDecodeError:
        return None
    return [one.key for one in every if one.key[:2] == ("doorway", f"[{doorway}]")]


def _marks(
    state: _State,
) -> Iterator[tuple[tuple[str, str, str], Mark, Dimension]]:
    for row in state.rows:
        for case in row["cases"]:
            if row["question"].startswith(OF_DATES):
                continue
            room = case.get("margin")
            dimension = DIMENSIONS.get(room["unit"]) if room else None
            if room is None or dimension is None:
                continue
            key = row["question"], case.get("fitting") or "", case.get("case") or ""
            mark = Mark(
                state.day,
                room["value"],
                state.how,
                state.of,
                room["u"] or None,
                row["verdict"],
            )
            yield key, mark, dimension


# What was read ---------------------------------------------------------------------

_Of = tuple[str, str, int | None, str | None, float | None]
"""What was read: kind, fitting, row, end, place along the opening."""
_Read = tuple[_Of, float, float | None]


def readings_over(
    desk: Desk,
    doorway: "Doorway | None",
    visits: Iterable[Folded],
    windows: Mapping[str, tuple[float, float, float]],
) -> tuple[Course, ...]:
    """What tape and finder read of each unit, as found and as left; drifts first.

    Args:
        desk: the desk.
        doorway: as it is kept; None if its text cannot be read.
        visits: its visits, in any order.
        windows: by fitting where its first row is to land: least, best, most (m).
    """
    made: dict[_Of, list[Mark]] = {}
    turned: set[_Of] = set()
    for visit in sorted(visits, key=_began):
        for of, (first, *rest) in _of_visit(visit, doorway).items():
            anew = first.anew or of in turned
            made.setdefault(of, []).extend([replace(first, anew=anew), *rest])
            turned.discard(of)
        turned |= {of for of in made if _turned(visit, of[1], made[of][-1])}
    courses = (
        _read_course(of, marks, windows) for of, marks in made.items() if len(marks) > 1
    )
    return _judged(courses, desk.day())


def windows_of(
    desk: Desk, opened: Opened, doorway: str
) -> dict[str, tuple[float, float, float]]:
    """By fitting where its first row is to land: least, best, most (m).

    Raises:
        Refusal: there is no such doorway, or nothing settles its edition.
    """
    from limen.desk.card_pack_said import Sayer
    from limen.desk.card_pack_targets import targets_of
    from limen.quantity import Show
    from limen.study.running import asked_of

    study, door = study_of(desk, opened, doorway), opened.doorway(doorway)
    book = book_of(desk, opened.site, door)
    asked = asked_of(door, book, on=desk.day(), site=opened.site)
    if not asked:
        return {}
    settled = next(iter(asked.values())).settled
    every = targets_of(door, settled, study, Sayer(Show.METRIC))
    return {
        one["fitting"]: (one["least"], one["best"], one["most"])
        for one in every
        if one["row"] == 1
    }


def _began(one: Folded) -> str:
    return (one.found.started or one.found.events[0]).at


def _of_visit(visit: Folded, doorway: "Doorway | None") -> dict[_Of, list[Mark]]:
    """By what was read its marks: as found first, as left last."""
    found: dict[_Of, tuple[float, float | None, date]] = {}
    left: dict[_Of, tuple[float, float | None, date]] = {}
    for event in visit.found.standing:
        if not isinstance(event, AsFoundEvent | ReadingEvent):
            continue
        for of, value, u in _values(event, doorway):
            read = value, u, event.moment.date()
            if isinstance(event, AsFoundEvent):
                found.setdefault(of, read)
            else:
                left[of] = read
    return {
        of: [
            *_mark(found.get(of), "found", visit.visit),
            *_mark(left.get(of), "left", visit.visit),
        ]
        for of in {**found, **left}
    }


def _turned(visit: Folded, fitting: str, last: Mark) -> bool:
    """Whether a unit was turned at a visit that did not read how it was left."""
    if last.how == "left" and last.of == visit.visit:
        return False
    if TURNING & set(visit.found.work):
        return True
    settings = f"fitting.{fitting}.settings."
    return any(
        isinstance(one, ReadingEvent)
        and isinstance(one.said, OfValue)
        and one.said.key.startswith(settings)
        for one in visit.found.standing
    )


def _mark(
    read: tuple[float, float | None, date] | None, how: How, visit: str
) -> Iterator[Mark]:
    """A mark of what was read; what was left may have been set."""
    if read is not None:
        value, u, day = read
        yield Mark(day, value, how, visit, u, anew=how == "left")


def _values(
    event: AsFoundEvent | ReadingEvent, doorway: "Doorway | None"
) -> Iterator[_Read]:
    match event.said:
        case OfRow() as said if not said.reading.struck:
            read = _row(said.fitting, said.reading, doorway)
            if read is not None:
                yield read
        case OfLens() as said:
            for name in LENS:
                taped: Quantity | None = getattr(said.lens, name)
                if taped is not None:
                    of = (f"lens {name}", said.fitting, None, None, None)
                    yield of, taped.value, taped.u or None
        case _:
            return


def _row(fitting: str, one: "Reading", doorway: "Doorway | None") -> _Read | None:
    """Where a row or a spot was found; None where that cannot be said in metres."""
    from limen.tune.fitting_given import KINDS, WITHIN

    along = one.place(doorway.clear_width) if doorway is not None else one.along
    u = WITHIN[KINDS[one.kind]].u or WITHIN[KINDS[one.kind]].value
    if one.kind == "row end":
        if along is None:
            return None
        of = (one.kind, fitting, one.row, one.end, None)
        return of, along.value, along.u or u
    place = None if along is None else round(along.value / TENTH) * TENTH
    return (one.kind, fitting, one.row, None, place), one.out.value, one.out.u or u


def _read_course(
    of: _Of, marks: Sequence[Mark], windows: Mapping[str, tuple[float, float, float]]
) -> Course:
    kind, fitting, row, end, place = of
    own = kind in {"row line", "spot centre"} and row in {1, None}
    least, best, most = windows.get(fitting, (None,) * 3) if own else (None,) * 3
    return Course(
        kind,
        fitting,
        "",
        Dimension.LENGTH,
        tuple(marks),
        row,
        end,
        place,
        least,
        most,
        best,
    )


# Judged ----------------------------------------------------------------------------


def _judged(courses: Iterable[Course], on: date) -> tuple[Course, ...]:
    """Courses with what they come to: those that drift first, the soonest before."""
    return tuple(sorted((_drifted(one, on) for one in courses), key=_soonest))


def _drifted(one: Course, on: date) -> Course:
    telling = [mark for mark in one.marks if mark.tells]
    points = [(Point(mark.day, mark.value, mark.u), mark.anew) for mark in telling]
    runs = list(since_set(points))
    return replace(one, found=drift(runs, on, least=one.least, most=one.most))


def _soonest(one: Course) -> tuple[bool, float, float, str, str, str]:
    reach = one.found.reach
    when = reach.likely if reach else float("inf")
    room = one.last.value if one.least == 0.0 else float("inf")
    return not one.found.shown, when, room, one.of, one.fitting, one.case
