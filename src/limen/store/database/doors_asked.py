"""Doorways asked for: filtered, put in order, counted, all by the database."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from sqlalchemy import (
    ColumnElement,
    Select,
    and_,
    case,
    func,
    literal,
    not_,
    or_,
    select,
    true,
)

from limen.store.database.library import Library
from limen.store.database.tables import DOOR, DOOR_ANSWER, DOOR_MET, SITE

State = Literal[
    "all", "mend", "measure", "overdue", "defects", "open", "never", "unknown"
]
STATES: tuple[State, ...] = (
    "all",
    "mend",
    "measure",
    "overdue",
    "defects",
    "open",
    "never",
    "unknown",
)
BY_VISITS = frozenset[State]({"defects", "open", "never"})
"""States that visits, and what was said between them, decide."""
Sort = Literal["site", "name", "place", "mend", "measure", "due", "visit", "open"]
Group = Literal["site", "place", "route", "person"]
Answer = Literal["fails", "not shown", "advised"]
ANSWERS: tuple[Answer, ...] = ("fails", "not shown", "advised")
Rows = Select[*tuple[Any, ...]]
BEYOND = "9999"
"""Stands after every day, and before every word."""
AFTER = "after-"
"""Before a month: all that is due later."""


@dataclass(frozen=True, slots=True)
class Now:
    """What counts as known, and what as overdue.

    Attributes:
        key: of all that findings rest on beside text and day.
        day: today, ISO 8601.
    """

    key: str
    day: str


@dataclass(frozen=True, slots=True)
class Wanted:
    """Which doorways are asked for; what is empty leaves nothing out.

    Attributes:
        words: each must stand in name, site, place, person or route; small letters.
        state: what must be to be done.
        site: id of the site.
        place: where the site is.
        rulebook: which rulebook is asked for.
        person, route: who looks after it, on which route.
        question, answer: a question, and how it must be answered.
        due: ``overdue``, ``none``, the month in which the check is due, ``2026-12``, or
            all that come later, ``after-2026-12``.
    """

    words: tuple[str, ...] = ()
    state: State = "all"
    site: str = ""
    place: str = ""
    rulebook: str = ""
    person: str = ""
    route: str = ""
    question: str = ""
    answer: Answer = "fails"
    due: str = ""


@dataclass(frozen=True, slots=True)
class DoorFound:
    """A doorway in a list.

    Attributes:
        site, site_name: of which site.
        doorway, name: which doorway.
        place, rulebook, person, route: as its text has them.
        known: whether it was studied since anything changed that it rests on.
        judged: whether there is a rulebook that judges it.
        studied: on which day, ISO 8601.
        mend, measure, office: counts of things to do.
        due: ``overdue``, ``day``, ``at once``, ``not known`` or ``not asked``.
        due_day: by when, ISO 8601.
        visits, visit, begun, left_as: visits, the last one, and how it left the door.
        open: reports and follow-ups that are not done.
    """

    site: str
    site_name: str
    doorway: str
    name: str
    place: str
    rulebook: str
    person: str
    route: str
    known: bool
    judged: bool
    studied: str
    mend: int
    measure: int
    office: int
    due: str
    due_day: str | None
    visits: int
    visit: str | None
    begun: str
    left_as: str
    open: int


@dataclass(frozen=True, slots=True)
class Counts:
    """How many doorways there are under each state, and what is left to study.

    Attributes:
        states: by state.
        earlier: doorways that are known from an earlier day.
        first_day: the earliest of these days, ISO 8601.
        unreckoned: doorways of which the next check is not worked out.
    """

    states: Mapping[State, int]
    earlier: int
    first_day: str
    unreckoned: int


@dataclass(frozen=True, slots=True)
class Failing:
    """At how many doorways a question is answered how.

    Attributes:
        question: which.
        fails: where a must fails.
        not_shown: where it is not shown, and no must fails.
        advised: where it fails and is no must.
    """

    question: str
    fails: int
    not_shown: int
    advised: int


def doors_asked(
    library: Library,
    wanted: Wanted,
    now: Now,
    *,
    sort: Sort = "site",
    down: bool = False,
    start: int = 0,
    most: int | None = None,
) -> tuple[DoorFound, ...]:
    """The doorways that are asked for, in order; the same order each time.

    Args:
        library: where.
        wanted: which.
        now: what counts as known and overdue.
        sort: by which column.
        down: whether what is last comes first.
        start: how many are left out at the beginning.
        most: how many at most; all if None.
    """
    first = _order(now)[sort]
    order = [one.desc() if down else one.asc() for one in first]
    order += [DOOR.c.by_site.asc(), DOOR.c.by_name.asc(), DOOR.c.number.asc()]
    # First which, then what is said of those few.
    which = of_doors(select(DOOR.c.number), wanted, now, met=sort in ("visit", "open"))
    which = which.order_by(*order).offset(start).limit(-1 if most is None else most)
    rows: Rows = select(*_columns(now)).where(DOOR.c.number.in_(which))
    rows = _with_met(rows.join(SITE, SITE.c.id == DOOR.c.site)).order_by(*order)
    return tuple(DoorFound(*row) for row in asked_all(library, rows))


def doors_counted(library: Library, wanted: Wanted, now: Now) -> Counts:
    """How many doorways there are under each state, all else as it is wanted."""
    states = _states(now)
    earlier = and_(_known(now), DOOR.c.studied != now.day)
    asked = [_count(states[one]) for one in STATES]
    first = func.min(case((earlier, DOOR.c.studied)))
    unreckoned = _count(not_(check_known(now)))
    columns = [*asked, _count(earlier), first, unreckoned]
    ((*counts, before, day, left),) = asked_all(
        library, of_doors(select(*columns), wanted, now, state=False, met=True)
    )
    told: dict[State, int] = {
        one: count or 0 for one, count in zip(STATES, counts, strict=True)
    }
    return Counts(told, before or 0, day or "", left or 0)


def doors_failing(library: Library, wanted: Wanted, now: Now) -> tuple[Failing, ...]:
    """What fails most among the doorways that are asked for, most first."""
    question, verdict = DOOR_ANSWER.c.question, DOOR_ANSWER.c.verdict
    those = of_doors(select(DOOR.c.number), wanted, now).where(_known(now))
    rows: Rows = select(question, verdict, func.count())
    # A sum, so that no index of doorways is taken: in the order in which the answers
    # lie, question by question, nothing has to be sorted to be counted.
    rows = rows.where((DOOR_ANSWER.c.door + 0).in_(those))
    found: dict[str, dict[str, int]] = {}
    for asked, answer, count in asked_all(library, rows.group_by(question, verdict)):
        found.setdefault(asked, {})[answer] = count
    told = [
        Failing(asked, *(counts.get(one, 0) for one in ANSWERS))
        for asked, counts in found.items()
    ]
    return tuple(sorted(told, key=_worst))


def doors_choices(library: Library, most: int) -> Mapping[str, tuple[str, ...]]:
    """What can be chosen among: rulebooks, persons and routes that there are."""
    found: dict[str, tuple[str, ...]] = {}
    for name in ("rulebook", "person", "route"):
        column = DOOR.c[name]
        rows = select(column, func.count()).where(column != "").group_by(column)
        told = asked_all(library, rows.order_by(func.count().desc()).limit(most))
        found[name] = tuple(sorted(row[0] for row in told))
    return found


def _worst(one: Failing) -> tuple[int, int, int, str]:
    return -one.fails, -one.not_shown, -one.advised, one.question


def of_doors(
    rows: Rows, wanted: Wanted, now: Now, *, state: bool = True, met: bool = False
) -> Rows:
    """Of the doorways that are asked for.

    Args:
        rows: what is asked of them.
        wanted: which.
        now: what counts as known and overdue.
        state: whether only those in the state that is wanted.
        met: whether visits are asked for beside that.
    """
    away = select(SITE.c.id).where(SITE.c.archived)
    rows = rows.select_from(DOOR)
    if met or wanted.state in BY_VISITS:
        rows = _with_met(rows)
    rows = rows.where(DOOR.c.site.not_in(away), *_filters(wanted, now))
    return rows.where(_states(now)[wanted.state]) if state else rows


def _with_met(rows: Rows) -> Rows:
    met = (DOOR_MET.c.site == DOOR.c.site) & (DOOR_MET.c.doorway == DOOR.c.doorway)
    return rows.outerjoin(DOOR_MET, met)


def _filters(wanted: Wanted, now: Now) -> list[ColumnElement[bool]]:
    told = [func.instr(DOOR.c.sought, word) > 0 for word in wanted.words]
    for name in ("site", "place", "rulebook", "person", "route"):
        asked = getattr(wanted, name)
        told += [DOOR.c[name] == asked] if asked else []
    if wanted.question:
        those = select(DOOR_ANSWER.c.door).where(
            DOOR_ANSWER.c.question == wanted.question,
            DOOR_ANSWER.c.verdict == wanted.answer,
        )
        told += [_known(now), DOOR.c.number.in_(those)]
    return told + ([_falls_due(wanted.due, now)] if wanted.due else [])


def _falls_due(when: str, now: Now) -> ColumnElement[bool]:
    month = month_due(now)
    if not when.startswith(AFTER):
        return month == when
    return and_(month > when.removeprefix(AFTER), month < BEYOND)


def _known(now: Now) -> ColumnElement[bool]:
    return and_(DOOR.c.key == now.key, DOOR.c.key != "")


def check_known(now: Now) -> ColumnElement[bool]:
    """Whether the next check is known, which needs no study."""
    return and_(DOOR.c.due_key == now.key, DOOR.c.due_key != "")


def check_unknown(now: Now) -> ColumnElement[bool]:
    """Whether it is known that nobody knows when the next check is due."""
    return and_(check_known(now), DOOR.c.due == "not known")


def overdue(now: Now) -> ColumnElement[bool]:
    """Whether the next check should have been made before today, or is due at once."""
    past = and_(DOOR.c.due == "day", DOOR.c.due_day < now.day)
    return and_(check_known(now), or_(DOOR.c.due == "at once", past))


def month_due(now: Now) -> ColumnElement[str]:
    """The month in which a check is due, ``overdue``, or ``none``."""
    known = and_(check_known(now), DOOR.c.due == "day")
    return case(
        (overdue(now), "overdue"),
        (known, func.substr(DOOR.c.due_day, 1, 7)),
        else_="none",
    )


def _mend(now: Now) -> ColumnElement[int]:
    """Musts that fail today: those that do not rest on the day, and the check."""
    check = case((and_(overdue(now), DOOR.c.due_must), 1), else_=0)
    return case((_known(now), DOOR.c.mend + check), else_=0)


def _when_known(
    now: Now, column: ColumnElement[Any], other: object
) -> ColumnElement[Any]:
    return case((_known(now), column), else_=literal(other))


def _states(now: Now) -> dict[State, ColumnElement[bool]]:
    return {
        "all": true(),
        "mend": _mend(now) > 0,
        "measure": and_(_known(now), DOOR.c.measure > 0),
        "overdue": overdue(now),
        "defects": func.coalesce(DOOR_MET.c.left_as, "").in_(
            ("in use with defects", "out of use")
        ),
        "open": func.coalesce(DOOR_MET.c.open, 0) > 0,
        "never": func.coalesce(DOOR_MET.c.visits, 0) == 0,
        "unknown": not_(_known(now)),
    }


def _due(now: Now) -> ColumnElement[str]:
    past = and_(overdue(now), DOOR.c.due == "day")
    return case((past, "overdue"), (check_known(now), DOOR.c.due), else_="")


def _order(now: Now) -> dict[Sort, list[ColumnElement[Any]]]:
    """By what each column is put in order."""
    rank = case(
        {"at once": 0, "overdue": 1, "not known": 2, "day": 3, "not asked": 4},
        value=_due(now),
        else_=5,
    )
    unknown = not_(_known(now))
    return {
        "site": [DOOR.c.by_site],
        "name": [DOOR.c.by_name],
        "place": [DOOR.c.by_place],
        "mend": [_mend(now), unknown],
        "measure": [_when_known(now, DOOR.c.measure, 0), unknown],
        "due": [rank, func.coalesce(DOOR.c.due_day, BEYOND)],
        "visit": [func.coalesce(DOOR_MET.c.begun, "")],
        "open": [func.coalesce(DOOR_MET.c.open, 0)],
    }


def _columns(now: Now) -> list[ColumnElement[Any]]:
    """What `DoorFound` takes, in its order."""
    return [
        DOOR.c.site,
        SITE.c.name,
        DOOR.c.doorway,
        *(DOOR.c[one] for one in ("name", "place", "rulebook", "person", "route")),
        _known(now),
        and_(_known(now), DOOR.c.judged),
        DOOR.c.studied,
        _mend(now),
        _when_known(now, DOOR.c.measure, 0),
        _when_known(now, DOOR.c.office + case((check_unknown(now), 1), else_=0), 0),
        _due(now),
        case((check_known(now), DOOR.c.due_day)),
        func.coalesce(DOOR_MET.c.visits, 0),
        DOOR_MET.c.visit,
        *(func.coalesce(DOOR_MET.c[one], "") for one in ("begun", "left_as")),
        func.coalesce(DOOR_MET.c.open, 0),
    ]


def _count(told: ColumnElement[bool]) -> ColumnElement[Any]:
    return func.sum(case((told, 1), else_=0))


def asked_all(library: Library, rows: Rows) -> list[Any]:
    """What the database answers, all of it."""
    with library.engine.connect() as connection:
        return list(connection.execute(rows).all())
