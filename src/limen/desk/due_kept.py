"""What is due at the sites that are kept at the desk: quick, also over thousands.

What was worked out of a site is remembered under its text, its records and reports,
and all else that it rests on; a new day alone asks for nothing new.  Looking writes
nothing.
"""

import json
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import date, datetime
from hashlib import sha256
from time import monotonic
from typing import TYPE_CHECKING, cast

from limen.desk.clock import moment_kept
from limen.desk.due import (
    EVERYTHING,
    AllDue,
    DailyThere,
    DueThere,
    Wanted,
    in_order,
    rows_of,
)
from limen.desk.due_books import Books
from limen.desk.due_memory import SiteDue, Stamp, as_plain, from_plain
from limen.desk.due_records import folded_with
from limen.desk.due_seen import witnesses
from limen.desk.library import Desk, Opened, open_site
from limen.desk.library_known import due_remembered, lasting_basis, remember_due
from limen.desk.refusal import Refusal
from limen.keep.due import on_day
from limen.store.database import Listed, NoSuchSiteError, listed
from limen.store.database.witnesses import (
    Seen,
    last_came,
    seen_at,
    seen_beyond,
    state_of,
)
from limen.store.faults import FileFaults

if TYPE_CHECKING:
    from limen.model.doorway import Doorway
    from limen.rules import Rulebook


@dataclass(frozen=True, slots=True)
class KeptDue:
    """What is due at the sites of the desk.

    Attributes:
        told: the checks, as of site files.
        left: sites that were not read yet.
        unread: names of sites whose text cannot be read.
        unjudged: doorways that no edition judges, by site and name.
        changed: by site when what is said of it was changed last.
        people, routes: all that are named, in order.
        key: of all that it rests on; the same for the same list.
        skipped: ids of the sites that were not read yet.
    """

    told: AllDue
    left: int
    unread: tuple[str, ...]
    unjudged: tuple[str, ...]
    changed: dict[str, datetime]
    people: tuple[str, ...] = ()
    routes: tuple[str, ...] = ()
    key: str = ""
    skipped: tuple[str, ...] = ()


def due_kept(
    desk: Desk,
    wanted: Wanted = EVERYTHING,
    *,
    most_read: int | None = None,
    seconds: float | None = None,
) -> KeptDue:
    """What is due today at the sites of the desk, the soonest first.

    Args:
        desk: the desk.
        wanted: what of it.
        most_read: how many texts may be read for it; however many if None.
        seconds: for how long texts are read; however long if None.
    """
    whole = _whole(desk, _Budget(most_read, seconds))
    if wanted == EVERYTHING:
        return whole
    told = whole.told
    every = tuple(one for one in told.every if wanted.takes(one))
    daily = tuple(one for one in told.daily if wanted.takes_daily(one))
    return replace(whole, told=replace(told, every=every, daily=daily))


def due_at(desk: Desk, site_id: str) -> SiteDue:
    """What is due today at one site of the desk, as the list of all has it.

    Args:
        desk: the desk.
        site_id: the site; one that was put away too.

    Raises:
        NoSuchSiteError: there is none.
    """
    on, found = desk.day(), listed(desk.library, site_id)
    if not found:
        raise NoSuchSiteError(site_id)
    (one,) = found
    known = due_remembered_at(desk, one)
    return known or _work_out(desk, one, _stamp_of(desk, one), on)


def due_remembered_at(desk: Desk, one: Listed) -> SiteDue | None:
    """What is due today at one site, if it is known without its text being read.

    Args:
        desk: the desk.
        one: the site.
    """
    if one.id not in desk.dues.sites:
        desk.dues.sites |= dict(_remembered(desk, [one]))
    on = desk.day()
    known = _known(desk, one, _stamp_of(desk, one), on)
    if known is None or known.on == on:
        return known
    return replace(known, on=on, every=tuple(on_day(each, on) for each in known.every))


def _stamp_of(desk: Desk, one: Listed) -> Stamp:
    return one.digest, lasting_basis(desk), seen_at(desk.library, one.id)


class _Budget:
    """How many texts may be read, and until when."""

    def __init__(self, most: int | None, seconds: float | None) -> None:
        """Begin now."""
        self._left = most
        self._end = None if seconds is None else monotonic() + seconds

    def take(self) -> bool:
        """Whether one more may be read."""
        late = self._end is not None and monotonic() > self._end
        if late or self._left == 0:
            return False
        if self._left is not None:
            self._left -= 1
        return True


def _whole(desk: Desk, budget: _Budget) -> KeptDue:
    """The whole list; the one of before while nothing that it rests on changes."""
    on, memory = desk.day(), desk.dues
    key = (on, lasting_basis(desk), state_of(desk.library))
    if memory.whole is not None and memory.whole[0] == key:
        return cast("KeptDue", memory.whole[1])
    named = sha256(repr(key).encode()).hexdigest()
    made = replace(_put_together(desk, on, key[1], budget), key=named)
    if not made.left:
        memory.whole = (key, made)
    return made


def _put_together(desk: Desk, on: date, basis: str, budget: _Budget) -> KeptDue:
    every = [one for one in listed(desk.library) if not one.archived]
    _look_through(desk, every)
    skipped = list[str]()
    rows, unasked, unread = list[DueThere](), list[str](), list[str]()
    daily, unjudged = list[DailyThere](), list[str]()
    changed = dict[str, datetime]()
    for one in every:
        stamp = one.digest, basis, desk.dues.seen.get(one.id, Seen())
        known = _known(desk, one, stamp, on)
        if known is None:
            if not budget.take():
                skipped.append(one.id)
                continue
            known = _work_out(desk, one, stamp, on)
        if known.unread:
            unread.append(one.name)
        changed[one.id] = moment_kept(known.changed)
        rows += _rows(one, known, on, len(rows))
        unasked += known.unasked
        unjudged += [f"{one.name}, {name}" for _, name in known.unjudged]
        daily += [known.daily] if known.daily else []
    told = AllDue(on, tuple(in_order(rows)), tuple(unasked), tuple(daily))
    people, routes = _names(rows)
    return KeptDue(
        told,
        len(skipped),
        tuple(unread),
        tuple(unjudged),
        changed,
        people,
        routes,
        skipped=tuple(skipped),
    )


def _names(rows: list[DueThere]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    from limen.words import collated

    people = {one.due.person for one in rows} - {""}
    routes = {one.due.route for one in rows} - {""}
    return tuple(sorted(people, key=collated)), tuple(sorted(routes, key=collated))


def _rows(one: Listed, known: SiteDue, on: date, start: int) -> Iterator[DueThere]:
    for number, due in enumerate(known.every, start):
        today = due if known.on == on else on_day(due, on)
        yield DueThere(one.name, known.place, one.id, today, number)


# Remembering ---------------------------------------------------------------------


def _look_through(desk: Desk, every: list[Listed]) -> None:
    """Learn how much has come in of each site since the last look."""
    memory = desk.dues
    if not memory.recalled:
        memory.recalled = True
        memory.sites |= dict(_remembered(desk, every))
    for site, seen in seen_beyond(desk.library, memory.visits, memory.said).items():
        was = memory.seen.get(site, Seen())
        memory.seen[site] = Seen(
            max(was.visits, seen.visits), max(was.said, seen.said), seen.records
        )
        memory.visits = max(memory.visits, seen.visits)
        memory.said = max(memory.said, seen.said)


def _remembered(
    desk: Desk, every: list[Listed]
) -> Iterator[tuple[str, tuple[Stamp, SiteDue]]]:
    """What was written down before the desk was started."""
    for one in every:
        with suppress(KeyError, TypeError, ValueError):
            said = due_remembered(desk, one)
            if said is not None:
                yield one.id, from_plain(said)


def _known(desk: Desk, one: Listed, stamp: Stamp, on: date) -> SiteDue | None:
    found = desk.dues.sites.get(one.id)
    fresh = found is not None and found[0] == stamp and found[1].holds_on(on)
    return found[1] if found and fresh else None


def _work_out(desk: Desk, one: Listed, stamp: Stamp, on: date) -> SiteDue:
    books = desk.dues.books or Books(desk.shelf)
    desk.dues.books = books
    try:
        made = _site(desk, open_site(desk, one.id), on, stamp[2], books)
    except (FileFaults, NoSuchSiteError):
        made = SiteDue(on, one.changed, unread=True)
    desk.dues.sites[one.id] = (stamp, made)
    if not made.unread:
        remember_due(desk, one, json.loads(json.dumps(as_plain(stamp, made))))
    return made


def _site(desk: Desk, opened: Opened, on: date, seen: Seen, shelf: Books) -> SiteDue:
    site, stored = opened.site, opened.stored
    met = seen != Seen()
    told = witnesses(desk, stored) if met else {}
    doors, books = list["Doorway"](), list["Rulebook"]()
    unjudged = list[tuple[str, str]]()
    for door in site.doorway:
        try:
            books.append(shelf.of(site, door))
            doors.append(door)
        except Refusal:
            unjudged.append((door.id, door.name))
    known = {
        door.id: folded_with(door.kept, on, told.get(door.id, ())) for door in doors
    }
    judged = site.model_copy(update={"doorway": tuple(doors)})
    rows, unasked, daily = rows_of(judged, stored.id, books, on, known)
    came = last_came(desk.library, stored.id) if met else ""
    changed = max(stored.changed, came)
    return SiteDue(
        on,
        changed,
        site.place,
        tuple(one.due for one in rows),
        tuple(unasked),
        tuple(unjudged),
        daily,
    )
