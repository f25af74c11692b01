"""Calendars of checks that are due: a file, files by person or route, a feed."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from hashlib import sha256
from importlib.metadata import version
from pathlib import Path
from typing import TYPE_CHECKING

from limen.desk.clock import now
from limen.desk.due import AllDue, By, DailyThere, DueThere, grouped
from limen.desk.library_sites import file_name
from limen.desk.refusal import Refusal, refusing
from limen.findings import Message
from limen.words import say
from limen.words.due import said_daily, said_entry, said_group

if TYPE_CHECKING:
    from limen.exchange.calendar import Entry

REMIND = 14
"""Days before the day at which a calendar file reminds of it."""
EVERY = timedelta(hours=6)
"""How often a feed is worth asking for again: days change slowly."""


@dataclass(frozen=True, slots=True)
class Shape:
    """How a calendar is made.

    Attributes:
        remind: days before the day at which it reminds; 0 for never.
        daily: whether the owner's daily check is in it.
    """

    remind: int = REMIND
    daily: bool = False


def calendar(told: AllDue, path: Path, shape: Shape = Shape()) -> Path:
    """Write what has a day as an iCalendar file, over the one that is there.

    Args:
        told: what is due.
        path: the file.
        shape: how it is made.

    Raises:
        Refusal: it cannot be written.
    """
    from limen.exchange.calendar import calendar_file

    made = now() if not told.chosen else _midnight(told.on)
    entries = [*_entries(told, shape, dict.fromkeys(_files(told), made))]
    data = calendar_file(entries, version=version("limen"), made=made)
    with refusing():
        path.write_bytes(data)
    return path


def calendars(
    told: AllDue, folder: Path, by: By, shape: Shape = Shape()
) -> tuple[Path, ...]:
    """Write a calendar for each person or each route into a folder.

    Args:
        told: what is due.
        folder: where; made if it is not there.
        by: person or route.
        shape: how they are made.

    Raises:
        Refusal: one cannot be written, or two names make one file name.
    """
    groups = grouped(told.every, by)
    named = {name: file_name(name or f"no-{by}") for name, _ in groups}
    if len(set(named.values())) < len(named):
        names = ", ".join(sorted(named))
        raise Refusal([say(Message("due.cli.twins", {"names": names}))])
    with refusing():
        folder.mkdir(parents=True, exist_ok=True)
    return tuple(
        calendar(_of(told, by, name), folder / f"{named[name]}.ics", shape)
        for name, _ in groups
    )


def feed(
    told: AllDue,
    changed: Mapping[str, datetime],
    *,
    name: str,
    shape: Shape,
    root: str,
) -> bytes:
    """What has a day as a calendar to subscribe to; the same text for the same days.

    Args:
        told: what is due at the sites of the desk.
        changed: by site when what is said of it was changed last.
        name: what it is called.
        shape: how it is made.
        root: address of the desk, to which entries lead back.
    """
    from limen.exchange.calendar import Feed, calendar_file

    entries = [*_entries(told, shape, changed, root)]
    about = Feed(name, EVERY)
    return calendar_file(entries, version=version("limen"), feed=about)


def _of(told: AllDue, by: By, name: str) -> AllDue:
    """Of all that is due what one person or route has."""
    from dataclasses import replace

    def mine(one: "DueThere | DailyThere") -> bool:
        held = one.due if isinstance(one, DueThere) else one
        return (held.person if by == "person" else held.route) == name

    every = tuple(one for one in told.every if mine(one))
    return replace(
        told, every=every, daily=tuple(one for one in told.daily if mine(one))
    )


def _files(told: AllDue) -> Iterator[str]:
    yield from (one.file for one in told.every)
    yield from (one.file for one in told.daily)


def _midnight(day: date) -> datetime:
    return datetime.combine(day, time.min, UTC)


def _entries(
    told: AllDue, shape: Shape, changed: Mapping[str, datetime], root: str = ""
) -> "Iterator[Entry]":
    for one in told.every:
        if one.due.day is not None:
            yield _entry(told, one, shape, changed[one.file], root)
    if shape.daily:
        for each in told.daily:
            yield _daily(told, each, changed[each.file], root)


def _entry(
    told: AllDue, one: DueThere, shape: Shape, changed: datetime, root: str
) -> "Entry":
    """What is overdue stands on today: nobody looks for it in the past."""
    from limen.exchange.calendar import Entry

    day = max(one.due.day or told.on, told.on)
    moves = one.due.state in ("at once", "overdue")
    ahead = shape.remind and day - timedelta(days=shape.remind) >= told.on
    return Entry(
        _key(one.site, one.file, one.due.doorway, kept=bool(root)),
        day,
        said_entry(one.site, one.due.name, one.due.state),
        "\n".join(_text(one)),
        one.place,
        max(changed, _midnight(told.on)) if moves else changed,
        f"{root}/sites/{one.file}/doorways/{one.due.doorway}" if root else "",
        timedelta(days=shape.remind) if ahead else None,
    )


def _text(one: DueThere) -> Iterator[str]:
    yield say(one.due.because)
    yield from (say(each) for each in one.due.beside)
    for name, value in (("person", one.due.person), ("route", one.due.route)):
        if value:
            yield said_group(name, value)


def _daily(told: AllDue, one: DailyThere, changed: datetime, root: str) -> "Entry":
    """From the first day of the year on, that old calendars are not filled with it."""
    from limen.exchange.calendar import Entry

    year = date(told.on.year, 1, 1)
    return Entry(
        _key(one.site, one.file, "\ndaily", kept=bool(root)),
        max(one.since or year, year),
        say(Message("due.daily.entry", {"site": one.site})),
        said_daily(one.doors, one.who),
        one.place,
        changed,
        f"{root}/sites/{one.file}" if root else "",
        daily=True,
    )


def _key(site: str, file: str, doorway: str, *, kept: bool) -> str:
    """What stays the same when the day moves; it gives nothing away.

    At the desk a site goes by its id: it may be given another name.
    """
    named: Iterable[str] = (file, doorway) if kept else (site, file, doorway)
    return sha256("\n".join(named).encode()).hexdigest()[:32]
