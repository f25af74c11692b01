"""What is said of doors between visits: events, added and never changed."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Row, insert, select

from limen.store.database.connecting import writing
from limen.store.database.library import Library
from limen.store.database.tables import KEEPING_EVENT


@dataclass(frozen=True, slots=True)
class KeepingRow:
    """One event as it is kept.

    Attributes:
        number: its place in the order in which events came in.
        id: its own id.
        about: id of what it is said of.
        site, doorway: where.
        kind: what kind of event it is.
        text: what it says, as JSON.
        came: when it came in, ISO 8601.
    """

    number: int
    id: str
    about: str
    site: str
    doorway: str
    kind: str
    text: str
    came: str


def keep_event(
    library: Library,
    *,
    about: str,
    site: str,
    doorway: str,
    kind: str,
    text: str,
    id: str | None = None,  # noqa: A002 - what it is called everywhere
) -> KeepingRow:
    """Keep an event; one whose id is there already is left as it is.

    Args:
        library: where; the site is in it.
        about: id of what it is said of.
        site: id of the site.
        doorway: id of the doorway.
        kind: what kind of event it is.
        text: what it says, as JSON.
        id: its own id, where it has one from elsewhere.

    Returns:
        The event as it is kept.

    Raises:
        NotKeptError: the disk does not take it.
    """
    named = id or library.draw_id()
    with writing(library.engine).begin() as connection:
        there = select(KEEPING_EVENT).where(KEEPING_EVENT.c.id == named)
        found = connection.execute(there).one_or_none()
        if found is None:
            row = {
                "id": named,
                "about": about,
                "site": site,
                "doorway": doorway,
                "kind": kind,
                "text": text,
                "came": library.clock().isoformat(timespec="seconds"),
            }
            connection.execute(insert(KEEPING_EVENT).values(row))
            found = connection.execute(there).one()
    return _row(found)


def events_about(library: Library, about: str) -> tuple[KeepingRow, ...]:
    """What was said of one thing, in the order in which it came in."""
    return _read(library, KEEPING_EVENT.c.about == about)


def events_at(
    library: Library,
    site: str | None = None,
    doorway: str | None = None,
    kinds: Sequence[str] | None = None,
) -> tuple[KeepingRow, ...]:
    """What was said of the doorways of a site, or of all sites, in order.

    Args:
        library: where.
        site: only of this site.
        doorway: only of this doorway of it.
        kinds: only events of these kinds.
    """
    wanted: list[Any] = []
    if site is not None:
        wanted.append(KEEPING_EVENT.c.site == site)
    if doorway is not None:
        wanted.append(KEEPING_EVENT.c.doorway == doorway)
    if kinds is not None:
        wanted.append(KEEPING_EVENT.c.kind.in_(kinds))
    return _read(library, *wanted)


def _read(library: Library, *wanted: Any) -> tuple[KeepingRow, ...]:  # noqa: ANN401 - clauses of SQLAlchemy's own
    rows = select(KEEPING_EVENT).where(*wanted).order_by(KEEPING_EVENT.c.number)
    with library.engine.connect() as connection:
        return tuple(_row(one) for one in connection.execute(rows))


def _row(row: "Row[Any]") -> KeepingRow:
    return KeepingRow(
        number=row.number,
        id=row.id,
        about=row.about,
        site=row.site,
        doorway=row.doorway,
        kind=row.kind,
        text=row.text,
        came=row.came,
    )
