"""Sites of a library as lines of a list: what is to be done at each.

When checks are due is counted from all that is kept of a site, all else from its text.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from limen.desk.due_kept import due_at, due_remembered_at
from limen.desk.due_memory import SiteDue
from limen.desk.library import Desk, Opened, known_study, open_site, study_of
from limen.desk.library_known import (
    DoorLine,
    Remembered,
    basis,
    lasting_basis,
    remember,
    remembered,
)
from limen.desk.refusal import Refusal
from limen.desk.studied import without_check
from limen.exchange import Tally, tally, together
from limen.exchange.tally import DUE, MUST
from limen.findings import Study
from limen.store.database import Listed, NoSuchSiteError, listed
from limen.store.database.doors import DoorsRead, doors_read
from limen.store.database.doors_asked import Now
from limen.store.database.doors_due import SiteLate, checks_at_sites
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
    checks = checks_at_sites(
        desk.library, Now(lasting_basis(desk), desk.day().isoformat())
    )
    lines: list[SiteLine] = []
    for one, known in every:
        told = known or _as_read(one, read)
        if told is None and left:
            left -= 1
            lines.append(_read(desk, one, rests_on, ask=False))
        elif told is not None and told.tally is not None and one.id in checks:
            line = _line(one, told, None)
            lines.append(replace(line, tally=_counted(told.tally, checks[one.id])))
        else:
            wanted = told is not None and told.tally is not None
            lines.append(
                _line(one, told, due_remembered_at(desk, one) if wanted else None)
            )
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
        return _line(one, known, due_at(desk, site_id))
    return _read(desk, one, rests_on, ask=ask)


def _listed(desk: Desk, site_id: str) -> Listed:
    found = listed(desk.library, site_id)
    if not found:
        raise NoSuchSiteError(site_id)
    return found[0]


def _line(one: Listed, known: Remembered | None, due: SiteDue | None) -> SiteLine:
    if known is None:
        return SiteLine(one)
    if due is None:
        return SiteLine(one, known.place, known.doors, known.tally)
    states = {each.doorway: each.state for each in due.every}
    late = {door.id: _late(states.get(door.id), door) for door in known.doors}
    doors = tuple(
        replace(door, tally=_counted(door.tally, late[door.id])) for door in known.doors
    )
    every = SiteLate(
        sum(each.late for each in late.values()),
        sum(each.musts for each in late.values()),
        sum(each.unknown for each in late.values()),
    )
    return SiteLine(one, known.place, doors, _counted(known.tally, every))


def _late(state: str | None, door: DoorLine) -> SiteLate:
    late = state in ("at once", "overdue")
    return SiteLate(int(late), int(late and door.must), int(state == "not known"))


def _counted(known: Tally | None, late: SiteLate) -> Tally | None:
    """Counts of a text with its checks, those overdue by their weight."""
    if known is None:
        return None
    return Tally(
        known.mend + late.musts,
        known.measure,
        known.office + late.unknown,
        known.advised + late.late - late.musts,
        late.late,
    )


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
    studies = [_without(found) for found in asked if isinstance(found, Study)]
    whole = None if None in asked else together(studies)
    known = Remembered(opened.site.place, doors, whole)
    remember(desk, one, opened.stored.digest, rests_on, known)
    return _line(one, known, due_at(desk, one.id))


def _without(found: Study) -> Study:
    return replace(found, findings=tuple(without_check(found.findings)))


def _asked(desk: Desk, opened: Opened, door: str, *, ask: bool) -> Study | str | None:
    """The findings of a doorway, None if not yet known, or why there are none."""
    look = study_of if ask else known_study
    try:
        return look(desk, opened, door)
    except Refusal as refusal:
        return " ".join(refusal.lines)


def _door(door: str, name: str, found: Study | str | None) -> DoorLine:
    if isinstance(found, Study):
        checks = (one for one in found.findings if one.question == DUE)
        must = any(one.weight == MUST for one in checks)
        return DoorLine(door, name, tally(without_check(found.findings)), must=must)
    return DoorLine(door, name, refused=found or "")
