"""The sensor sheets at hand: the generic ones and the user's own; read, kept, used by.

An own sheet is a file in the folder ``sheets`` of the data folder; its text is the
truth.  A sheet is never overwritten by somebody who has not seen what is there.
"""

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from limen.desk.library import Desk, FileFaults, Stored, read_stored
from limen.desk.refusal import Refusal, refusing
from limen.desk.sheet_form import Flat, beyond, faults_by_field, named_twice, raw_of
from limen.findings import Message
from limen.store.editing import ChangedOnDiskError, digest, save
from limen.store.faults import Fault
from limen.store.reading import decode, read_text
from limen.store.sheet_writing import changed_text, sheet_text
from limen.store.sheetfile import generic_text, parse_sheet, sheet_names
from limen.words import say

if TYPE_CHECKING:
    from limen.model.sheet import Sheet

_NAME = re.compile(r"[a-z0-9][a-z0-9-]{0,39}")
RESERVED = frozenset({"new", "none", "not-known"})
"""Names that mean something else in site files or addresses."""


@dataclass(frozen=True, slots=True)
class ShelfSheet:
    """A sheet at hand.

    Attributes:
        name: its name in site files.
        own: whether it is the user's own.
        text: its file, as it stands; empty where that is no text.
        digest: of the text.
        sheet: what it says; None where it cannot be read.
        faults: why it cannot be read.
    """

    name: str
    own: bool
    text: str
    digest: str
    sheet: "Sheet | None"
    faults: tuple[Fault, ...] = ()

    @property
    def raw(self) -> dict[str, Any]:
        """What it says, as TOML gives it; nothing where it cannot be read."""
        return tomllib.loads(self.text) if self.sheet is not None else {}


@dataclass(frozen=True, slots=True)
class Use:
    """A site in which a sheet is used.

    Attributes:
        site: its id.
        name: its name.
        doors: id and name of the doorways whose units it describes.
    """

    site: str
    name: str
    doors: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class SheetClash:
    """A sheet that somebody else has changed since it was opened.

    Attributes:
        mine: the text that was not saved.
        theirs: the sheet as it stands now; None if it is gone.
    """

    mine: str
    theirs: ShelfSheet | None


class NoSuchSheetError(Exception):
    """There is no sheet of this name."""


class SheetTakenError(Exception):
    """A sheet of this name is there already, or the name means something else.

    Attributes:
        why: which of these, in words.
    """

    def __init__(self, why: str) -> None:
        super().__init__(why)
        self.why = why


class FormFaultsError(Exception):
    """Fields that do not make a sheet.

    Attributes:
        faults: why, by field; an empty key where no field can be named.
        text: the text they made.
    """

    def __init__(self, faults: Mapping[str, Fault], text: str) -> None:
        super().__init__("; ".join(f"{key}: {one.why}" for key, one in faults.items()))
        self.faults = dict(faults)
        self.text = text


# Looking ---------------------------------------------------------------------------


def sheets_at_hand(desk: Desk) -> tuple[ShelfSheet, ...]:
    """Every sheet that a site may name, in the order of their names."""
    names = sheet_names((desk.sheets,))
    return tuple(sheet_at_hand(desk, one) for one in names if _NAME.fullmatch(one))


def sheet_at_hand(desk: Desk, name: str) -> ShelfSheet:
    """One sheet; an own one goes before a generic one of the same name.

    Raises:
        NoSuchSheetError: there is none.
    """
    if _NAME.fullmatch(name) is None:
        raise NoSuchSheetError(name)
    path = _path(desk, name)
    if path.exists():
        return _own(name, path)
    text = generic_text(name)
    if text is None:
        raise NoSuchSheetError(name)
    return ShelfSheet(name, False, text, digest(text), parse_sheet(text, name=name))  # noqa: FBT003


def uses(desk: Desk) -> dict[str, tuple[Use, ...]]:
    """By sheet, the sites that use it; sites that cannot be read are left out."""
    found: dict[str, list[Use]] = {}
    for one in desk.library.sites():
        stored = desk.library.read(one.id)
        for name, inside in _doors(desk, stored).items():
            use = Use(stored.id, stored.name, tuple(inside.items()))
            found.setdefault(name, []).append(use)
    return {name: tuple(one) for name, one in found.items()}


def named_in(desk: Desk, site_id: str) -> tuple[str, ...]:
    """The sheets that the text of a site names and that are at hand."""
    at_hand, stored = sheet_names((desk.sheets,)), desk.library.read(site_id)
    return tuple(name for name in sorted(_doors(desk, stored)) if name in at_hand)


def _doors(desk: Desk, stored: Stored) -> dict[str, dict[str, str]]:
    """By sheet, id and name of the doorways of a site in which it is used."""
    try:
        site = read_stored(desk, stored)[0].site
    except FileFaults:
        return {}
    doors: dict[str, dict[str, str]] = {}
    for door in site.doorway:
        for fitting in door.fitting:
            doors.setdefault(fitting.sheet, {})[door.id] = door.name
    return doors


# Keeping ---------------------------------------------------------------------------


def add_sheet(desk: Desk, name: str, data: bytes | str) -> ShelfSheet:
    """Keep a sheet from the text of its file, every byte as it came.

    Raises:
        SheetTakenError: this can be no name, or is one already.
        FileFaults: everything that is wrong with the text; nothing is kept.
        Refusal: the folder cannot be written to.
    """
    _refuse_name(desk, name)
    text = decode(data.encode() if isinstance(data, str) else data, name=name)
    parse_sheet(text, name=name)
    try:
        _write(desk, name, text, None)
    except ChangedOnDiskError:
        raise SheetTakenError(_taken(name)) from None
    return sheet_at_hand(desk, name)


def add_form(desk: Desk, name: str, flat: Flat) -> ShelfSheet:
    """Keep a sheet that was typed into a form.

    Raises:
        SheetTakenError: this can be no name, or is one already.
        FormFaultsError: what is wrong, by field; nothing is kept.
    """
    begun = say(Message("sheet_page.begun"))
    text = sheet_text(raw_of(flat), [begun])
    _judge(text, flat, name)
    return add_sheet(desk, name, text)


def save_sheet(
    desk: Desk, name: str, data: bytes | str, base: str
) -> ShelfSheet | SheetClash:
    """Keep another text of an own sheet, unless somebody else has changed it since.

    Args:
        desk: the desk.
        name: of the sheet.
        data: the text.
        base: digest of the text it was made from.

    Raises:
        NoSuchSheetError: there is none of this name.
        Refusal: it is a generic one, or the folder cannot be written to.
        FileFaults: everything that is wrong with the text; nothing is kept.
    """
    now = _changeable(desk, name)
    text = decode(data.encode() if isinstance(data, str) else data, name=name)
    if now.digest != base and now.text != text:
        return SheetClash(text, now)
    parse_sheet(text, name=name)
    try:
        _write(desk, name, text, now.digest)
    except ChangedOnDiskError:
        return SheetClash(text, _if_there(desk, name))
    return sheet_at_hand(desk, name)


def save_form(desk: Desk, name: str, flat: Flat, base: str) -> ShelfSheet | SheetClash:
    """Keep an own sheet as a form says it; its comments stay.

    Raises:
        NoSuchSheetError: there is none of this name.
        Refusal: it is a generic one, or the folder cannot be written to.
        FormFaultsError: what is wrong, by field; nothing is kept.
    """
    now = _changeable(desk, name)
    raw = raw_of(flat)
    text = changed_text(now.text, raw) if now.sheet else sheet_text(raw)
    _judge(text, flat, name)
    return save_sheet(desk, name, text, base)


# Within ----------------------------------------------------------------------------


def _judge(text: str, flat: Flat, name: str) -> None:
    """Refuse what makes no sheet, each fault at its field."""
    faults = {
        key: Fault(key, None, f'"{one}"', say(Message("sheet_page.twice")), "")
        for key, one in named_twice(flat).items()
    }
    far = say(Message("sheet_page.too_many"))
    faults |= {key: Fault(key, None, "", far, "") for key in beyond(flat)}
    try:
        parse_sheet(text, name=name)
    except FileFaults as told:
        faults = {**faults_by_field(tuple(told.faults), flat), **faults}
    if faults:
        raise FormFaultsError(faults, text)


def _path(desk: Desk, name: str) -> Path:
    return desk.sheets / f"{name}.toml"


def _own(name: str, path: Path) -> ShelfSheet:
    text = ""
    try:
        text = read_text(path)
        return ShelfSheet(name, True, text, digest(text), parse_sheet(text, name=name))  # noqa: FBT003
    except FileFaults as faults:
        told = tuple(faults.faults)
        return ShelfSheet(name, True, text, digest(text), None, told)  # noqa: FBT003


def _changeable(desk: Desk, name: str) -> ShelfSheet:
    found = sheet_at_hand(desk, name)
    if not found.own:
        raise Refusal([say(Message("sheet_page.refused.generic"))])
    return found


def _if_there(desk: Desk, name: str) -> ShelfSheet | None:
    try:
        return sheet_at_hand(desk, name)
    except NoSuchSheetError:
        return None


def _refuse_name(desk: Desk, name: str) -> None:
    if _NAME.fullmatch(name) is None or name in RESERVED:
        raise SheetTakenError(say(Message("sheet_page.refused.name")))
    if generic_text(name) is not None or _path(desk, name).exists():
        raise SheetTakenError(_taken(name))


def _taken(name: str) -> str:
    return say(Message("sheet_page.refused.taken", {"name": name}))


def _write(desk: Desk, name: str, text: str, expected: str | None) -> None:
    with refusing():
        desk.sheets.mkdir(mode=0o700, parents=True, exist_ok=True)
        save(_path(desk, name), text, expected=expected)
