"""Which doors are due to be checked, over one site or many."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from importlib.metadata import version
from pathlib import Path
from typing import TYPE_CHECKING

from limen.desk.clock import today
from limen.desk.refusal import Refusal, refusing
from limen.words import say
from limen.words.due import said_entry

if TYPE_CHECKING:
    from limen.keep.due import Due


@dataclass(frozen=True, slots=True)
class DueThere:
    """A check that is due, and where.

    Attributes:
        site: the name of the site.
        place: where it is, in words.
        file: the name of its file.
        due: the doorway and its day.
    """

    site: str
    place: str
    file: str
    due: "Due"


@dataclass(frozen=True, slots=True)
class AllDue:
    """What is due on a day.

    Attributes:
        on: the day.
        every: the checks, soonest first.
        unasked: doorways whose rulebook asks for no check, by site and name.
    """

    on: date
    every: tuple[DueThere, ...]
    unasked: tuple[str, ...]


def due(
    paths: Sequence[Path], *, on: date | None = None, within: int | None = None
) -> AllDue:
    """What is due at the doorways of sites.

    Args:
        paths: the site files.
        on: the day for which it is asked; today if None.
        within: days; what has longer is left out, never what has no day.

    Raises:
        Refusal: every file that cannot be used, all of it together.
    """
    from limen.keep.due import urgency

    day, told = on or today(), list[str]()
    there, unasked = list[DueThere](), list[str]()
    for path in paths:
        try:
            found, without = _site(path, day)
        except Refusal as refusal:
            told += refusal.lines
            continue
        there += found
        unasked += without
    if told:
        raise Refusal(told)
    near = [one for one in there if within is None or (one.due.left or 0) <= within]
    near.sort(key=lambda one: urgency(one.due))
    return AllDue(day, tuple(near), tuple(unasked))


def _site(path: Path, on: date) -> tuple[list[DueThere], list[str]]:
    from limen.desk.shelves import DEFAULT, judging, shelf
    from limen.desk.sites import read
    from limen.keep.due import due_of

    site = read(path).site
    books = judging(site.doorway, shelf(), site.rulebook or DEFAULT, None)
    found, without = list[DueThere](), list[str]()
    for door, book in zip(site.doorway, books, strict=True):
        one = due_of(door, book, on, site)
        if one is None:
            without.append(f"{site.name}, {door.name}")
        else:
            found.append(DueThere(site.name, site.place, path.name, one))
    return found, without


def calendar(told: AllDue, path: Path) -> Path:
    """Write what has a day as an iCalendar file, over the one that is there.

    Raises:
        Refusal: it cannot be written.
    """
    from limen.exchange.calendar import Entry, calendar_file

    entries = [
        Entry(
            _key(one),
            max(one.due.day, told.on),
            said_entry(one.site, one.due.name),
            say(one.due.finding.because),
            one.place,
        )
        for one in told.every
        if one.due.day is not None
    ]
    data = calendar_file(entries, made=told.on, version=version("limen"))
    with refusing():
        path.write_bytes(data)
    return path


def _key(one: DueThere) -> str:
    """What stays the same when the day moves; it gives nothing away."""
    from hashlib import sha256

    named = "\n".join((one.site, one.file, one.due.doorway))
    return sha256(named.encode()).hexdigest()[:32]
