"""What visits come to at each doorway, kept beside what came in, to be quick."""

from collections.abc import Collection, Mapping
from dataclasses import asdict, dataclass

from sqlalchemy import Column, Table, func, select
from sqlalchemy.dialects.sqlite import insert as insert_over

from limen.store.database.connecting import writing
from limen.store.database.library import Library
from limen.store.database.tables import DOOR_MET, KEEPING_EVENT, VISIT_EVENT

Door = tuple[str, str]
"""Id of a site and of a doorway of it."""


@dataclass(frozen=True, slots=True)
class DoorMet:
    """What visits of a doorway, and what was said between them, come to.

    Attributes:
        visits: how many there are.
        visit: id of the last one.
        begun: when it began, as claimed, ISO 8601; empty if there is none.
        left_as: how it left the doorway; empty while that is not said.
        open: reports and follow-ups that are not done.
    """

    visits: int = 0
    visit: str | None = None
    begun: str = ""
    left_as: str = ""
    open: int = 0


@dataclass(frozen=True, slots=True)
class Upto:
    """How much had come in: numbers of the last event of visits, and between them."""

    visits: int = 0
    said: int = 0


@dataclass(frozen=True, slots=True)
class CameIn:
    """What has come in beyond what was worked out.

    Attributes:
        doors: the doorways that it is of.
        upto: how far it reaches.
        more: whether there is more beyond.
    """

    doors: frozenset[Door]
    upto: Upto
    more: bool


@dataclass(frozen=True, slots=True)
class Tapped:
    """An event of a visit, as far as it matters here.

    Attributes:
        visit: of which.
        text: all of it.
    """

    visit: str
    text: str


def came_in(library: Library, most: int) -> CameIn:
    """The doorways of which something came in that was not worked out yet.

    Args:
        library: where.
        most: events that are looked at, of each kind.
    """
    visits, more_visits, of_visits = _beyond(
        library, VISIT_EVENT, DOOR_MET.c.upto, most
    )
    said, more_said, of_said = _beyond(
        library, KEEPING_EVENT, DOOR_MET.c.upto_said, most
    )
    upto, more = Upto(visits, said), more_visits or more_said
    return CameIn(of_visits | of_said, upto, more)


def tapped_at(
    library: Library, door: Door, kinds: Collection[str]
) -> tuple[Tapped, ...]:
    """The events of some kinds of all visits of a doorway, and each visit's first."""
    at = (VISIT_EVENT.c.site == door[0]) & (VISIT_EVENT.c.doorway == door[1])
    first = select(func.min(VISIT_EVENT.c.number)).where(at)
    firsts = first.group_by(VISIT_EVENT.c.visit)
    wanted = VISIT_EVENT.c.kind.in_(kinds) | VISIT_EVENT.c.number.in_(firsts)
    rows = (
        select(VISIT_EVENT.c.visit, VISIT_EVENT.c.text)
        .where(at, wanted)
        .order_by(VISIT_EVENT.c.number)
    )
    with library.engine.connect() as connection:
        return tuple(Tapped(*row) for row in connection.execute(rows))


def put_met(library: Library, met: Mapping[Door, DoorMet], upto: Upto) -> None:
    """Keep what visits come to at doorways.

    Args:
        library: where.
        met: by doorway.
        upto: how much had come in when it was worked out.

    Raises:
        NotKeptError: the disk does not take it; nothing depends on it.
    """
    with writing(library.engine).begin() as connection:
        for (site, doorway), one in met.items():
            values = {**asdict(one), "upto": upto.visits, "upto_said": upto.said}
            row = insert_over(DOOR_MET).values(site=site, doorway=doorway, **values)
            connection.execute(
                row.on_conflict_do_update(["site", "doorway"], set_=values)
            )


def _beyond(
    library: Library, table: Table, done: "Column[int]", most: int
) -> tuple[int, bool, frozenset[Door]]:
    """Up to where it reaches, whether there is more, and the doorways it is of."""
    last = select(func.coalesce(func.max(done), 0)).scalar_subquery()
    rows = (
        select(table.c.number, table.c.site, table.c.doorway)
        .where(table.c.number > last)
        .order_by(table.c.number)
        .limit(most)
    )
    with library.engine.connect() as connection:
        found = connection.execute(rows).all()
        reached = connection.scalar(select(last)) or 0
    doors = frozenset((row.site, row.doorway) for row in found)
    return (found[-1].number if found else reached), len(found) == most, doors
