"""A library of sites: opened, looked through, tried out, saved.

Every verb takes the `Desk` first.  What cannot be used comes back as a `Refusal`
or, where a text is at fault, as `FileFaults`: line, reason, what is accepted.
Nothing is kept of a text that was refused; whoever sent it still has it.
"""

import os
import sys
import tomllib
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import partial
from importlib.metadata import version as installed
from pathlib import Path
from secrets import token_hex
from typing import TYPE_CHECKING, Any, Literal

from limen.desk.cache import weather_cache
from limen.desk.clock import now, today
from limen.desk.due_memory import DueMemory
from limen.desk.library_cache import Kept
from limen.desk.library_edits import Edits, edited_raw, edited_site, edited_text
from limen.desk.library_keys import doorway_key, lasting, sheets_state
from limen.desk.refusal import Refusal, refusing
from limen.desk.studied import Studied, note_study
from limen.findings import Finding, Message, Study
from limen.quantity import Show
from limen.store.database import (
    Clash,
    Known,
    Library,
    NoSuchSiteError,
    NothingToUndoError,
    NotKeptError,
    Stored,
    Version,
    data_home,
    open_library,
)
from limen.store.faults import Fault, FileFaults
from limen.store.sitefile import SiteFile, parse_site
from limen.words import say

if TYPE_CHECKING:
    from limen.model.doorway import Doorway
    from limen.model.site import Site
    from limen.rules import Rulebook
    from limen.store.bookshelf import Bookshelf

__all__ = [
    "Clash",
    "Desk",
    "Edits",
    "Fault",
    "FileFaults",
    "NoSuchSiteError",
    "NotKeptError",
    "NothingToUndoError",
    "Opened",
    "Preview",
    "Stored",
    "Version",
    "book_of",
    "drawing",
    "known_study",
    "open_desk",
    "open_site",
    "preview",
    "readable",
    "save_edits",
    "study_of",
]

FILE = "library.db"
VALUES = "values.toml"
"""A firm's own figures, read when the library is opened; it need not exist."""
ID_BYTES = 6

View = Literal["plan", "section", "front"]
Theme = Literal["paper", "slate", "plain"]


@dataclass(frozen=True, slots=True)
class Desk:
    """A library and what was computed of it.

    Attributes:
        library: the sites.
        sheets: the folder of the user's own sensor sheets; it need not exist.
        day: what day it is, asked anew for each study.
        shelf: the rulebooks.
        noted: by site, what a list says of it and is not yet in the library.
        parts: what versions say of one doorway, by site, number and doorway.
        studied: by doorway, what a list says of its study; the same.
        dues: what is known of the checks at all sites.
    """

    library: Library
    sheets: Path
    day: Callable[[], date]
    shelf: "Bookshelf"
    files: Kept[tuple[SiteFile, dict[str, Any]]] = field(
        default_factory=lambda: Kept[tuple[SiteFile, dict[str, Any]]](64)
    )
    books: Kept["Rulebook"] = field(default_factory=lambda: Kept["Rulebook"](32))
    studies: Kept[Study] = field(default_factory=lambda: Kept[Study](256))
    noted: dict[str, Known] = field(default_factory=dict[str, Known])
    parts: Kept[dict[str, Any] | None] = field(
        default_factory=lambda: Kept[dict[str, Any] | None](512)
    )
    studied: Studied = field(default_factory=Studied)
    dues: DueMemory = field(default_factory=DueMemory)
    reads: Kept[Mapping[str, frozenset[tuple[str | int, ...]]]] = field(
        default_factory=lambda: Kept[Mapping[str, frozenset[tuple[str | int, ...]]]](32)
    )

    @property
    def values(self) -> Path:
        """The file of a firm's own figures."""
        return self.sheets.parent / VALUES


@dataclass(frozen=True, slots=True)
class Opened:
    """A site as it is kept and what it says.

    Attributes:
        stored: id, name, text, version.
        site: what the text says, every doorway in full, sheets hung on.
    """

    stored: Stored
    site: "Site"

    def doorway(self, doorway_id: str) -> "Doorway":
        """One of its doorways.

        Raises:
            Refusal: there is none of this id.
        """
        try:
            return self.site.door(doorway_id)
        except KeyError:
            said = Message("desk.refused.no_doorway", {"doorway": doorway_id})
            raise Refusal([say(said)]) from None


@dataclass(frozen=True, slots=True)
class Preview:
    """A doorway with something changed that is not saved.

    Attributes:
        study: the findings as they would be.
        whole: whether every question was asked; a glance asks only where the rows
            land and who is missed.
        version: the version of the site that was changed.
        text: the site's text with the changes; empty after a glance.
    """

    study: Study
    whole: bool
    version: int
    text: str


def open_desk(path: Path | None = None, *, today: Callable[[], date] = today) -> Desk:
    """Open a library, made if there is none.

    Args:
        path: the database file; that of the user's data folder if not given.
        today: what day it is.

    Raises:
        Refusal: it cannot be made, opened or read.
    """
    from limen.desk.library_home import opening
    from limen.desk.shelves import shelf

    with opening():
        file = path or data_home(os.environ, sys.platform) / FILE
        library = open_library(file, now, partial(token_hex, ID_BYTES))
    sheets, values = file.parent / "sheets", file.parent / VALUES
    return Desk(library, sheets, today, shelf(values if values.is_file() else None))


def open_site(desk: Desk, site_id: str) -> Opened:
    """Read one site.

    Raises:
        NoSuchSiteError: there is none.
        FileFaults: its text cannot be read: a sheet was taken away.
    """
    stored = desk.library.read(site_id)
    return Opened(stored, read_stored(desk, stored)[0].site)


def readable(desk: Desk, site_id: str) -> Opened | None:
    """A site as it is kept; None if its text cannot be read: all else of it stands.

    Raises:
        NoSuchSiteError: there is none.
    """
    try:
        return open_site(desk, site_id)
    except FileFaults:
        return None


def study_of(desk: Desk, opened: Opened, doorway_id: str) -> Study:
    """All findings of a doorway as it is kept; computed once a text and day.

    Raises:
        Refusal: there is no such doorway, or nothing settles its edition.
    """
    raw = read_stored(desk, opened.stored)[1]
    opened.doorway(doorway_id)
    found = _studied(desk, opened.site, raw, doorway_id)
    key = lasting(desk.sheets, desk.shelf.values)
    note_study(desk.studied, opened.stored, found, key, desk.day())
    return found


def known_study(desk: Desk, opened: Opened, doorway_id: str) -> Study | None:
    """All findings of a doorway if they were asked for today, else None.

    Raises:
        Refusal: there is no such doorway, or nothing settles its edition.
    """
    door = opened.doorway(doorway_id)
    raw, book = read_stored(desk, opened.stored)[1], book_of(desk, opened.site, door)
    return desk.studies.get(_key(desk, raw, door, book))


def preview(
    desk: Desk, site_id: str, doorway_id: str, edits: Edits, *, glance: bool = False
) -> Preview:
    """The findings of a doorway with values changed; nothing is saved.

    Args:
        desk: the desk.
        site_id: the site.
        doorway_id: one of its doorways.
        edits: new values by key.
        glance: whether to leave out what takes long, while a hand still turns.

    Raises:
        NoSuchSiteError: there is no such site.
        Refusal: there is no such doorway, or a key leads nowhere.
        FileFaults: a value is not accepted, and why.
    """
    stored = desk.library.read(site_id)
    file, raw = read_stored(desk, stored)
    site = edited_site(file, raw, doorway_id, edits)
    changed = edited_raw(raw, doorway_id, edits)
    text = ""
    if site is None or not glance:
        text = edited_text(stored.text, raw, doorway_id, edits)
    if site is None:
        site = read_text(desk, text, stored.name)[0].site
    found = _studied(desk, site, changed, doorway_id, glance=glance)
    return Preview(found, not glance, stored.version, text)


def save_edits(
    desk: Desk, site_id: str, doorway_id: str, edits: Edits, base_version: int
) -> Stored | Clash:
    """Save values of a doorway, comments and order of the text kept.

    Args:
        desk: the desk.
        site_id: the site.
        doorway_id: one of its doorways.
        edits: new values by key.
        base_version: the version that was changed.

    Returns:
        The site as it is kept now; a `Clash` with both texts where somebody else
        has saved since.

    Raises:
        NoSuchSiteError: there is no such site.
        Refusal: there is no such doorway, or a key leads nowhere.
        FileFaults: a value is not accepted; nothing is saved.
    """
    stored = desk.library.read(site_id)
    base = desk.library.text(site_id, base_version)
    _, raw = read_text(desk, base, stored.name)
    text = edited_text(base, raw, doorway_id, edits)
    read_text(desk, text, stored.name)
    return desk.library.save(site_id, text, base_version)


def drawing(
    study: Study,
    view: View,
    *,
    finding: Finding | None = None,
    width_px: float = 1400,
    theme: Theme = "paper",
    units: Literal["metric", "feet"] = "metric",
) -> str:
    """A drawing of a doorway as SVG, with one finding shown in it.

    Args:
        study: the study.
        view: plan, section or front.
        finding: what is shown; the first thing to mend if none is named.
        width_px: its width; below 600 it is the narrow drawing.
        theme: paper, slate (dark) or plain.
        units: in which lengths are written.
    """
    from limen.desk.drawing import first_to_mend
    from limen.draw import scene, svg

    shown = finding or first_to_mend(study)
    drawn = scene(study, view, finding=shown, system=Show(units))
    return svg(drawn, width_px=width_px, theme=theme)


# Reading -----------------------------------------------------------------------


def read_stored(desk: Desk, stored: Stored) -> tuple[SiteFile, dict[str, Any]]:
    """What a stored text says, and the same as TOML gives it.

    Raises:
        FileFaults: it cannot be read.
    """
    return read_text(desk, stored.text, stored.name)


def read_text(desk: Desk, text: str, name: str) -> tuple[SiteFile, dict[str, Any]]:
    """What a text says, and the same as TOML gives it.

    Raises:
        FileFaults: everything that is wrong with it.
    """

    def made() -> tuple[SiteFile, dict[str, Any]]:
        file = parse_site(text, Path(name), (desk.sheets,), weather_cache())
        return file, tomllib.loads(text)

    return desk.files.ask((text, sheets_state(desk.sheets)), made)


# Studying ----------------------------------------------------------------------


def _studied(
    desk: Desk,
    site: "Site",
    raw: dict[str, Any],
    doorway_id: str,
    *,
    glance: bool = False,
) -> Study:
    from limen.study import study
    from limen.study.glimpse import glimpse

    day, door, version = desk.day(), site.door(doorway_id), installed("limen")
    book = book_of(desk, site, door)
    if glance:
        return glimpse(door, book, on=day, version=version)
    return desk.studies.ask(
        _key(desk, raw, door, book),
        lambda: study(door, book, on=day, site=site, version=version),
    )


def _key(
    desk: Desk, raw: dict[str, Any], door: "Doorway", book: "Rulebook"
) -> tuple[object, ...]:
    """Everything that the findings of a doorway rest on."""
    return doorway_key(raw, door, sheets_state(desk.sheets)), book.digest, desk.day()


def book_of(desk: Desk, site: "Site", door: "Doorway") -> "Rulebook":
    """The edition that judges a doorway.

    Raises:
        Refusal: nothing settles it.
    """
    from limen.desk.shelves import DEFAULT, judging

    name = site.rulebook or DEFAULT

    def made() -> "Rulebook":
        with refusing():
            (book,) = judging([door], desk.shelf, name, None)
        return book

    return desk.books.ask((name, door.commissioned, door.edition, door.id), made)
