"""A folded visit as JSON: every event in it once, as it was said.

What counts stands under what it is of; what was taken back or set aside stands under
``apart``, and why.  The seal's own events are not in it: they come after.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from limen.model.visit import Event, SealedEvent, SettledEvent, UndoneEvent
from limen.model.visited import Visited, missing

SECTIONS: Mapping[str, str] = {
    "started": "started",
    "precaution": "precautions",
    "as_found": "as_found",
    "step": "tests",
    "reading": "readings",
    "work": "work",
    "photo": "photos",
    "note": "notes",
    "traced": "traced",
    "defect": "defects",
    "handed_over": "handed_over",
}
"""By kind of event the section in which it stands."""
NOW_AND_THEN = ("traced",)
"""Sections that are left out where nothing stands in them: most visits have none, and
records were sealed before there were any."""
Raw = Mapping[str, Any]


def folded_json(found: Visited, raw: Mapping[str, Raw]) -> dict[str, Any]:
    """What the events of a visit come to, as JSON takes it.

    Args:
        found: the fold; at least one event.
        raw: by id each event as it was said.
    """
    first = found.events[0]
    counts = {one.id for one in _counting(found)}
    made: dict[str, Any] = {
        "schema": 1,
        "visit": first.visit,
        "site": first.site,
        "doorway": first.doorway,
        "people": list(found.people),
        **{section: [] for section in SECTIONS.values()},
        "acts": [],
        "apart": [],
        "conflicts": [
            _conflict(one.about, one.of, one.events) for one in found.conflicts
        ],
        "devices": list(_devices(found)),
    }
    for event in found.events:
        if isinstance(event, SealedEvent):
            continue
        said = _entry(event, raw[event.id])
        if why := _apart(event, found):
            made["apart"].append({**said, "kind": event.kind, "why": why})
        elif isinstance(event, (UndoneEvent, SettledEvent)):
            made["acts"].append({**said, "kind": event.kind})
        else:
            entry = {**said, "counts": event.id in counts}
            made[SECTIONS[event.kind]].append(entry)
    return {key: told for key, told in made.items() if told or key not in NOW_AND_THEN}


def _counting(found: Visited) -> Iterator[Event]:
    """The last word on each thing that has one; all of what is only listed."""
    yield from found.answers.values()
    yield from found.work.values()
    yield from found.traced.values()
    started, handed = found.started, found.handed_over
    yield from (one for one in (started, handed) if one is not None)
    for one in found.standing:
        if one.kind not in {"step", "work", "traced", "started", "handed_over"}:
            yield one


def _entry(event: Event, raw: Raw) -> dict[str, Any]:
    return {
        "id": event.id,
        "device": event.device,
        "seq": event.seq,
        "at": event.at,
        "said": raw["said"],
    }


def _apart(event: Event, found: Visited) -> str:
    if event.id in found.taken_back:
        return "taken back"
    return "set aside" if event.id in found.set_aside else ""


def _conflict(about: str, of: str, events: tuple[Event, ...]) -> dict[str, Any]:
    return {"about": about, "of": of, "events": [one.id for one in events]}


def _devices(found: Visited) -> Iterator[dict[str, Any]]:
    """Which devices took part, and which of their numbers are not here."""
    lacking = missing(found.events)
    for device in sorted(lacking):
        numbers = [one.seq for one in found.events if one.device == device]
        yield {
            "device": device,
            "first": min(numbers),
            "last": max(numbers),
            "not_here": [list(run) for run in lacking[device]],
        }
