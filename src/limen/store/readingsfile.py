"""Readings files in: what was read at one doorway, and the site it belongs to."""

import os
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import cast

from limen.model.doorway import Doorway
from limen.model.readings import Readings, SpotCentre, UnitRead
from limen.model.sheet import Presence
from limen.quantity import Grade
from limen.store.explaining import key_text
from limen.store.faults import Fault, FileFaults, printable
from limen.store.reading import read_document, read_text
from limen.store.syntax import read_toml
from limen.store.tomllines import Path as KeyPath
from limen.store.tomllines import locate


@dataclass(frozen=True, slots=True)
class ReadingsFile:
    """A readings file as it was read.

    Attributes:
        path: the file.
        text: its text.
        readings: what it says.
    """

    path: Path
    text: str
    readings: Readings

    @property
    def site(self) -> Path:
        """The site file that it names, from where the readings file lies."""
        return self.path.parent / self.readings.site


def read_readings(path: str | os.PathLike[str]) -> ReadingsFile:
    """Read a readings file; whether it fits its site is asked by `agreeing`.

    Args:
        path: the file.

    Raises:
        FileFaults: everything that is wrong with it.
    """
    place = Path(path)
    text = read_text(path)
    return ReadingsFile(place, text, parse_readings(text, name=os.fspath(path)))


def parse_readings(text: str, *, name: str) -> Readings:
    """Turn the text of a readings file into readings.

    Args:
        text: the text.
        name: the file's name, for messages.

    Raises:
        FileFaults: everything that is wrong with the text.
    """
    return read_document(text, Readings, name=name, context={"grade": Grade.MEASURED})


def agreeing(
    readings: Readings, doorways: Mapping[str, Doorway], text: str, *, name: str
) -> Doorway:
    """The doorway that readings belong to, once they fit it.

    Args:
        readings: what was read.
        doorways: those of the site, by id, sheets hung on.
        text: the text of the readings, for the lines of what does not fit.
        name: the file's name, for messages.

    Raises:
        FileFaults: there is no such doorway, fitting, row or spot.
    """
    door = doorways.get(readings.doorway)
    clashes = (
        [(("doorway",), "the site has no such doorway", ", ".join(sorted(doorways)))]
        if door is None
        else list(_clashes(readings, door))
    )
    if clashes or door is None:
        data, lines = read_toml(text).data, locate(text)
        raise FileFaults(name, [_fault(clash, data, lines) for clash in clashes])
    return door


_Clash = tuple[KeyPath, str, str]


def _clashes(readings: Readings, door: Doorway) -> Iterator[_Clash]:
    sheets = {fitting.id: fitting.unit for fitting in door.fitting}
    throws = [name for name, sheet in sheets.items() if sheet and sheet.presence]
    for number, unit in enumerate(readings.unit):
        at: KeyPath = ("unit", number)
        sheet = sheets.get(unit.fitting)
        presence = sheet.presence if sheet else None
        if presence is not None:
            yield from _rows(unit, presence, at)
            continue
        there = unit.fitting in sheets
        why = (
            "this unit throws no rows that could be read, or its sheet is not known"
            if there
            else "the doorway has no such fitting"
        )
        yield (*at, "fitting"), why, " or ".join(throws) or "a fitting with rows"


def _rows(unit: UnitRead, presence: Presence, at: KeyPath) -> Iterator[_Clash]:
    rows = presence.rows
    for place, one in enumerate(unit.reading):
        where: KeyPath = (*at, "reading", place)
        if one.row is not None and one.row > len(rows):
            accepted = f"1 to {len(rows)}; leave it out if it is not known"
            yield (*where, "row"), f"the sheet has {len(rows)} rows", accepted
            continue
        spots = rows[(one.row or 1) - 1].spots
        if isinstance(one, SpotCentre) and (one.spot or 0) > spots:
            accepted = f"1 to {spots} from the left; leave it out if it is not known"
            yield (*where, "spot"), f"the row has {spots} spots", accepted


def _fault(clash: _Clash, data: object, lines: Mapping[KeyPath, int]) -> Fault:
    path, why, accepted = clash
    value: object = data
    for part in path:
        value = cast("Mapping[str | int, object]", value)[part]
    found = f'"{value}"' if isinstance(value, str) else str(value)
    return Fault(key_text(path, data), lines.get(path), printable(found), why, accepted)
