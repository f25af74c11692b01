"""Several sites kept in one go: all of them, or none."""

from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy import Connection, insert, select, update

from limen.store.database.connecting import writing
from limen.store.database.library import Library, Text, origin_of, put_text
from limen.store.database.tables import SITE


@dataclass(frozen=True, slots=True)
class Wanted:
    """A site that is to be kept.

    Attributes:
        name: its name.
        text: its text.
        site: its id, if it is there already.
        version: the version that the text was made from.
    """

    name: str
    text: str
    site: str = ""
    version: int = 0


@dataclass(frozen=True, slots=True)
class KeptNow:
    """A site that was kept: its id, the version it has now, whether it is new."""

    site: str
    version: int
    new: bool


class ChangedMeanwhileError(Exception):
    """A site is not what the new text was made from; nothing at all was kept."""


def keep_several(library: Library, wanted: Sequence[Wanted]) -> tuple[KeptNow, ...]:
    """Keep new sites, and new texts of sites that are there, in one go.

    Args:
        library: where.
        wanted: the sites.

    Raises:
        ChangedMeanwhileError: one of them has changed since; nothing is kept.
        NotKeptError: the disk does not take it; nothing is kept.
    """
    with writing(library.engine).begin() as connection:
        return tuple(_keep(library, connection, one) for one in wanted)


def _keep(library: Library, connection: Connection, one: Wanted) -> KeptNow:
    if one.site:
        return _keep_more(library, connection, one)
    site = library.draw_id()
    values = {"id": site, "name": one.name, "version": 0, "archived": False}
    connection.execute(insert(SITE).values(values))
    put_text(connection, Text(site, one.name, one.text, "added", library.clock()))
    return KeptNow(site, 1, new=True)


def _keep_more(library: Library, connection: Connection, one: Wanted) -> KeptNow:
    now = connection.scalar(select(SITE.c.version).where(SITE.c.id == one.site))
    if now != one.version:
        raise ChangedMeanwhileError(one.name)
    parent = origin_of(connection, one.site, one.version)
    at = library.clock()
    put_text(connection, Text(one.site, one.name, one.text, "saved", at, parent))
    return KeptNow(one.site, one.version + 1, new=False)


def put_several_away(library: Library, kept: Sequence[KeptNow]) -> tuple[str, ...]:
    """Put new sites away again in one go; one that has changed since stays.

    Args:
        library: where.
        kept: as they were kept.

    Returns:
        Ids of those that stay.

    Raises:
        NotKeptError: the disk does not take it; nothing is changed.
    """
    stay: list[str] = []
    with writing(library.engine).begin() as connection:
        for one in kept:
            unchanged = (SITE.c.id == one.site) & (SITE.c.version == one.version)
            done = update(SITE).where(unchanged).values(archived=True)
            if connection.execute(done).rowcount == 0:
                stay.append(one.site)
    return tuple(stay)
