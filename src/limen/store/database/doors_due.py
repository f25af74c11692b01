"""Where how many checks are due in which month, counted by the database."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from sqlalchemy import ColumnElement, and_, case, func, select

from limen.store.database.doors_asked import (
    AFTER,
    BEYOND,
    Group,
    Now,
    Rows,
    Wanted,
    asked_all,
    check_known,
    check_unknown,
    month_due,
    of_doors,
    overdue,
)
from limen.store.database.library import Library
from limen.store.database.tables import DOOR, SITE

OVERDUE, NONE = "overdue", "none"


@dataclass(frozen=True, slots=True)
class DueThere:
    """How many checks are due at one place.

    Attributes:
        group: the site, the place, the route or the person: what filters by it.
        name: what it is called.
        counts: doorways by ``overdue``, month, ``after-`` the last month, ``none``;
            where there is none, nothing stands.
    """

    group: str
    name: str
    counts: Mapping[str, int]


@dataclass(frozen=True, slots=True)
class DueWhere:
    """How many checks are due where.

    Attributes:
        places: those with most overdue first, then those whose next check is soonest.
        of: how many places there are in all.
        total: counts of all of them.
    """

    places: tuple[DueThere, ...]
    of: int
    total: Mapping[str, int]


@dataclass(frozen=True, slots=True)
class SiteLate:
    """What the checks at a site, or at a doorway, come to.

    Attributes:
        late: doorways whose check is overdue, or due at once.
        musts: those of them whose check is a must.
        unknown: doorways of which nobody knows when a check is due.
    """

    late: int = 0
    musts: int = 0
    unknown: int = 0


def doors_due(
    library: Library,
    wanted: Wanted,
    now: Now,
    by: Group,
    months: Sequence[str],
    most: int | None = None,
) -> DueWhere:
    """How many checks are due in which month, by site, place, route or person.

    Args:
        library: where.
        wanted: which doorways.
        now: what counts as known and overdue.
        by: by what they are parted.
        months: ``2026-12``, those that are counted apart; what comes later is counted
            together.
        most: how many places are told at most; all if None.
    """
    columns = (OVERDUE, *months, f"{AFTER}{months[-1]}", NONE)
    rows = asked_all(library, _places(wanted, now, by, columns).limit(most or -1))
    if not rows:
        return DueWhere((), 0, {})
    sites = [row[0] for row in rows] if by == "site" else []
    names = _names(library, sites)
    size = len(columns)
    places = tuple(
        DueThere(group, names.get(group, group), _counts(columns, told[:size]))
        for group, *told in rows
    )
    _, *first = rows[0]
    return DueWhere(places, first[size], _counts(columns, first[size + 1 :]))


def checks_at_sites(library: Library, now: Now) -> Mapping[str, SiteLate]:
    """By id what checks come to at each site of which every check is worked out."""
    late, unknown = overdue(now), check_unknown(now)
    counts = [
        func.sum(case((told, 1), else_=0))
        for told in (late, and_(late, DOOR.c.due_must), unknown)
    ]
    rows: Rows = select(DOOR.c.site, *counts).group_by(DOOR.c.site)
    known = case((check_known(now), 1), else_=0)
    found = asked_all(library, rows.having(func.min(known) == 1))
    return {site: SiteLate(*told) for site, *told in found}


def _places(wanted: Wanted, now: Now, by: Group, columns: Sequence[str]) -> Rows:
    """A row a place: its counts, how many places there are, the counts of all."""
    named = {"site": DOOR.c.by_site, "place": DOOR.c.by_place}.get(by, DOOR.c[by])
    asked: Rows = select(
        DOOR.c[by].label("part"),
        month_due(now).label("month"),
        func.count().label("count"),
        func.min(named).label("named"),
    )
    found = of_doors(asked, wanted, now).group_by("part", "month").subquery()
    part, month, count = found.c.part, found.c.month, found.c["count"]
    sums = [
        func.sum(case((_in(month, one, columns), count), else_=0)) for one in columns
    ]
    dated = case((month.not_in((OVERDUE, NONE)), month))
    soonest = func.coalesce(func.min(dated), BEYOND)
    rows: Rows = select(
        part, *sums, func.count().over(), *(func.sum(one).over() for one in sums)
    )
    order = (sums[0].desc(), soonest, func.min(found.c.named), part)
    return rows.group_by(part).order_by(*order)


def _in(
    month: ColumnElement[str], column: str, columns: Sequence[str]
) -> ColumnElement[bool]:
    """Whether what is due in a month is counted in a column."""
    if column.startswith(AFTER):
        return month.not_in([one for one in columns if one != column])
    return month == column


def _names(library: Library, sites: Sequence[str]) -> Mapping[str, str]:
    rows: Rows = select(SITE.c.id, SITE.c.name).where(SITE.c.id.in_(sites))
    return dict(tuple(row) for row in asked_all(library, rows))


def _counts(columns: Sequence[str], told: Sequence[int]) -> Mapping[str, int]:
    return {one: count for one, count in zip(columns, told, strict=False) if count}
