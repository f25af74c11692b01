"""All sites as a list shows them: quick, without a text being read.

What a list says of a site is worked out from its text and kept beside it, under a key
that names everything it was worked out from.  It can be thrown away.
"""

from dataclasses import dataclass, field

from sqlalchemy import select
from sqlalchemy.dialects.sqlite import insert

from limen.store.database.connecting import writing
from limen.store.database.library import Library
from limen.store.database.tables import KNOWN, SITE, VERSION
from limen.words import collated


@dataclass(frozen=True, slots=True)
class Known:
    """What was worked out of a site once.

    Attributes:
        digest: SHA-256 of the text that it was worked out from.
        key: of everything else that it rests on.
        said: what it is, as whoever worked it out writes it.
    """

    digest: str
    key: str
    said: str


@dataclass(frozen=True, slots=True)
class Listed:
    """A site in a list, without its text.

    Attributes:
        id: what it is called in addresses.
        name: what people call it.
        version: how many texts it has had.
        digest: SHA-256 of its text.
        archived: whether it was put away.
        changed: when its text was kept, ISO 8601.
        known: what was worked out of it; None if nothing was.
    """

    id: str
    name: str
    version: int
    digest: str
    archived: bool
    changed: str
    known: Known | None = field(compare=False)


def listed(library: Library, site_id: str | None = None) -> tuple[Listed, ...]:
    """Every site by name, those put away among them; or one of them.

    Args:
        library: the sites.
        site_id: the only one that is asked for.
    """
    of_now = (VERSION.c.site == SITE.c.id) & (VERSION.c.number == SITE.c.version)
    rows = (
        select(
            SITE.c.id,
            SITE.c.name,
            SITE.c.version,
            VERSION.c.digest,
            SITE.c.archived,
            VERSION.c.changed,
            KNOWN.c.digest.label("of"),
            KNOWN.c.key,
            KNOWN.c.said,
        )
        # Each has one.  Joined from outside, the sites come first: else every text that
        # there ever was is looked at.
        .outerjoin(VERSION, of_now)
        .outerjoin(KNOWN, KNOWN.c.site == SITE.c.id)
    )
    if site_id is not None:
        rows = rows.where(SITE.c.id == site_id)
    with library.engine.connect() as connection:
        found = connection.execute(rows).all()
    every = (
        Listed(*row[:4], bool(row.archived), row.changed, _known(row.of, *row[7:]))
        for row in found
    )
    # The database knows no other letters than a to z.
    return tuple(sorted(every, key=lambda one: (collated(one.name), one.id)))


def know(library: Library, site_id: str, known: Known) -> None:
    """Keep what was worked out of a site, in place of what was known before.

    Raises:
        NotKeptError: the disk does not take it; nothing depends on it.
    """
    values = {"digest": known.digest, "key": known.key, "said": known.said}
    row = insert(KNOWN).values(site=site_id, **values)
    with writing(library.engine).begin() as connection:
        connection.execute(
            row.on_conflict_do_update(index_elements=["site"], set_=values)
        )


def _known(digest: str | None, key: str | None, said: str | None) -> Known | None:
    if digest is None or key is None or said is None:
        return None
    return Known(digest, key, said)
