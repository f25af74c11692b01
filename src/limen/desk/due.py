"""Which doors are due to be checked, over one site or many."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from limen.desk.clock import today
from limen.desk.refusal import Refusal
from limen.words import collated

if TYPE_CHECKING:
    from limen.desk.due_books import Books
    from limen.desk.due_records import Records
    from limen.keep.due import Daily, Due
    from limen.keep.folding import Known
    from limen.model.site import Site
    from limen.rules import Rulebook

By = Literal["person", "route"]
NOBODY = ""
"""The group of what nobody answers for, or that lies on no route."""


@dataclass(frozen=True, slots=True)
class DueThere:
    """A check that is due, and where.

    Attributes:
        site: the name of the site.
        place: where it is, in words.
        file: the name of its file; the id of a site that is kept at the desk.
        due: the doorway and its day.
        number: its place in the files, in the order in which these were given.
    """

    site: str
    place: str
    file: str
    due: "Due"
    number: int = 0


@dataclass(frozen=True, slots=True)
class DailyThere:
    """The owner's daily check at a site.

    Attributes:
        site, place, file: where; as in `DueThere`.
        doors: the names of the doorways of which it is asked.
        who: who does it; empty if nobody is named.
        person, route: who answers for the first of the doorways, on which route.
        document, grade: who asks for it, and how well that is known; empty where
            only the site file names who does it.
        since: the day from which it is asked; None where no door says.
    """

    site: str
    place: str
    file: str
    doors: tuple[str, ...]
    who: str = ""
    person: str = ""
    route: str = ""
    document: str = ""
    grade: str = ""
    since: date | None = None


@dataclass(frozen=True, slots=True)
class AllDue:
    """What is due on a day.

    Attributes:
        on: the day.
        every: the checks, soonest first.
        unasked: doorways whose rulebook asks for no check, by site and name.
        daily: the owners' daily checks, one a site.
        refused: records that were not used, each with its reason, in words.
        chosen: whether a day was named.
    """

    on: date
    every: tuple[DueThere, ...]
    unasked: tuple[str, ...]
    daily: tuple[DailyThere, ...] = ()
    refused: tuple[str, ...] = ()
    chosen: bool = True


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is wanted of all that is due.

    Attributes:
        within: days; what has longer is left out, never what has no day.
        person: only for what this person answers; None for everybody.
        route: only what lies on this route; None for all.
        words: that must all stand in what a list says of it.
    """

    within: int | None = None
    person: str | None = None
    route: str | None = None
    words: tuple[str, ...] = ()

    def takes(self, one: DueThere) -> bool:
        """Whether a check is wanted."""
        near = self.within is None or (one.due.left or 0) <= self.within
        return near and self._for(one.due.person, one.due.route) and self._said(one)

    def takes_daily(self, one: DailyThere) -> bool:
        """Whether a daily check is wanted."""
        said = "\n".join((one.site, one.place, one.who, *one.doors)).casefold()
        words = all(word in said for word in self.words)
        return words and self._for(one.person, one.route)

    def _for(self, person: str, route: str) -> bool:
        asked = ((self.person, person), (self.route, route))
        return all(
            one is None or one.casefold() == other.casefold() for one, other in asked
        )

    def _said(self, one: DueThere) -> bool:
        due = one.due
        said = (one.site, one.place, due.name, due.doorway, due.person, due.route)
        joined = "\n".join(said).casefold() if self.words else ""
        return all(word in joined for word in self.words)


EVERYTHING = Wanted()


@dataclass
class _Found:
    """What is gathered, site by site."""

    every: list[DueThere] = field(default_factory=list[DueThere])
    unasked: list[str] = field(default_factory=list[str])
    daily: list[DailyThere] = field(default_factory=list[DailyThere])


def due(
    paths: Sequence[Path],
    *,
    on: date | None = None,
    wanted: Wanted = EVERYTHING,
    records: Sequence[Path] = (),
    trust: Sequence[Path] = (),
) -> AllDue:
    """What is due at the doorways of sites.

    Args:
        paths: the site files.
        on: the day for which it is asked; today if None.
        wanted: what of it.
        records: folders of sealed records, or the records.
        trust: files that firms handed out, so that their seals are known.

    Raises:
        Refusal: every file that cannot be used, all of it together.
    """
    from limen.desk.due_books import Books
    from limen.desk.due_records import read_records
    from limen.desk.shelves import shelf

    day, told, found = on or today(), list[str](), _Found()
    sealed, books = read_records(records, trust), Books(shelf())
    for path in paths:
        try:
            _site(path, day, books, sealed, found)
        except Refusal as refusal:
            told += refusal.lines
    if told:
        raise Refusal(told)
    return AllDue(
        day,
        tuple(in_order(one for one in found.every if wanted.takes(one))),
        tuple(found.unasked),
        tuple(one for one in found.daily if wanted.takes_daily(one)),
        sealed.refused,
        on is not None,
    )


def in_order(every: Iterable[DueThere]) -> list[DueThere]:
    """The soonest first."""
    from limen.keep.due import urgency

    return sorted(every, key=lambda one: urgency(one.due))


def grouped(
    every: Iterable[DueThere], by: By
) -> tuple[tuple[str, tuple[DueThere, ...]], ...]:
    """Checks by person or by route, names in order, what has none last.

    Within a group the soonest first, and of one day in the order of the files: limen
    knows no map.

    Args:
        every: the checks.
        by: person or route.
    """
    from limen.keep.due import urgency

    groups: dict[str, list[DueThere]] = {}
    for one in every:
        name = one.due.person if by == "person" else one.due.route
        groups.setdefault(name, []).append(one)
    names = sorted(groups, key=lambda name: (not name, collated(name)))
    return tuple(
        (
            name,
            tuple(
                sorted(
                    groups[name],
                    key=lambda one: (*urgency(one.due)[:2], one.number),
                )
            ),
        )
        for name in names
    )


def _site(
    path: Path, on: date, shelf: "Books", records: "Records", found: _Found
) -> None:
    from limen.desk.sites import read

    site = read(path).site
    judged = shelf.every(site)
    known = {
        door.id: records.known(site.name, door.id, door.kept, on)
        for door in site.doorway
    }
    rows, without, daily = rows_of(site, path.name, judged, on, known)
    start = len(found.every) + len(found.unasked)
    found.every += (
        DueThere(one.site, one.place, one.file, one.due, start + place)
        for place, one in enumerate(rows)
    )
    found.unasked += without
    found.daily += [daily] if daily else []


def rows_of(
    site: "Site",
    file: str,
    books: "Sequence[Rulebook]",
    on: date,
    known: "Mapping[str, Known]",
) -> tuple[list[DueThere], list[str], DailyThere | None]:
    """What is due at a site, what is not asked there, and the owner's daily check.

    Args:
        site: the site.
        file: the name of its file, or its id.
        books: what judges each of its doorways.
        on: the day.
        known: by doorway what is known of it.
    """
    from limen.keep.due import daily_of, due_of

    rows, without, daily = list[DueThere](), list[str](), list["Daily"]()
    for door, book in zip(site.doorway, books, strict=True):
        one = due_of(door, book, on, site, known.get(door.id))
        if one is None:
            without.append(f"{site.name}, {door.name}")
        else:
            rows.append(DueThere(site.name, site.place, file, one, len(rows)))
        each = daily_of(door, book, site)
        daily += [each] if each else []
    return rows, without, _daily(site, file, daily)


def _daily(site: "Site", file: str, every: "Sequence[Daily]") -> DailyThere | None:
    """One line a site: a list of daily checks helps nobody."""
    if not every:
        return None
    doors = [site.door(one.doorway) for one in every]
    first = site.charge_of(doors[0])
    asks = next((one.authority for one in every if one.authority), None)
    used = [one.commissioned for one in doors if one.commissioned]
    return DailyThere(
        site.name,
        site.place,
        file,
        tuple(one.name for one in doors),
        site.kept.daily or "",
        first.by or "",
        first.route or "",
        asks.document if asks else "",
        asks.grade.value if asks else "",
        min(used, default=None),
    )
