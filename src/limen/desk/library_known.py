"""What a list says of a site, kept in the library between one start and the next.

Looking at a list writes nothing: what was worked out is noted in memory, and written
down when something is changed anyway, and when the desk is closed.
"""

import json
from contextlib import suppress
from dataclasses import asdict, dataclass
from functools import lru_cache
from hashlib import sha256
from typing import Any

from limen.desk.library import Desk
from limen.desk.library_keys import lasting
from limen.exchange import Tally
from limen.store.database import Known, Listed, NotKeptError, know


@dataclass(frozen=True, slots=True)
class DoorLine:
    """A doorway in a list.

    Attributes:
        id: its id.
        name: its name.
        tally: what is to be done there; None while nobody has asked.
        must: whether its next check is a must.
        refused: why it cannot be judged; empty if it can.
    """

    id: str
    name: str
    tally: Tally | None = None
    refused: str = ""
    must: bool = False


@dataclass(frozen=True, slots=True)
class Remembered:
    """What is remembered of a site whose text has not changed since.

    Its tallies are without the next checks: these rest on more than the text.

    Attributes:
        place: where it is.
        doors: its doorways.
        tally: of all of them; None where it rests on what has changed.
    """

    place: str
    doors: tuple[DoorLine, ...]
    tally: Tally | None


def basis(desk: Desk) -> str:
    """A digest of what tallies rest on beside the text: day, sheets, figures, limen."""
    said = json.dumps([desk.day().isoformat(), lasting_basis(desk)])
    return sha256(said.encode()).hexdigest()


def lasting_basis(desk: Desk) -> str:
    """A digest of what findings rest on beside the text and the day."""
    return lasting(desk.sheets, desk.shelf.values)


def remembered(desk: Desk, one: Listed, rests_on: str) -> Remembered | None:
    """What is remembered of a site; None if its text has changed since.

    Args:
        desk: the desk.
        one: the site.
        rests_on: the basis of today.
    """
    found = _latest(desk, one)
    if found is None or found.digest != one.digest:
        return None
    return _remembered(found.said, found.key == rests_on)


@lru_cache(maxsize=5000)
def _remembered(said: str, whole: bool) -> Remembered:  # noqa: FBT001 - part of a key
    """What is remembered, read from its text; its tallies only where they count."""
    told = json.loads(said)
    doors = tuple(
        DoorLine(
            door["id"],
            door["name"],
            _tally(door["tally"] if whole else None),
            must=door.get("must", False),
        )
        for door in told["doors"]
    )
    return Remembered(told["place"], doors, _tally(told["tally"] if whole else None))


def remember(
    desk: Desk, one: Listed, digest: str, rests_on: str, known: Remembered
) -> None:
    """Note what a list says of a site; nothing is written.

    A doorway that cannot be judged is asked again each time, in the language of
    whoever asks.
    """
    if any(door.refused for door in known.doors):
        return
    said = asdict(known)
    due = due_remembered(desk, one)
    if due is not None:
        said["due"] = due
    _note(desk, one, Known(digest, rests_on, json.dumps(said, ensure_ascii=False)))


def due_remembered(desk: Desk, one: Listed) -> dict[str, Any] | None:
    """What is remembered of the checks at a site; whoever asks sees of what it is."""
    found = _latest(desk, one)
    return json.loads(found.said).get("due") if found else None


def remember_due(desk: Desk, one: Listed, due: dict[str, Any]) -> None:
    """Note what a list says of the checks at a site; nothing is written.

    What else is remembered of it stays; where nothing is, nothing else is said.
    """
    found = _latest(desk, one)
    if found is None or found.digest != one.digest:
        found = Known("", "", "{}")
    said = json.dumps({**json.loads(found.said), "due": due}, ensure_ascii=False)
    _note(desk, one, Known(found.digest, found.key, said))


def _note(desk: Desk, one: Listed, found: Known) -> None:
    if found != _latest(desk, one):
        desk.noted[one.id] = found


def note_down(desk: Desk) -> None:
    """Write what was noted into the library; where it cannot be kept, nothing is lost.

    Called when something was changed, and when the desk is closed; never because
    somebody looked.
    """
    while desk.noted:
        with suppress(KeyError, NotKeptError):
            know(desk.library, *desk.noted.popitem())


def _latest(desk: Desk, one: Listed) -> Known | None:
    return desk.noted.get(one.id, one.known)


def _tally(counts: dict[str, Any] | None) -> Tally | None:
    return Tally(**counts) if counts else None
