"""What lists say of each doorway, written: worked out elsewhere, kept to be quick."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import asdict, dataclass

from sqlalchemy import Connection, delete, insert, select, update
from sqlalchemy.dialects.sqlite import insert as insert_over

from limen.store.database.connecting import writing
from limen.store.database.library import Library
from limen.store.database.tables import (
    DOOR,
    DOOR_ANSWER,
    DOOR_SITE,
    SITE,
    VERSION,
)

UNSTUDIED: Mapping[str, object] = {
    "key": "",
    "studied": "",
    "judged": False,
    "mend": 0,
    "measure": 0,
    "office": 0,
    "due_must": False,
    "due_key": "",
    "due": "",
    "due_day": None,
}

_AT_ONCE = 1000
"""Sites that are named in one request to the database."""


@dataclass(frozen=True, slots=True)
class DoorText:
    """A doorway as a site's text has it.

    Attributes:
        doorway: its id.
        name: its name.
        place: where the site is.
        rulebook: which rulebook is asked for.
        person, route: who looks after it, on which route; empty where nobody said.
        by_name, by_site, by_place: by what these are put in order.
        sought: all words by which it is found, in small letters.
    """

    doorway: str
    name: str
    place: str
    rulebook: str
    person: str
    route: str
    by_name: str
    by_site: str
    by_place: str
    sought: str


@dataclass(frozen=True, slots=True)
class DoorStudied:
    """What a study comes to in a list.

    Attributes:
        digest: SHA-256 of the text of the site that was studied.
        key: of all else that it rests on, beside the day.
        studied: the day, ISO 8601.
        judged: whether there is a rulebook that judges it.
        mend, measure, office: counts of things to do, without the next check.
        due_must: whether the next check is a must.
        answers: by question ``fails`` (a must), ``not shown`` or ``advised``; what
            asks for nothing is left out.
    """

    digest: str
    key: str
    studied: str
    judged: bool
    mend: int
    measure: int
    office: int
    due_must: bool
    answers: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class SiteChecks:
    """The next checks at a site.

    Attributes:
        digest: SHA-256 of its text when they were worked out.
        checks: by doorway ``day``, ``at once`` or ``not known``, and the day by which
            it is to be checked, ISO 8601; of any other none is asked.
    """

    digest: str
    checks: Mapping[str, tuple[str, str | None]]


@dataclass(frozen=True, slots=True)
class StaleSite:
    """A site whose doorways are not in the list as its text has them now.

    Attributes:
        id: its id.
        name: its name.
        digest: SHA-256 of its text.
    """

    id: str
    name: str
    digest: str


@dataclass(frozen=True, slots=True)
class DoorsRead:
    """The doorways of a site, as they were read last.

    Attributes:
        digest: SHA-256 of the text that was read.
        place: where the site is.
        doors: id and name of each.
    """

    digest: str
    place: str
    doors: tuple[tuple[str, str], ...]


def put_doors(
    library: Library, site: str, digest: str, doors: Sequence[DoorText]
) -> None:
    """Keep the doorways of a site as its text has them; none is studied any more.

    Args:
        library: where.
        site: id of the site.
        digest: SHA-256 of its text.
        doors: every doorway of it.

    Raises:
        NotKeptError: the disk does not take it; nothing depends on it.
    """
    with writing(library.engine).begin() as connection:
        named = {one.doorway for one in doors}
        rows = select(DOOR.c.number, DOOR.c.doorway).where(DOOR.c.site == site)
        there = {row.doorway: row.number for row in connection.execute(rows)}
        _forget(connection, there.values())
        gone = [number for doorway, number in there.items() if doorway not in named]
        connection.execute(delete(DOOR).where(DOOR.c.number.in_(gone)))
        for one in doors:
            values = {**asdict(one), **UNSTUDIED}
            row = insert_over(DOOR).values(site=site, **values)
            connection.execute(
                row.on_conflict_do_update(["site", "doorway"], set_=values)
            )
        _site_read(connection, site, digest)


def put_unread(library: Library, site: str, digest: str, key: str) -> None:
    """Keep that the text of a site cannot be read, as long as nothing changes.

    Args:
        library: where.
        site: id of the site.
        digest: SHA-256 of its text.
        key: of all else that reading it rests on.

    Raises:
        NotKeptError: the disk does not take it; nothing depends on it.
    """
    with writing(library.engine).begin() as connection:
        numbers = connection.scalars(select(DOOR.c.number).where(DOOR.c.site == site))
        _forget(connection, numbers.all())
        connection.execute(delete(DOOR).where(DOOR.c.site == site))
        _site_read(connection, site, digest, key)


def put_studied(
    library: Library, studied: Mapping[tuple[str, str], DoorStudied]
) -> None:
    """Keep what studies came to; one of another text than is listed is left out.

    Args:
        library: where.
        studied: by id of site and doorway.

    Raises:
        NotKeptError: the disk does not take it; nothing depends on it.
    """
    with writing(library.engine).begin() as connection:
        for (site, doorway), one in studied.items():
            _put_studied(connection, site, doorway, one)


def put_checks(library: Library, key: str, sites: Mapping[str, SiteChecks]) -> None:
    """Keep when doorways are to be checked; of another text than is listed, nothing.

    Args:
        library: where.
        key: of all that it rests on beside texts, visits and reports.
        sites: by id.

    Raises:
        NotKeptError: the disk does not take it; nothing depends on it.
    """
    columns = (DOOR.c.site, DOOR_SITE.c.digest, DOOR.c.doorway, DOOR.c.number)
    said = (DOOR.c.due_key, DOOR.c.due, DOOR.c.due_day)
    rows = select(*columns, *said).join(DOOR_SITE, DOOR_SITE.c.site == DOOR.c.site)
    if len(sites) < _AT_ONCE:
        rows = rows.where(DOOR.c.site.in_(sites))
    with writing(library.engine).begin() as connection:
        for site, digest, doorway, number, *was in connection.execute(rows).all():
            one = sites.get(site)
            if one is None or digest != one.digest:
                continue
            told = (key, *one.checks.get(doorway, ("not asked", None)))
            if told != tuple(was):
                values = dict(zip(("due_key", "due", "due_day"), told, strict=True))
                there = DOOR.c.number == number
                connection.execute(update(DOOR).where(there).values(values))


def forget_checks(library: Library, sites: Sequence[str]) -> None:
    """Keep that it is not known any more when doorways are to be checked.

    Args:
        library: where.
        sites: ids.

    Raises:
        NotKeptError: the disk does not take it; it may be said again.
    """
    asked = {"due_key": "", "due": "", "due_day": None}
    with writing(library.engine).begin() as connection:
        for first in range(0, len(sites), _AT_ONCE):
            those = DOOR.c.site.in_(sites[first : first + _AT_ONCE])
            known = those & (DOOR.c.due_key != "")
            connection.execute(update(DOOR).where(known).values(asked))


def stale_sites(library: Library, key: str) -> tuple[StaleSite, ...]:
    """Sites whose text is another than that from which the list was made.

    Args:
        library: where.
        key: of all that reading a site rests on beside its text.
    """
    of_now = (VERSION.c.site == SITE.c.id) & (VERSION.c.number == SITE.c.version)
    listed = (DOOR_SITE.c.digest == VERSION.c.digest) & (
        ~DOOR_SITE.c.unread | (DOOR_SITE.c.key == key)
    )
    rows = (
        select(SITE.c.id, SITE.c.name, VERSION.c.digest)
        .join(VERSION, of_now)
        .outerjoin(DOOR_SITE, DOOR_SITE.c.site == SITE.c.id)
        .where(~SITE.c.archived, DOOR_SITE.c.site.is_(None) | ~listed)
        .order_by(SITE.c.id)
    )
    with library.engine.connect() as connection:
        return tuple(StaleSite(*row) for row in connection.execute(rows))


def doors_read(library: Library) -> Mapping[str, DoorsRead]:
    """By id of a site its doorways, as they were read last."""
    columns = (DOOR.c.site, DOOR_SITE.c.digest, DOOR.c.place, DOOR.c.doorway)
    rows = (
        select(*columns, DOOR.c.name)
        .join(DOOR_SITE, DOOR_SITE.c.site == DOOR.c.site)
        .order_by(DOOR.c.site, DOOR.c.number)
    )
    found: dict[str, DoorsRead] = {}
    with library.engine.connect() as connection:
        for site, digest, place, doorway, name in connection.execute(rows):
            before = found.get(site)
            doors = (*(before.doors if before else ()), (doorway, name))
            found[site] = DoorsRead(digest, place, doors)
    return found


def unread_sites(library: Library) -> tuple[tuple[str, str], ...]:
    """Id and name of each site whose text cannot be read."""
    rows = (
        select(SITE.c.id, SITE.c.name)
        .join(DOOR_SITE, DOOR_SITE.c.site == SITE.c.id)
        .where(~SITE.c.archived, DOOR_SITE.c.unread)
        .order_by(SITE.c.name, SITE.c.id)
    )
    with library.engine.connect() as connection:
        return tuple((row.id, row.name) for row in connection.execute(rows))


def unstudied(library: Library, key: str, day: str) -> tuple[tuple[str, str], ...]:
    """Id of site and doorway of each that was not studied on this day, site by site.

    Those of which nothing is known come before those known from an earlier day.

    Args:
        library: where.
        key: of all that findings rest on beside text and day.
        day: ISO 8601.
    """
    known = DOOR.c.key == key
    rows = (
        select(DOOR.c.site, DOOR.c.doorway)
        .join(SITE, SITE.c.id == DOOR.c.site)
        .where(~SITE.c.archived, ~(known & (DOOR.c.studied == day)))
        .order_by(known, DOOR.c.by_site, DOOR.c.site, DOOR.c.number)
    )
    with library.engine.connect() as connection:
        return tuple((row.site, row.doorway) for row in connection.execute(rows))


def _put_studied(
    connection: Connection, site: str, doorway: str, one: DoorStudied
) -> None:
    same = (DOOR_SITE.c.site == DOOR.c.site) & (DOOR_SITE.c.digest == one.digest)
    rows = select(DOOR.c.number).join(DOOR_SITE, same)
    there = (DOOR.c.site == site) & (DOOR.c.doorway == doorway)
    number = connection.scalar(rows.where(there))
    if number is None:
        return
    values = asdict(one)
    answers, _ = values.pop("answers"), values.pop("digest")
    connection.execute(update(DOOR).where(DOOR.c.number == number).values(values))
    _forget(connection, [number])
    if answers:
        made = [
            {"question": question, "verdict": verdict, "door": number}
            for question, verdict in answers.items()
        ]
        connection.execute(insert(DOOR_ANSWER), made)


def _forget(connection: Connection, numbers: Iterable[int]) -> None:
    """Take away the answers of doorways."""
    those = DOOR_ANSWER.c.door.in_(list(numbers))
    connection.execute(delete(DOOR_ANSWER).where(those))


def _site_read(
    connection: Connection, site: str, digest: str, unread: str | None = None
) -> None:
    values = {"digest": digest, "key": unread or "", "unread": unread is not None}
    row = insert_over(DOOR_SITE).values(site=site, **values)
    connection.execute(row.on_conflict_do_update(["site"], set_=values))
