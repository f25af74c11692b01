"""Visits of a doorway: what was tapped at the door, folded when it is asked for.

Nothing here is kept twice.  A visit is its events; what was sealed of it is its
record, of which there is one.
"""

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from limen.desk.library import Desk
from limen.desk.visits_folded import folded_json
from limen.desk.visits_intake import read_event
from limen.model.visit import Event, SealedEvent
from limen.model.visited import Visited, missing, visited
from limen.store.database.records import KeptRecord, record_of, records_at
from limen.store.database.visits import (
    KeptEvent,
    RefusedEvent,
    events_of,
    refused_of,
    visits_at,
)


class NoSuchVisitError(LookupError):
    """Nothing was tapped of such a visit at this site."""

    def __init__(self, visit: str) -> None:
        """Say which."""
        super().__init__(f'there is no visit "{visit}"')
        self.visit = visit


@dataclass(frozen=True, slots=True)
class Folded:
    """A visit as it stands now.

    Attributes:
        visit, site, doorway: which.
        found: what its events come to.
        raw: by id each event as it was said.
        came: by id when it came in, ISO 8601.
        upto: number of its last event that has come in.
        refused: what was refused of it, to be shown.
        record: its record, if it was sealed.
        late: ids of events that came in after the record was kept: not in it.
    """

    visit: str
    site: str
    doorway: str
    found: Visited
    raw: Mapping[str, Mapping[str, Any]]
    came: Mapping[str, str]
    upto: int
    refused: tuple[RefusedEvent, ...]
    record: KeptRecord | None
    late: frozenset[str]

    @property
    def json(self) -> dict[str, Any]:
        """All of it as JSON takes it: what a record holds of the visit."""
        return folded_json(self.found, self.raw)

    @property
    def not_here(self) -> dict[str, tuple[tuple[int, int], ...]]:
        """By device the runs of numbers between its events that have not come in."""
        lacking = missing(self.found.events)
        return {device: runs for device, runs in lacking.items() if runs}


@dataclass(frozen=True, slots=True)
class Last:
    """From where the next visit of a doorway starts.

    Attributes:
        visit: the last visit folded, as JSON; None if there was none.
        parents: digests of the records that no later record of the doorway names.
    """

    visit: dict[str, Any] | None
    parents: tuple[str, ...]


def folded(desk: Desk, site_id: str, visit: str) -> Folded:
    """A visit as its events stand now.

    Args:
        desk: the desk.
        site_id: the site.
        visit: id of the visit.

    Raises:
        NoSuchSiteError: there is no such site.
        NoSuchVisitError: nothing was tapped of it at this site.
    """
    desk.library.read(site_id)
    kept = events_of(desk.library, site_id, visit)
    if not kept:
        raise NoSuchVisitError(visit)
    refused = refused_of(desk.library, site_id, visit)
    return _folded(kept, refused, record_of(desk.library, visit))


def visits(
    desk: Desk, site_id: str, doorway: str | None = None, *, most: int | None = None
) -> tuple[Folded, ...]:
    """The visits of a doorway, or of all doorways of a site, the last begun first.

    Args:
        desk: the desk.
        site_id: the site.
        doorway: which doorway; all of the site if None.
        most: how many, those of which something came in last; all if None.

    Raises:
        NoSuchSiteError: there is no such site.
    """
    desk.library.read(site_id)
    kept = visits_at(desk.library, site_id, doorway)[:most]
    found = [folded(desk, site_id, one.visit) for one in kept]
    return tuple(sorted(found, key=_begun, reverse=True))


def count(desk: Desk, site_id: str, doorway: str | None = None) -> int:
    """How many visits there are of a doorway, or of all doorways of a site."""
    return len(visits_at(desk.library, site_id, doorway))


def last(desk: Desk, site_id: str, doorway: str) -> Last:
    """From where the next visit of a doorway starts.

    The last visit is the sealed one whose record came last; where none was sealed,
    the one that began last.

    Raises:
        NoSuchSiteError: there is no such site.
    """
    found = visits(desk, site_id, doorway)
    sealed = [one for one in found if one.record is not None]
    newest = max(sealed, key=_number, default=found[0] if found else None)
    records = records_at(desk.library, site_id, doorway)
    return Last(newest.json if newest else None, heads(records))


def last_record(desk: Desk, site_id: str, doorway: str) -> KeptRecord | None:
    """The record of a doorway that was kept last; None if it has none."""
    return next(iter(records_at(desk.library, site_id, doorway)), None)


def heads(records: Iterable[KeptRecord]) -> tuple[str, ...]:
    """Digests of the records that none of the others names as its parent, sorted."""
    every = list(records)
    named = {parent for one in every for parent in _parents(one)}
    return tuple(sorted({one.digest for one in every} - named))


def _parents(record: KeptRecord) -> list[str]:
    parents = record_of_bytes(record.sealed).get("parents", [])
    return [str(one) for one in parents]


def record_of_bytes(sealed: bytes) -> dict[str, Any]:
    """What a record says that was checked when it was kept."""
    return json.loads(sealed)["record"]


def _number(one: Folded) -> int:
    return one.record.number if one.record else 0


def _begun(one: Folded) -> tuple[str, str]:
    first = one.found.started or one.found.events[0]
    return first.moment.isoformat(), one.visit


def _folded(
    kept: tuple[KeptEvent, ...],
    refused: tuple[RefusedEvent, ...],
    record: KeptRecord | None,
) -> Folded:
    events: list[Event] = [read_event(one.text) for one in kept]
    first = events[0]
    upto = record.upto if record else kept[-1].number
    late = (
        event.id
        for event, one in zip(events, kept, strict=True)
        if one.number > upto and not isinstance(event, SealedEvent)
    )
    return Folded(
        first.visit,
        first.site,
        first.doorway,
        visited(events),
        {
            event.id: json.loads(one.text)
            for event, one in zip(events, kept, strict=True)
        },
        {event.id: one.came for event, one in zip(events, kept, strict=True)},
        kept[-1].number,
        refused,
        record,
        frozenset(late),
    )
