"""The list of doorways kept fresh: sites read, studies written, visits added up.

None of it is done because somebody looked.  It is done after something was changed,
when the desk is closed, and by the work that a person begins, `limen.desk.doors_work`.
"""

import json
from collections.abc import Iterable
from contextlib import suppress
from itertools import groupby
from time import monotonic
from typing import TYPE_CHECKING

from limen.desk.due_kept import due_at, due_kept
from limen.desk.due_memory import SiteDue
from limen.desk.library import Desk, Opened, open_site
from limen.desk.library_known import lasting_basis, note_down
from limen.desk.visits_intake import read_event
from limen.model.visited import visited
from limen.store.database import NoSuchSiteError, NotKeptError
from limen.store.database.doors import (
    DoorText,
    SiteChecks,
    StaleSite,
    forget_checks,
    put_checks,
    put_doors,
    put_studied,
    put_unread,
    stale_sites,
)
from limen.store.database.doors_met import (
    Door,
    DoorMet,
    Tapped,
    came_in,
    put_met,
    tapped_at,
)
from limen.store.database.keeping import KeepingRow, events_at
from limen.store.faults import FileFaults
from limen.words import collated

if TYPE_CHECKING:
    from limen.model.doorway import Doorway

A_WHILE = 1.0
"""Seconds that are spent on the list after a change; the rest is left to be begun."""
A_BATCH = 2000
"""Events that are looked at together after a change."""
SOME = 60
"""Texts that are read after a change to know what is due."""
ALL = 10**9
"""Events that are looked at together where there is time: each doorway once."""
KINDS = ("started", "handed_over", "undone", "settled")
"""Events of a visit by which it is known when it began and how it left the door."""
OPENS = frozenset({"reported", "owed"})
CLOSES = frozenset({"mended", "called_off", "report_settled"})


def refresh(desk: Desk, seconds: float = A_WHILE, batch: int = A_BATCH) -> bool:
    """Bring the list up to what is kept, as far as a while allows.

    Args:
        desk: the desk.
        seconds: how long; what is not done then is done the next time.
        batch: events that are looked at together.

    Returns:
        Whether all was done.
    """
    end = monotonic() + seconds
    with suppress(NotKeptError):
        write_studied(desk)
        stale = stale_sites(desk.library, lasting_basis(desk))
        done = _read_stale(desk, end, stale) and _add_up(desk, end, batch)
        return write_checks(desk, SOME if batch < ALL else None, seconds) and done
    return False


def write_all(desk: Desk) -> None:
    """Write everything that waits in memory: of sites, and of their doorways."""
    note_down(desk)
    refresh(desk)


def write_studied(desk: Desk) -> None:
    """Write what studies came to.

    Raises:
        NotKeptError: the disk does not take it; it waits on.
    """
    waiting = dict(desk.studied.waiting)
    if not waiting:
        return
    put_studied(desk.library, waiting)
    for door, one in waiting.items():
        if desk.studied.waiting.get(door) is one:
            del desk.studied.waiting[door]


def write_checks(desk: Desk, most: int | None, seconds: float | None = None) -> bool:
    """Write when doorways are to be checked, as the list of what is due has it.

    Of a site that could not be read for it in that time no day is listed any more:
    what was said of it may not hold now.

    Args:
        desk: the desk.
        most: texts that may be read for it; all if None.
        seconds: for how long texts are read; however long if None.

    Returns:
        Whether it was done for all sites.

    Raises:
        NotKeptError: the disk does not take it; it is written the next time.
    """
    kept = due_kept(desk, most_read=most, seconds=seconds)
    _put_checks(desk, desk.dues.sites.keys() - set(kept.skipped))
    if kept.skipped:
        forget_checks(desk.library, kept.skipped)
        for site in kept.skipped:
            desk.studied.checks.pop(site, None)
    return not kept.skipped


def read_stale(desk: Desk, one: StaleSite, key: str) -> None:
    """Put the doorways of a site into the list, as its text has them now.

    Args:
        desk: the desk.
        one: the site.
        key: of all that reading it rests on beside its text.

    Raises:
        NotKeptError: the disk does not take it.
    """
    try:
        opened = open_site(desk, one.id)
    except FileFaults:
        put_unread(desk.library, one.id, one.digest, key)
        return
    except NoSuchSiteError:
        return
    doors = [_door(opened, door) for door in opened.site.doorway]
    put_doors(desk.library, one.id, opened.stored.digest, doors)
    for door in doors:
        desk.studied.seen.pop((one.id, door.doorway), None)
    with suppress(NoSuchSiteError):
        due_at(desk, one.id)
        desk.studied.checks.pop(one.id, None)
        _put_checks(desk, [one.id])


def met_at(desk: Desk, door: Door) -> DoorMet:
    """What the visits of a doorway, and what was said between them, come to."""
    told = sorted(tapped_at(desk.library, door, KINDS), key=lambda one: one.visit)
    found = [
        (*_visited(list(events)), visit)
        for visit, events in groupby(told, key=lambda one: one.visit)
    ]
    said = events_at(desk.library, *door, kinds=(*OPENS, *CLOSES, "undone"))
    begun, left, visit = max(found, default=("", "", None))
    return DoorMet(len(found), visit, begun, left, _open(said))


def _door(opened: Opened, door: "Doorway") -> DoorText:
    """A doorway as its text has it, with all words by which it is found."""
    site, name = opened.site, opened.stored.name
    charge = site.charge_of(door)
    person, route = charge.by or "", charge.route or ""
    words = (door.name, door.id, name, site.place, person, route)
    return DoorText(
        doorway=door.id,
        name=door.name,
        place=site.place,
        rulebook=site.rulebook or "",
        person=person,
        route=route,
        by_name=collated(door.name)[0],
        by_site=collated(name)[0],
        by_place=collated(site.place)[0],
        sought="\n".join(words).casefold(),
    )


def _put_checks(desk: Desk, sites: Iterable[str]) -> None:
    """Write the checks of sites as they were worked out, where they are not written."""
    key, written = lasting_basis(desk), desk.studied.checks
    fresh: dict[str, SiteChecks] = {}
    made: dict[str, SiteDue] = {}
    for site in sites:
        (digest, basis, _), one = desk.dues.sites[site]
        if basis == key and written.get(site) is not one:
            fresh[site], made[site] = _checks(digest, one), one
    if fresh:
        put_checks(desk.library, key, fresh)
    written |= made


def _checks(digest: str, made: SiteDue) -> SiteChecks:
    """The next check of each doorway of a site; where nothing judges it, not known."""
    told: dict[str, tuple[str, str | None]] = {
        doorway: ("not known", None) for doorway, _ in made.unjudged
    }
    for one in made.every:
        dated = one.state in ("overdue", "in time") and one.day is not None
        day = one.day.isoformat() if one.day and dated else None
        told[one.doorway] = ("day" if dated else one.state, day)
    return SiteChecks(digest, told)


def _visited(events: list[Tapped]) -> tuple[str, str]:
    """When a visit began, and how it left the doorway."""
    found = visited(read_event(one.text) for one in events)
    first = found.started or found.events[0]
    left = found.handed_over
    return first.at, left.said.state if left else ""


def _open(said: Iterable[KeepingRow]) -> int:
    """How much of what was reported and owed is not done."""
    rows = list(said)
    gone = {_taken(one) for one in rows if one.kind == "undone"}
    by_thing: dict[str, set[str]] = {}
    for one in rows:
        if one.id not in gone:
            by_thing.setdefault(one.about, set()).add(one.kind)
    return sum(
        bool(kinds & OPENS) and not kinds & CLOSES for kinds in by_thing.values()
    )


def _taken(one: KeepingRow) -> str:
    with suppress(ValueError, KeyError, TypeError):
        return str(json.loads(one.text)["said"]["event"])
    return ""


def _read_stale(desk: Desk, end: float, stale: Iterable[StaleSite]) -> bool:
    key = lasting_basis(desk)
    for one in stale:
        if monotonic() > end:
            return False
        read_stale(desk, one, key)
    return True


def _add_up(desk: Desk, end: float, batch: int) -> bool:
    """Add up the visits of every doorway of which something came in."""
    while monotonic() <= end:
        new = came_in(desk.library, batch)
        if not new.doors:
            return True
        put_met(desk.library, {one: met_at(desk, one) for one in new.doors}, new.upto)
        _reckon(desk, end, {site for site, _ in new.doors})
        if not new.more:
            return True
    return False


def _reckon(desk: Desk, end: float, sites: Iterable[str]) -> None:
    """Work out the checks at sites of which something came in, before all others."""
    for site in sites:
        if monotonic() > end:
            return
        with suppress(NoSuchSiteError):
            due_at(desk, site)
