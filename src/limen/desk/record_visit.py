"""A visit from a file of its events, as a card hands them out."""

import json
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, cast

from limen.desk.refusal import Refusal, refusing
from limen.findings import Message
from limen.record.canonical import NotCanonicalError, Plain, canonical
from limen.words import retold, say

if TYPE_CHECKING:
    from limen.model.visit import Event
    from limen.model.visited import Visited

MOST_BYTES = 30_000_000
MOST_FAULTS = 10
"""Events that are named; whoever reads mends the first and tries again."""

Raw = Mapping[str, Any]


def read_visit(path: Path, doorway: str) -> dict[str, Any]:
    """The visit that a file of events tells, folded.

    Args:
        path: JSON: a list of events, or a table with one under ``events``.
        doorway: id of the doorway of which they must be.

    Raises:
        Refusal: it cannot be read, an event cannot be used, or they are of another
            doorway or of several visits.
    """
    from limen.desk.visits_folded import folded_json

    return folded_json(*visited_in(path, doorway))


def visited_in(path: Path, doorway: str) -> "tuple[Visited, dict[str, Raw]]":
    """What the events of a file come to, and by id each as it was said.

    Args:
        path: as `read_visit` takes it.
        doorway: id of the doorway of which they must be.

    Raises:
        Refusal: as `read_visit` does.
    """
    from limen.model.visited import visited

    raws = _raws(path)
    events = _events(raws, path)
    doors = {one.doorway for one in events}
    if doors != {doorway}:
        told = {"file": str(path), "found": ", ".join(sorted(doors)), "asked": doorway}
        raise Refusal([_said("other_doorway", **told)])
    if len({one.visit for one in events}) > 1:
        raise Refusal([_said("visits", file=str(path))])
    by_id = {event.id: raw for event, raw in zip(events, raws, strict=True)}
    return visited(events), by_id


def _raws(path: Path) -> Sequence[Raw]:
    with refusing(), path.open("rb") as file:
        read = file.read(MOST_BYTES + 1)
    try:
        said: object = json.loads(read) if len(read) <= MOST_BYTES else None
    except (ValueError, RecursionError):
        raise Refusal([_said("no_json", file=str(path))]) from None
    if isinstance(said, dict):
        said = cast("Mapping[str, object]", said).get("events")
    listed = cast("list[object]", said) if isinstance(said, list) else []
    if not listed or not all(isinstance(one, dict) for one in listed):
        raise Refusal([_said("no_events", file=str(path))])
    return cast("list[Raw]", listed)


def _events(raws: Sequence[Raw], path: Path) -> list["Event"]:
    """Every event, or all that is wrong with the first few that cannot be used."""
    events: list[Event] = []
    faults: list[str] = []
    for place, raw in enumerate(raws, 1):
        found = _event(raw)
        if isinstance(found, str):
            faults.append(_said("event", file=str(path), place=place, why=found))
        else:
            events.append(found)
    if faults:
        raise Refusal(faults[:MOST_FAULTS])
    return events


def _event(raw: Raw) -> "Event | str":
    """An event, or why it is none."""
    from pydantic import ValidationError

    from limen.desk.visits_intake import read_event

    try:
        return read_event(canonical(cast("Plain", raw)).decode())
    except ValidationError as error:
        return "; ".join(_fault(dict(one)) for one in error.errors())
    except (KeyError, TypeError, NotCanonicalError):
        return _said("no_event")


def _fault(one: Mapping[str, Any]) -> str:
    """What is wrong with one value, and where."""
    where = ".".join(str(part) for part in one["loc"])
    return f"{where}: {retold(str(one['msg']))}" if where else retold(str(one["msg"]))


def _said(key: str, /, **values: str | int) -> str:
    return say(Message(f"record.visit.{key}", values))
