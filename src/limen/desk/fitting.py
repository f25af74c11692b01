"""Readings at the door: where units really hang, what to turn, and keeping it."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from importlib.metadata import version
from pathlib import Path
from typing import TYPE_CHECKING

from limen.desk.clock import today
from limen.desk.library import (
    Clash,
    Desk,
    Edits,
    FileFaults,
    Opened,
    Stored,
    book_of,
    save_edits,
    study_of,
)
from limen.desk.refusal import Refusal, refusing
from limen.findings import Message
from limen.words import say

if TYPE_CHECKING:
    from collections.abc import Sequence

    from limen.findings import Change
    from limen.findings.fitted import DoorwayFitted, ToRead, UnitsFitted
    from limen.model.doorway import Doorway
    from limen.model.readings import Readings
    from limen.model.site import Site

__all__ = [
    "FileFaults",
    "FittedFile",
    "edits_of",
    "fit",
    "fit_at_once",
    "fit_file",
    "read_typed",
    "readings_text",
    "struck",
    "to_read",
    "typed",
    "write_file",
    "write_fit",
]

FILE = "readings"


@dataclass(frozen=True, slots=True)
class FittedFile:
    """A readings file and what it shows.

    Attributes:
        path: the readings file.
        site: the site as read.
        site_path: its file.
        readings: what was read.
        fitted: what it shows.
        on: the day for which it was asked.
    """

    path: Path
    site: "Site"
    site_path: Path
    readings: "Readings"
    fitted: "DoorwayFitted"
    on: date


# Files ---------------------------------------------------------------------------


def fit_file(path: str | Path, *, on: date | None = None) -> FittedFile:
    """Read a readings file and the site it names, and fit its units.

    Args:
        path: the readings file.
        on: the day; today if not given.

    Raises:
        Refusal: whatever cannot be used, all of it together.
    """
    from limen.desk.shelves import DEFAULT, judging, shelf
    from limen.desk.sites import read
    from limen.store.readingsfile import agreeing, read_readings
    from limen.tune.fitting import fit_doorway

    with refusing():
        file = read_readings(path)
    site = read(file.site).site
    with refusing():
        doors = {door.id: door for door in site.doorway}
        door = agreeing(file.readings, doors, file.text, name=str(path))
    (book,) = judging([door], shelf(), site.rulebook or DEFAULT, None)
    day = on or today()
    fitted = fit_doorway(
        door, file.readings, book, on=day, site=site, version=version("limen")
    )
    return FittedFile(Path(path), site, file.site, file.readings, fitted, day)


def write_file(done: FittedFile, path: str | Path) -> Path:
    """Write the site file as its units hang; comments and order are kept.

    Args:
        done: a readings file that was fitted.
        path: the file to write; one that is there stays as it is.

    Raises:
        Refusal: nothing of it is to be written, there is such a file, or it cannot
            be written.
    """
    import tomllib

    from limen.desk.library_edits import edited_text
    from limen.store.reading import read_text

    edits, target = _some(edits_of(done.fitted.changes)), Path(path)
    with refusing():
        text = read_text(done.site_path)
        new = edited_text(text, tomllib.loads(text), done.fitted.doorway, edits)
        with target.open("x", encoding="utf-8") as file:
            file.write(new)
    return target


# The library ---------------------------------------------------------------------


def typed(values: Mapping[str, object]) -> "Readings":
    """What was typed into a form, as readings.

    Args:
        values: as TOML would give them: texts with their units.

    Raises:
        FileFaults: everything that is wrong, by key.
    """
    from limen.store.readings_writing import written

    return read_typed(written(values))


def read_typed(text: str, name: str = FILE) -> "Readings":
    """The text of a readings file, as readings.

    Args:
        text: the text.
        name: the file's name, for messages.

    Raises:
        FileFaults: everything that is wrong with it, by line and key.
    """
    from limen.store.readingsfile import parse_readings

    return parse_readings(text, name=name)


def readings_text(readings: "Readings") -> str:
    """A readings file that says this; it reads back the same."""
    from limen.store.readings_writing import readings_text as text_of

    return text_of(readings)


def fit(
    desk: Desk, opened: Opened, doorway_id: str, readings: "Readings"
) -> "DoorwayFitted":
    """Where the units of a doorway hang by their readings, and what to turn.

    Args:
        desk: the desk.
        opened: the site.
        doorway_id: the doorway; what the readings name is not asked.
        readings: what was read.

    Raises:
        Refusal: there is no such doorway, or nothing settles its edition.
        FileFaults: the doorway has no such fitting, row or spot.
    """
    from limen.tune.fitting import fit_doorway

    door = _agreeing(opened, doorway_id, readings)
    return fit_doorway(
        door,
        readings,
        book_of(desk, opened.site, door),
        on=desk.day(),
        site=opened.site,
        version=version("limen"),
        before=study_of(desk, opened, doorway_id),
    )


def fit_at_once(opened: Opened, doorway_id: str, readings: "Readings") -> "UnitsFitted":
    """Where the units hang, no study asked: quick enough while somebody types.

    Args:
        opened: the site.
        doorway_id: the doorway; what the readings name is not asked.
        readings: what was read.

    Raises:
        Refusal: there is no such doorway.
        FileFaults: the doorway has no such fitting, row or spot.
    """
    from limen.tune.fitting import fit_units

    return fit_units(_agreeing(opened, doorway_id, readings), readings)


def struck(readings: "Readings", fitting: str, number: int) -> "Readings":
    """The readings with one struck: kept as it was read, and left out of the fit.

    Args:
        readings: of a doorway.
        fitting: the unit.
        number: the reading's place among the unit's, from 1.
    """
    from limen.tune.fitting import without

    return without(readings, fitting, number)


def to_read(doorway: "Doorway", fitting: str) -> "tuple[ToRead, ...]":
    """What to tape of a unit: its lens, the useful minimum, and one reading more.

    Args:
        doorway: as described, sheets hung on its fittings.
        fitting: id of a unit that throws rows.

    Raises:
        KeyError: the doorway has no such fitting.
        ValueError: the unit throws no rows.
    """
    from limen.tune.fitting_wanted import to_read as wanted

    return wanted(doorway, fitting)


def edits_of(changes: "Sequence[Change]") -> Edits:
    """What of a fit is written into the site: values by key.

    Args:
        changes: what the readings show to be otherwise.
    """
    return {f"fitting[{one.fitting}].{one.setting}": one.value for one in changes}


def write_fit(
    desk: Desk,
    site_id: str,
    doorway_id: str,
    changes: "Sequence[Change]",
    base_version: int,
) -> Stored | Clash:
    """Keep what a fit shows, as one version of the site.

    Args:
        desk: the desk.
        site_id: the site.
        doorway_id: the doorway.
        changes: what its readings show to be otherwise.
        base_version: the version that was fitted.

    Returns:
        The site as it is kept now; a `Clash` with both texts where somebody else
        has saved since.

    Raises:
        NoSuchSiteError: there is no such site.
        Refusal: nothing of it is to be written, or there is no such doorway.
        FileFaults: a value is not accepted; nothing is saved.
    """
    edits = _some(edits_of(changes))
    return save_edits(desk, site_id, doorway_id, edits, base_version)


def _some(edits: Edits) -> Edits:
    if not edits:
        raise Refusal([say(Message("readings.nothing_to_write"))])
    return edits


def _agreeing(opened: Opened, doorway_id: str, readings: "Readings") -> "Doorway":
    from limen.store.readings_writing import readings_text as text_of
    from limen.store.readingsfile import agreeing

    door = opened.doorway(doorway_id)
    named = readings.model_copy(update={"doorway": doorway_id})
    return agreeing(named, {door.id: door}, text_of(named), name=FILE)
