"""Sealed records, byte for byte, one a visit."""

from dataclasses import asdict, dataclass
from typing import Any

from sqlalchemy import ColumnElement, Row, func, insert, or_, select, update

from limen.store.database.connecting import writing
from limen.store.database.library import Library
from limen.store.database.tables import RECORD


@dataclass(frozen=True, slots=True)
class KeptRecord:
    """A sealed record as it is kept.

    Attributes:
        digest: SHA-256 of the sealed bytes.
        number: counts up at each site, from 1.
        visit: of which visit; None if it is of the doorway on a day.
        site, doorway: of what.
        sealed: its bytes.
        upto: number of the last event of the visit that is in it.
        kept: when, ISO 8601.
        paper: its PDF, sealed too; None if there is none.
    """

    digest: str
    number: int
    visit: str | None
    site: str
    doorway: str
    sealed: bytes
    upto: int
    kept: str
    paper: bytes | None = None


def keep_record(
    library: Library,
    site: str,
    doorway: str,
    *,
    digest: str,
    sealed: bytes,
    upto: int = 0,
    visit: str | None = None,
    paper: bytes | None = None,
) -> KeptRecord:
    """Keep a record, unless its visit has one, or it is there already.

    Args:
        library: where; the site is in it.
        site: id of the site.
        doorway: id of the doorway.
        digest: SHA-256 of the sealed bytes.
        sealed: the bytes.
        upto: number of the last event of the visit that is in it.
        visit: of which visit, if it is of one.
        paper: its PDF.

    Returns:
        The record that is kept: another one, where the visit had one before.

    Raises:
        NotKeptError: the disk does not take it.
    """
    there = RECORD.c.digest == digest
    if visit is not None:
        there = or_(there, RECORD.c.visit == visit)
    with writing(library.engine).begin() as connection:
        found = connection.execute(select(RECORD).where(there)).first()
        if found is not None:
            return _kept(found)
        of_site = RECORD.c.site == site
        last = connection.scalar(select(func.max(RECORD.c.number)).where(of_site))
        made = KeptRecord(
            digest=digest,
            number=(last or 0) + 1,
            visit=visit,
            site=site,
            doorway=doorway,
            sealed=sealed,
            upto=upto,
            kept=library.clock().isoformat(timespec="seconds"),
            paper=paper,
        )
        connection.execute(insert(RECORD).values(asdict(made)))
        return made


def add_paper(library: Library, digest: str, paper: bytes) -> None:
    """Keep the PDF of a record; one that is there stays as it is."""
    there = (RECORD.c.digest == digest) & RECORD.c.paper.is_(None)
    with writing(library.engine).begin() as connection:
        connection.execute(update(RECORD).where(there).values(paper=paper))


def record_of(library: Library, visit: str) -> KeptRecord | None:
    """The record of a visit, if it has one."""
    return next(iter(_found(library, RECORD.c.visit == visit)), None)


def record_named(library: Library, digest: str) -> KeptRecord | None:
    """The record of this digest, if there is one."""
    return next(iter(_found(library, RECORD.c.digest == digest)), None)


def records_at(
    library: Library, site: str, doorway: str | None = None
) -> tuple[KeptRecord, ...]:
    """The records of a doorway, or of a whole site, the last first."""
    there = RECORD.c.site == site
    if doorway is not None:
        there &= RECORD.c.doorway == doorway
    return _found(library, there)


def _found(library: Library, there: ColumnElement[bool]) -> tuple[KeptRecord, ...]:
    rows = select(RECORD).where(there).order_by(RECORD.c.number.desc())
    with library.engine.connect() as connection:
        return tuple(_kept(row) for row in connection.execute(rows))


def _kept(row: "Row[Any]") -> KeptRecord:
    return KeptRecord(
        digest=row.digest,
        number=row.number,
        visit=row.visit,
        site=row.site,
        doorway=row.doorway,
        sealed=row.sealed,
        upto=row.upto,
        kept=row.kept,
        paper=row.paper,
    )
