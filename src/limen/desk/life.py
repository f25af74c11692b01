"""A doorway's life: everything that was kept of it, by the day on which it was.

Texts that changed this doorway, visits, records, and whatever was said of it between
visits.  Nothing is kept for it: each entry is read from where it is kept.
"""

import json
import tomllib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from itertools import groupby
from typing import TYPE_CHECKING, Any, Literal, cast

from limen.desk.ahead import agenda_beside, door_tables, read_between
from limen.desk.library import Desk, Version
from limen.desk.merging import Change, compared
from limen.desk.visits import Folded, visits
from limen.model.agenda import Agenda
from limen.model.between import KINDS
from limen.model.visit import DefectEvent, PhotoEvent
from limen.store.database.keeping import KeepingRow, events_at
from limen.store.database.records import KeptRecord, records_at

if TYPE_CHECKING:
    from limen.model.between import Between

Kind = Literal["texts", "visits", "records", "planned", "owed", "parts", "reports"]
KIND_OF: Mapping[str, Kind] = {
    "planned": "planned",
    "refused": "planned",
    "done": "planned",
    "owed": "owed",
    "mended": "owed",
    "ordered": "parts",
    "fitted": "parts",
}
"""By kind of event between visits among what it is listed; of the others what they are
said of decides."""
NO_PART = frozenset({"plan", "plan_name", "pin", "plan_back"})
"""Kinds of event that say where a door stands on a drawing of the floor."""
RULEBOOK = "rulebook"
Part = dict[str, Any]
"""A part of a site's text, as TOML gives it."""


@dataclass(frozen=True, slots=True)
class TextEntry:
    """What became of a doorway's text on one day.

    Attributes:
        number: the last version of that day that changed it.
        numbers: all versions of it that day.
        changes: what the text said of the doorway before and says after; None for
            the first text, and where one of the two is no TOML.
        first: whether there is none before it.
    """

    number: int
    numbers: tuple[int, ...]
    changes: tuple[Change, ...] | None
    first: bool


@dataclass(frozen=True, slots=True)
class SaidEntry:
    """Something that was said between visits.

    Attributes:
        row: the event as it is kept.
        said: the same, where it is one that is folded here; else None.
        raw: what it says, as JSON has it.
        taken_back: whether it was taken back.
        before: by field what was said of the same thing before, the last word on
            each: what a refusal refuses is in it.
        later: what else was said of the same thing, where others fold it: one entry
            for the whole of it.
    """

    row: KeepingRow
    said: "Between | None"
    raw: Mapping[str, Any]
    taken_back: bool
    before: Mapping[str, Any]
    later: tuple[KeepingRow, ...] = ()


@dataclass(frozen=True, slots=True)
class Entry:
    """One entry of a time line.

    Attributes:
        moment: day, or day and time, ISO 8601: what it is ordered by.
        kind: among what it is listed.
        of: what it is.
    """

    moment: str
    kind: Kind
    of: TextEntry | SaidEntry | Folded | KeptRecord

    @property
    def day(self) -> date:
        """The day."""
        return date.fromisoformat(self.moment[:10])


@dataclass(frozen=True, slots=True)
class Life:
    """A doorway's life.

    Attributes:
        entries: the newest first.
        ahead: what is planned, owed and awaited, and what became of it.
        visits: its visits, the last begun first.
        records: its records, the last first.
    """

    entries: tuple[Entry, ...]
    ahead: Agenda
    visits: tuple[Folded, ...]
    records: tuple[KeptRecord, ...]


def life_of(desk: Desk, site_id: str, doorway: str) -> Life:
    """A doorway's life, whether or not the site's text can still be read.

    Raises:
        NoSuchSiteError: there is no such site.
    """
    gone = visits(desk, site_id, doorway)
    ahead = agenda_beside(desk, site_id, doorway, gone)
    records = records_at(desk.library, site_id, doorway)
    entries = [
        *_texts(desk, site_id, doorway),
        *(Entry(_began(one), "visits", one) for one in gone),
        *(Entry(one.kept, "records", one) for one in records),
        *_said(desk, site_id, doorway, ahead),
    ]
    entries.sort(key=lambda one: one.moment, reverse=True)
    return Life(tuple(entries), ahead, gone, records)


def _began(one: Folded) -> str:
    return (one.found.started or one.found.events[0]).at


# Texts -----------------------------------------------------------------------------


def _texts(desk: Desk, site_id: str, doorway: str) -> Iterator[Entry]:
    """Versions that changed a doorway, those of one day together."""
    before: Part | None = None
    begun = False
    every = reversed(desk.library.history(site_id))
    for _, of_day in groupby(every, key=lambda one: one.changed[:10]):
        versions = list(of_day)
        after = _part(desk, site_id, versions[-1], doorway)
        if not begun:
            begun = after is None or "doorway" in after
            entry = TextEntry(*_numbers(versions), None, first=True) if begun else None
        else:
            entry = _of_day(before, after, versions)
        if entry is not None:
            yield Entry(versions[-1].changed, "texts", entry)
        before = after


def _part(desk: Desk, site_id: str, version: Version, doorway: str) -> Part | None:
    """What a version says of a doorway and of what judges it; None if it is no TOML.

    A version never changes: it is read once.
    """

    def made() -> Part | None:
        try:
            raw = tomllib.loads(desk.library.text(site_id, version.number))
        except tomllib.TOMLDecodeError:
            return None
        own = [one for one in door_tables(raw) if one.get("id") == doorway]
        found: Part = {"doorway": own} if own else {}
        return found | {name: raw[name] for name in (RULEBOOK,) if name in raw}

    return desk.parts.ask((site_id, version.number, doorway), made)


def _numbers(versions: Sequence[Version]) -> tuple[int, tuple[int, ...]]:
    return versions[-1].number, tuple(one.number for one in versions)


def _of_day(
    before: Part | None, after: Part | None, versions: Sequence[Version]
) -> TextEntry | None:
    """What the versions of a day did to a doorway; None if they left it alone."""
    if before is None or after is None:
        return TextEntry(*_numbers(versions), None, first=False)
    changes = compared(before, after)
    if not changes:
        return None
    return TextEntry(*_numbers(versions), changes, first=False)


# Said between visits ---------------------------------------------------------------


def _said(desk: Desk, site_id: str, doorway: str, ahead: Agenda) -> Iterator[Entry]:
    """Every event that was kept of a doorway between visits, of whatever kind."""
    rows = events_at(desk.library, site_id, doorway)
    yield from _folded_here([one for one in rows if one.kind in KINDS], ahead)
    others: dict[str, list[KeepingRow]] = {}
    for row in rows:
        if row.kind not in KINDS and row.kind not in NO_PART:
            others.setdefault(row.about, []).append(row)
    for first, *later in others.values():
        raw = json.loads(first.text)
        entry = SaidEntry(first, None, raw, taken_back=False, before={})
        whole = replace(entry, later=tuple(later))
        yield Entry(first.came, KIND_OF.get(first.kind, "reports"), whole)


def _folded_here(rows: Iterable[KeepingRow], ahead: Agenda) -> Iterator[Entry]:
    """One entry an event, with what was said of its thing before."""
    things = (*ahead.plans, *ahead.follow_ups, *ahead.parts)
    words = (*(one.words for one in things), *ahead.loose)
    gone = {each for one in words for each in one.taken_back}
    told: dict[str, tuple[Kind, dict[str, Any]]] = {
        one.words.about: ("owed", {"text": one.text}) for one in ahead.follow_ups
    }
    for row in rows:
        raw = json.loads(row.text)
        kind, before = told.get(row.about, ("planned", {}))
        kind = KIND_OF.get(row.kind, kind)
        said = read_between(row.text)
        entry = SaidEntry(row, said, raw, row.id in gone, before)
        told[row.about] = (kind, before | _fields(raw))
        yield Entry(said.at, kind, entry)


def _fields(raw: Mapping[str, Any]) -> dict[str, Any]:
    said = raw.get("said")
    return cast("dict[str, Any]", said) if isinstance(said, dict) else {}


# What a visit showed ---------------------------------------------------------------


def photos_in(visit: Folded) -> tuple[PhotoEvent, ...]:
    """The photos of a visit that count."""
    return tuple(one for one in visit.found.standing if isinstance(one, PhotoEvent))


def defects_of_visit(visit: Folded) -> tuple[DefectEvent, ...]:
    """The defects that were found at a visit, however it was left."""
    return tuple(one for one in visit.found.standing if isinstance(one, DefectEvent))
