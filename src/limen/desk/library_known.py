"""What a list says of a site, kept in the library between one start and the next."""

import json
from contextlib import suppress
from dataclasses import asdict, dataclass
from functools import cache
from hashlib import sha256
from importlib.metadata import version
from pathlib import Path
from typing import Any

import limen
from limen.desk.library import Desk
from limen.desk.library_keys import sheets_state
from limen.exchange import Tally
from limen.store.database import Known, Listed, NotKeptError, know


@dataclass(frozen=True, slots=True)
class DoorLine:
    """A doorway in a list.

    Attributes:
        id: its id.
        name: its name.
        tally: what is to be done there; None while nobody has asked.
        refused: why it cannot be judged; empty if it can.
    """

    id: str
    name: str
    tally: Tally | None = None
    refused: str = ""


@dataclass(frozen=True, slots=True)
class Remembered:
    """What is remembered of a site whose text has not changed since.

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
    state = sheets_state(desk.sheets)
    figures = repr(desk.shelf.values)
    day, limen = desk.day().isoformat(), [version("limen"), _limen()]
    said = json.dumps([day, state, *limen, figures])
    return sha256(said.encode()).hexdigest()


def remembered(one: Listed, rests_on: str) -> Remembered | None:
    """What is remembered of a site; None if its text has changed since.

    Args:
        one: the site.
        rests_on: the basis of today.
    """
    if one.known is None or one.known.digest != one.digest:
        return None
    said = json.loads(one.known.said)
    whole = said["tally"] if one.known.key == rests_on else None
    doors = tuple(
        DoorLine(door["id"], door["name"], _tally(door["tally"] if whole else None))
        for door in said["doors"]
    )
    return Remembered(said["place"], doors, _tally(whole))


def remember(
    desk: Desk, one: Listed, digest: str, rests_on: str, known: Remembered
) -> None:
    """Keep what a list says of a site; where that cannot be kept, nothing is lost.

    A doorway that cannot be judged is asked again each time, in the language of
    whoever asks.
    """
    if any(door.refused for door in known.doors):
        return
    found = Known(digest, rests_on, json.dumps(asdict(known), ensure_ascii=False))
    if found != one.known:
        with suppress(NotKeptError):
            know(desk.library, one.id, found)


def _tally(counts: dict[str, Any] | None) -> Tally | None:
    return Tally(**counts) if counts else None


@cache
def _limen() -> int:
    """When any part of limen was last written: rules and questions may have changed."""
    here = Path(limen.__file__).parent
    kinds = (".py", ".toml")
    return max(one.stat().st_mtime_ns for one in here.rglob("*") if one.suffix in kinds)
