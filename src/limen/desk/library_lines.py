"""Sites of a library as lines of a list: what is to be done at each."""

from collections.abc import Mapping
from dataclasses import dataclass

from limen.desk.library import Desk, Opened, known_study, open_site, study_of
from limen.desk.library_known import (
    DoorLine,
    Remembered,
    basis,
    remember,
    remembered,
)
from limen.desk.refusal import Refusal
from limen.exchange import Tally, tally, together
from limen.findings import Study
from limen.store.database import Listed, NoSuchSiteError, listed
from limen.store.database.doors import DoorsRead, doors_read
from limen.store.faults import Fault, FileFaults

__all__ = ["DoorLine", "Listed", "SiteLine", "glanced", "overview", "tallied"]

MOST_READ = 20
"""Texts that one look at the list reads; the others say what is known of them."""


@dataclass(frozen=True, slots=True)
class SiteLine:
    """A site in a list.

    Attributes:
        stored: the site as it is kept, without its text.
        place: where it is, in its own words.
        doors: its doorways; none where its text cannot be read, or was not yet.
        tally: of all its doorways together; None while one of them is not known.
        faults: why its text cannot be read.
    """

    stored: Listed
    place: str = ""
    doors: tuple[DoorLine, ...] = ()
    tally: Tally | None = None
    faults: tuple[Fault, ...] = ()


def overview(desk: Desk) -> tuple[SiteLine, ...]:
    """Every site with what is known of it; nothing is studied for it.

    What was studied before has its tally, also after the server was started anew,
    until the text, a sheet, the day or limen itself changes.
    """
    rests_on, left = basis(desk), MOST_READ
    every = [(one, remembered(desk, one, rests_on)) for one in listed(desk.library)]
    new = any(known is None for _, known in every)
    read: Mapping[str, DoorsRead] = doors_read(desk.library) if new else {}
    lines: list[SiteLine] = []
    for one, known in every:
        told = known or _as_read(one, read)
        if told is None and left:
            left -= 1
            lines.append(_read(desk, one, rests_on, ask=False))
        else:
            lines.append(_line(one, told))
    return tuple(lines)


def _as_read(one: Listed, read: Mapping[str, DoorsRead]) -> Remembered | None:
    """What is known of a site whose text was read for the list of doorways."""
    found = read.get(one.id)
    if found is None or found.digest != one.digest:
        return None
    doors = tuple(DoorLine(door, name) for door, name in found.doors)
    return Remembered(found.place, doors, None)


def tallied(desk: Desk, site_id: str) -> SiteLine:
    """One site with all its doorways studied.

    Raises:
        NoSuchSiteError: there is none.
    """
    return _line_of(desk, site_id, ask=True)


def glanced(desk: Desk, site_id: str) -> SiteLine:
    """One site with what is known of it, as in `overview`.

    Raises:
        NoSuchSiteError: there is none.
    """
    return _line_of(desk, site_id, ask=False)


def _line_of(desk: Desk, site_id: str, *, ask: bool) -> SiteLine:
    """What is remembered of a site; else read, and studied if asked to."""
    one, rests_on = _listed(desk, site_id), basis(desk)
    known = remembered(desk, one, rests_on)
    if known and known.tally:
        return _line(one, known)
    return _read(desk, one, rests_on, ask=ask)


def _listed(desk: Desk, site_id: str) -> Listed:
    found = listed(desk.library, site_id)
    if not found:
        raise NoSuchSiteError(site_id)
    return found[0]


def _line(one: Listed, known: Remembered | None) -> SiteLine:
    if known is None:
        return SiteLine(one)
    return SiteLine(one, known.place, known.doors, known.tally)


def _read(desk: Desk, one: Listed, rests_on: str, *, ask: bool) -> SiteLine:
    """A site whose text is read, and its doorways studied if that is asked for."""
    try:
        opened = open_site(desk, one.id)
    except FileFaults as faults:
        return SiteLine(one, faults=faults.faults)
    asked = [_asked(desk, opened, door.id, ask=ask) for door in opened.site.doorway]
    doors = tuple(
        _door(door.id, door.name, found)
        for door, found in zip(opened.site.doorway, asked, strict=True)
    )
    studies = [found for found in asked if isinstance(found, Study)]
    whole = None if None in asked else together(studies)
    known = Remembered(opened.site.place, doors, whole)
    remember(desk, one, opened.stored.digest, rests_on, known)
    return _line(one, known)


def _asked(desk: Desk, opened: Opened, door: str, *, ask: bool) -> Study | str | None:
    """The findings of a doorway, None if not yet known, or why there are none."""
    look = study_of if ask else known_study
    try:
        return look(desk, opened, door)
    except Refusal as refusal:
        return " ".join(refusal.lines)


def _door(door: str, name: str, found: Study | str | None) -> DoorLine:
    if isinstance(found, Study):
        return DoorLine(door, name, tally(found.findings))
    return DoorLine(door, name, refused=found or "")
