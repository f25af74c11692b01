"""Every doorway of every site: asked for, counted, put into a table for others.

Nothing is read or studied for it: a list says what is known, and what is not.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from limen.desk.library import Desk
from limen.desk.library_known import lasting_basis
from limen.exchange.cells import Cell, table
from limen.findings import Message
from limen.store.database.doors import stale_sites, unread_sites
from limen.store.database.doors_asked import (
    ANSWERS,
    STATES,
    Answer,
    Counts,
    DoorFound,
    Failing,
    Group,
    Now,
    Sort,
    State,
    Wanted,
    doors_asked,
    doors_choices,
    doors_counted,
    doors_failing,
)
from limen.store.database.doors_due import DueThere, DueWhere, doors_due
from limen.store.database.listing import listed as sites_listed
from limen.words import say

__all__ = [
    "ANSWERS",
    "A_PAGE",
    "STATES",
    "Answer",
    "Asked",
    "Counts",
    "DoorFound",
    "DueThere",
    "DueWhere",
    "Failing",
    "Group",
    "Sort",
    "State",
    "Wanted",
    "choices",
    "counted",
    "due_where",
    "fails_most",
    "of_site",
    "rows",
    "site_name",
    "to_read",
    "written",
]

A_PAGE = 100
MOST_CHOICES = 200
"""Persons, and routes, that one can choose among; more are found by their words."""
COLUMNS = (
    "site",
    "doorway",
    "name",
    "place",
    "rulebook",
    "person",
    "route",
    "studied",
    "mend",
    "measure",
    "office",
    "due",
    "due_day",
    "visits",
    "last_visit",
    "left_as",
    "open",
)


@dataclass(frozen=True, slots=True)
class Asked:
    """What is asked of the list.

    Attributes:
        wanted: which doorways.
        sort: by which column.
        down: whether what is last comes first.
        start: how many doorways stand on the pages before.
    """

    wanted: Wanted = field(default_factory=Wanted)
    sort: Sort = "site"
    down: bool = False
    start: int = 0


@dataclass(frozen=True, slots=True)
class ToRead:
    """What is not in the list as it is kept.

    Attributes:
        stale: sites whose text has changed since their doorways were read.
        unread: id and name of sites whose text cannot be read.
    """

    stale: int
    unread: tuple[tuple[str, str], ...]


def rows(desk: Desk, asked: Asked) -> tuple[DoorFound, ...]:
    """A page of the doorways that are asked for."""
    return doors_asked(
        desk.library,
        asked.wanted,
        _now(desk),
        sort=asked.sort,
        down=asked.down,
        start=asked.start,
        most=A_PAGE,
    )


def of_site(desk: Desk, site_id: str) -> Mapping[str, DoorFound]:
    """By id the doorways of one site that are in the list."""
    found = doors_asked(desk.library, Wanted(site=site_id), _now(desk))
    return {one.doorway: one for one in found}


def counted(desk: Desk, wanted: Wanted) -> Counts:
    """How many doorways there are under each state, all else as it is wanted."""
    return doors_counted(desk.library, wanted, _now(desk))


def fails_most(desk: Desk, wanted: Wanted) -> tuple[Failing, ...]:
    """At how many of the doorways each question fails or is not shown, most first."""
    return doors_failing(desk.library, wanted, _now(desk))


def due_where(
    desk: Desk, wanted: Wanted, by: Group, months: Sequence[str], most: int
) -> DueWhere:
    """How many checks are due in which month, by site, place, route or person.

    Args:
        desk: the desk.
        wanted: which doorways.
        by: by what they are parted.
        months: ``2026-12``, those that are counted apart.
        most: how many places are told at most.
    """
    return doors_due(desk.library, wanted, _now(desk), by, months, most)


def choices(desk: Desk) -> Mapping[str, tuple[str, ...]]:
    """Rulebooks, persons and routes that there are."""
    return doors_choices(desk.library, MOST_CHOICES)


def to_read(desk: Desk) -> ToRead:
    """What is not in the list as it is kept."""
    stale = stale_sites(desk.library, lasting_basis(desk))
    return ToRead(len(stale), unread_sites(desk.library))


def site_name(desk: Desk, site_id: str) -> str:
    """What a site is called; its id where there is none."""
    return next((one.name for one in sites_listed(desk.library, site_id)), site_id)


def written(desk: Desk, asked: Asked) -> bytes:
    """All doorways that are asked for as a table, in the order that is asked for."""
    found = doors_asked(
        desk.library, asked.wanted, _now(desk), sort=asked.sort, down=asked.down
    )
    head = [say(Message(f"doors.column.{one}")) for one in COLUMNS]
    return table(head, (_cells(one) for one in found))


def _now(desk: Desk) -> Now:
    return Now(lasting_basis(desk), desk.day().isoformat())


def _cells(one: DoorFound) -> tuple[Cell, ...]:
    """A doorway as a row; what is not known stays empty."""
    counts = (one.mend, one.measure, one.office)
    known: tuple[Cell, ...] = counts if one.judged else (None, None, None)
    due = say(Message(f"doors.due.{one.due.replace(' ', '_')}")) if one.due else ""
    left = say(Message(f"visits.over.{one.left_as}")) if one.left_as else ""
    return (
        one.site_name,
        one.doorway,
        one.name,
        one.place,
        one.rulebook,
        one.person,
        one.route,
        one.studied if one.known else "",
        *known,
        due,
        one.due_day or "",
        one.visits,
        one.begun[:10],
        left,
        one.open,
    )
