"""What tells when a doorway was last checked: records, and visits not sealed yet."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Table, func, or_, select

from limen.store.database.library import Library
from limen.store.database.tables import (
    KEEPING_EVENT,
    RECORD,
    SITE,
    VERSION,
    VISIT_EVENT,
)

TELLING = (
    ("work", "%"),
    ("reading", "%.settings.%"),
    ("step", '%"touched"%'),
    ("handed_over", '%"in use with defects"%'),
    ("handed_over", '%"out of use"%'),
)
"""Kinds of event, and what must stand in it, by which a visit may have changed a door
or left it with a fault; whether it did, its fold says."""


@dataclass(frozen=True, slots=True)
class Sealed:
    """A record, without its text.

    Attributes:
        digest: what names it.
        number: counts up at each site.
        doorway: of which doorway.
        kept: when it came in, ISO 8601; what it tells is no later.
    """

    digest: str
    number: int
    doorway: str
    kept: str


@dataclass(frozen=True, slots=True)
class Seen:
    """How much had come in of a site.

    Attributes:
        visits, said: numbers of the last event of its visits, and between them.
        records: how many records there are.
    """

    visits: int = 0
    said: int = 0
    records: int = 0


def sealed_at(library: Library, site: str) -> tuple[Sealed, ...]:
    """The records of a site, the last first."""
    columns = (RECORD.c.digest, RECORD.c.number, RECORD.c.doorway, RECORD.c.kept)
    rows = select(*columns).where(RECORD.c.site == site)
    with library.engine.connect() as connection:
        found = connection.execute(rows.order_by(RECORD.c.number.desc()))
        return tuple(Sealed(*row) for row in found)


def sealed_text(library: Library, digest: str) -> bytes:
    """The sealed text of a record that is kept."""
    rows = select(RECORD.c.sealed).where(RECORD.c.digest == digest)
    with library.engine.connect() as connection:
        return connection.execute(rows).scalar_one()


def visit_of(library: Library, digest: str) -> str | None:
    """The visit of which a record is; None if it is of none, or not kept."""
    rows = select(RECORD.c.visit).where(RECORD.c.digest == digest)
    with library.engine.connect() as connection:
        return connection.scalar(rows)


def unsealed_at(library: Library, site: str) -> tuple[tuple[str, str], ...]:
    """Doorway and id of the visits of a site that have no record, and may tell.

    The last one of each doorway is among them whatever it tells.
    """
    sealed = select(RECORD.c.visit).where(
        RECORD.c.site == site, RECORD.c.visit.is_not(None)
    )
    telling = or_(
        *(
            (VISIT_EVENT.c.kind == kind) & VISIT_EVENT.c.text.like(text)
            for kind, text in TELLING
        )
    )
    last: Any = func.max(VISIT_EVENT.c.number)
    rows = (
        select(VISIT_EVENT.c.doorway, VISIT_EVENT.c.visit, func.max(telling))
        .where(VISIT_EVENT.c.site == site, VISIT_EVENT.c.visit.not_in(sealed))
        .group_by(VISIT_EVENT.c.doorway, VISIT_EVENT.c.visit)
        .order_by(last)
    )
    with library.engine.connect() as connection:
        found: list[Any] = [tuple(row) for row in connection.execute(rows)]
    newest = {doorway: visit for doorway, visit, _ in found}
    return tuple(
        (doorway, visit)
        for doorway, visit, tells in found
        if tells or newest[doorway] == visit
    )


def last_came(library: Library, site: str) -> str:
    """When anything of a site came in last, ISO 8601; empty if nothing did."""
    moments: tuple[tuple[Table, Any], ...] = (
        (VISIT_EVENT, func.max(VISIT_EVENT.c.came)),
        (KEEPING_EVENT, func.max(KEEPING_EVENT.c.came)),
        (RECORD, func.max(RECORD.c.kept)),
    )
    with library.engine.connect() as connection:
        found = (
            connection.scalar(select(last).where(table.c.site == site))
            for table, last in moments
        )
        return max((one for one in found if one), default="")


def state_of(library: Library) -> tuple[int, ...]:
    """Numbers of which at least one is another one once anything was kept."""
    counts: tuple[Any, ...] = (
        select(func.count()).select_from(VERSION),
        select(func.sum(SITE.c.archived)),
        select(func.max(VISIT_EVENT.c.number)),
        select(func.max(KEEPING_EVENT.c.number)),
        select(func.count()).select_from(RECORD),
    )
    with library.engine.connect() as connection:
        return tuple(int(connection.scalar(one) or 0) for one in counts)


def seen_beyond(library: Library, visits: int, said: int) -> Mapping[str, Seen]:
    """By site how much has come in; of events only what lies beyond some numbers.

    Args:
        library: where.
        visits: number of the last event of visits that is known already.
        said: the same of what was said between them.
    """
    met = _last(library, VISIT_EVENT, visits)
    told = _last(library, KEEPING_EVENT, said)
    sealed = _last(library, RECORD, 0)
    every = {*met, *told, *sealed}
    return {
        one: Seen(met.get(one, 0), told.get(one, 0), sealed.get(one, 0))
        for one in every
    }


def seen_at(library: Library, site: str) -> Seen:
    """How much has come in of one site."""
    tables = (VISIT_EVENT, KEEPING_EVENT, RECORD)
    with library.engine.connect() as connection:
        last = (
            connection.scalar(
                select(func.max(table.c.number)).where(table.c.site == site)
            )
            for table in tables
        )
        return Seen(*(int(one or 0) for one in last))


def _last(library: Library, table: Table, beyond: int) -> dict[str, int]:
    last: Any = func.max(table.c.number)
    rows = select(table.c.site, last).where(table.c.number > beyond)
    with library.engine.connect() as connection:
        found = connection.execute(rows.group_by(table.c.site))
        return {row[0]: row[1] for row in found}
