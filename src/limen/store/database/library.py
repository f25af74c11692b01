"""The library: sites with all their texts, in one database file."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, Row, func, insert, select, update

from limen.store.database.connecting import connect, writing
from limen.store.database.migrating import migrate
from limen.store.database.stored import (
    Clash,
    NoSuchSiteError,
    NothingToUndoError,
    Stored,
    Version,
)
from limen.store.database.tables import SITE, VERSION
from limen.store.editing import digest
from limen.words import collated


def open_library(
    path: Path, clock: Callable[[], datetime], draw_id: Callable[[], str]
) -> "Library":
    """Open a database file, made and brought to the newest form if need be.

    Args:
        path: the file.
        clock: what time it is; every version says when it was kept.
        draw_id: gives an id that no other site has.

    Raises:
        OSError: the file cannot be made or read.
        NewerDatabaseError: a newer limen has written it.
    """
    engine = connect(path)
    migrate(engine, path)
    return Library(engine, clock, draw_id)


@dataclass(frozen=True, slots=True)
class Library:
    """All sites.  What a method returns is on the disk.

    Attributes:
        engine: connections to the database.
        clock: what time it is.
        draw_id: gives an id that no other site has.
    """

    engine: Engine
    clock: Callable[[], datetime]
    draw_id: Callable[[], str]

    def sites(self) -> tuple[Stored, ...]:
        """Every site by name, those put away among them."""
        with self.engine.connect() as connection:
            ids = connection.scalars(select(SITE.c.id)).all()
            every = [_read(connection, one) for one in ids]
        # The database knows no other letters than a to z.
        return tuple(sorted(every, key=lambda one: (collated(one.name), one.id)))

    def add(self, name: str, text: str) -> Stored:
        """Keep a new site."""
        site_id = self.draw_id()
        with self._write() as connection:
            values = {"id": site_id, "name": name, "version": 0, "archived": False}
            connection.execute(insert(SITE).values(values))
            self._put(connection, site_id, name, text, "added", parent=None)
            return _read(connection, site_id)

    def read(self, site_id: str) -> Stored:
        """One site.

        Raises:
            NoSuchSiteError: there is none.
        """
        with self.engine.connect() as connection:
            return _read(connection, site_id)

    def save(
        self, site_id: str, text: str, base_version: int, name: str | None = None
    ) -> Stored | Clash:
        """Keep a new text, unless somebody else has kept one since.

        The same text again makes no new version.

        Args:
            site_id: the site.
            text: its new text.
            base_version: the version that the text was made from.
            name: its new name, if that has changed.

        Raises:
            NoSuchSiteError: there is no such site.
        """
        with self._write() as connection:
            now = _read(connection, site_id)
            if text == now.text:
                return now
            if base_version != now.version:
                return Clash(text, base_version, now)
            parent = _row(connection, site_id, now.version).origin
            self._put(connection, site_id, name or now.name, text, "saved", parent)
            return _read(connection, site_id)

    def undo(self, site_id: str, base_version: int) -> Stored | Clash:
        """Bring the text before this one back, as a new version.

        Raises:
            NoSuchSiteError: there is no such site.
            NothingToUndoError: it is the first text.
        """
        return self._step(site_id, base_version, "undone", _before)

    def redo(self, site_id: str, base_version: int) -> Stored | Clash:
        """Bring the newest text that came after this one back, as a new version.

        Raises:
            NoSuchSiteError: there is no such site.
            NothingToUndoError: nothing was undone.
        """
        return self._step(site_id, base_version, "redone", _after)

    def put_away(self, site_id: str, *, archived: bool) -> Stored:
        """Put a site away, or take it out again; nothing of it is lost.

        Raises:
            NoSuchSiteError: there is no such site.
        """
        with self._write() as connection:
            there = SITE.c.id == site_id
            connection.execute(update(SITE).where(there).values(archived=archived))
            return _read(connection, site_id)

    def history(self, site_id: str) -> tuple[Version, ...]:
        """Every version of a site, the newest first.

        Raises:
            NoSuchSiteError: there is no such site.
        """
        columns = (VERSION.c.number, VERSION.c.why, VERSION.c.changed, VERSION.c.digest)
        rows = select(*columns).where(VERSION.c.site == site_id)
        with self.engine.connect() as connection:
            found = connection.execute(rows.order_by(VERSION.c.number.desc())).all()
        if not found:
            raise NoSuchSiteError(site_id)
        return tuple(Version(*one) for one in found)

    def text(self, site_id: str, number: int) -> str:
        """The text of one version.

        Raises:
            NoSuchSiteError: there is no such site or version.
        """
        with self.engine.connect() as connection:
            return _row(connection, site_id, number).text

    def close(self) -> None:
        """Let go of the file."""
        self.engine.dispose()

    def _write(self) -> Any:  # noqa: ANN401 - a context manager of SQLAlchemy's own
        return writing(self.engine).begin()

    def _put(
        self,
        connection: Connection,
        site_id: str,
        name: str,
        text: str,
        why: str,
        parent: int | None,
        origin: int | None = None,
    ) -> None:
        """Add a version and make it the one that counts."""
        put_text(
            connection,
            Text(site_id, name, text, why, self.clock(), parent, origin),
        )

    def _step(
        self,
        site_id: str,
        base_version: int,
        why: str,
        way: "Callable[[Connection, str, Row[Any]], int | None]",
    ) -> Stored | Clash:
        with self._write() as connection:
            now = _read(connection, site_id)
            if base_version != now.version:
                return Clash(now.text, base_version, now)
            wanted = way(connection, site_id, _row(connection, site_id, now.version))
            if wanted is None:
                raise NothingToUndoError(f"there is nothing to be {why}")
            old = _row(connection, site_id, wanted)
            self._put(
                connection, site_id, old.name, old.text, why, old.parent, old.origin
            )
            return _read(connection, site_id)


@dataclass(frozen=True, slots=True)
class Text:
    """A version as it is written down: of which site, why, when, made from which."""

    site: str
    name: str
    text: str
    why: str
    at: datetime
    parent: int | None = None
    origin: int | None = None


def put_text(connection: Connection, one: Text) -> None:
    """Add a version of a site that is there, and make it the one that counts."""
    there = SITE.c.id == one.site
    number = 1 + (connection.scalar(select(SITE.c.version).where(there)) or 0)
    values = {
        "site": one.site,
        "number": number,
        "name": one.name,
        "text": one.text,
        "digest": digest(one.text),
        "why": one.why,
        "changed": one.at.isoformat(timespec="seconds"),
        "origin": one.origin or number,
        "parent": one.parent,
    }
    connection.execute(insert(VERSION).values(values))
    now = {"name": one.name, "version": number}
    connection.execute(update(SITE).where(there).values(now))


def origin_of(connection: Connection, site_id: str, version: int) -> int:
    """From which text a version was made, to step back to it.

    Raises:
        NoSuchSiteError: there is no such site or version.
    """
    return int(_row(connection, site_id, version).origin)


def _read(connection: Connection, site_id: str) -> Stored:
    site = connection.execute(select(SITE).where(SITE.c.id == site_id)).one_or_none()
    if site is None:
        raise NoSuchSiteError(site_id)
    row = _row(connection, site_id, site.version)
    return Stored(
        id=site.id,
        name=site.name,
        text=row.text,
        version=site.version,
        digest=row.digest,
        archived=bool(site.archived),
        changed=row.changed,
        can_undo=_before(connection, site_id, row) is not None,
        can_redo=_after(connection, site_id, row) is not None,
    )


def _row(connection: Connection, site_id: str, number: int) -> "Row[Any]":
    which = (VERSION.c.site == site_id) & (VERSION.c.number == number)
    row = connection.execute(select(VERSION).where(which)).one_or_none()
    if row is None:
        raise NoSuchSiteError(site_id)
    return row


def _before(_connection: Connection, _site_id: str, row: "Row[Any]") -> int | None:
    """The text that this one was made from."""
    return row.parent


def _after(connection: Connection, site_id: str, row: "Row[Any]") -> int | None:
    """The newest text that was made from this one."""
    made_from = (VERSION.c.site == site_id) & (VERSION.c.parent == row.origin)
    return connection.scalar(select(func.max(VERSION.c.origin)).where(made_from))
