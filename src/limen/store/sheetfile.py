"""Sensor sheets in: found by name beside the site file, else among our generic ones."""

import os
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path

from limen.model.sheet import Sheet
from limen.quantity import Grade
from limen.store.editing import digest
from limen.store.reading import read_document, read_text

BESIDE = "sheets"
"""Name of the folder beside a site file in which its own sheets lie."""


@dataclass(frozen=True, slots=True)
class SheetText:
    """A sensor sheet as it was found, not yet read.

    Attributes:
        path: the file, for messages; a name of ours for a generic one.
        text: the text of the file.
    """

    path: str
    text: str


@dataclass(frozen=True, slots=True)
class SheetFile:
    """A sensor sheet as it was read.

    Attributes:
        name: its name in site files.
        path: the file; a name of ours for a generic one.
        text: the text of the file, the truth.
        digest: of the text.
        sheet: what it says.
    """

    name: str
    path: str
    text: str
    digest: str
    sheet: Sheet


def read_sheet(
    name: str,
    folders: Sequence[Path] = (),
    given: Mapping[str, SheetText] | None = None,
) -> SheetFile | None:
    """Read the sheet of this name.

    Args:
        name: a plain id, already checked: small letters, digits and hyphens.
        folders: folders to look in, in this order, before the generic sheets.
        given: sheets that were found before, by name; they go before the folders.

    Returns:
        The sheet, or None if there is none of this name.

    Raises:
        FileFaults: what is wrong with the file; one that is there and cannot be
            read is never passed over for another of the same name.
    """
    found = (given or {}).get(name) or find_sheet(name, folders)
    return None if found is None else _read(name, found.path, found.text)


def find_sheet(name: str, folders: Sequence[Path] = ()) -> SheetText | None:
    """Find the sheet of this name; it is not read yet.

    Args:
        name: a plain id, already checked: small letters, digits and hyphens.
        folders: folders to look in, in this order, before the generic sheets.

    Returns:
        The sheet, or None if there is none of this name.

    Raises:
        FileFaults: the file is there and is no text.
    """
    for folder in folders:
        path = folder / f"{name}.toml"
        if _stands(path):
            return SheetText(str(path), read_text(path))
    text = generic_text(name)
    return None if text is None else SheetText(f"limen/sheets/{name}.toml", text)


def generic_text(name: str) -> str | None:
    """The text of the generic sheet of this name; None if there is none."""
    generic = _generic().joinpath(f"{name}.toml")
    return generic.read_text("utf-8") if generic.is_file() else None


def parse_sheet(text: str, *, name: str) -> Sheet:
    """Turn the text of a sheet into a sheet.

    Args:
        text: the text.
        name: the file's name, for messages.

    Raises:
        FileFaults: everything that is wrong with the text.
    """
    return read_document(text, Sheet, name=name, context={"grade": Grade.SHEET})


def sheet_names(folders: Sequence[Path] = ()) -> tuple[str, ...]:
    """Names of all sheets that a site file may use, sorted."""
    places: list[Traversable | Path] = [_generic()]
    places += [folder for folder in folders if folder.is_dir()]
    names = {one.name for place in places for one in place.iterdir()}
    toml = [name for name in names if name.endswith(".toml")]
    return tuple(sorted(name.removesuffix(".toml") for name in toml))


def _generic() -> Traversable:
    return files("limen").joinpath(BESIDE)


def _stands(path: Path) -> bool:
    """Whether something stands there, be it a link that leads nowhere."""
    try:
        os.lstat(path)
    except (FileNotFoundError, NotADirectoryError):
        return False
    except OSError:
        return True
    return True


@lru_cache(maxsize=64)
def _read(name: str, path: str, text: str) -> SheetFile:
    """The sheet; many doors use the same, and it is read once."""
    sheet = parse_sheet(text, name=path)
    return SheetFile(name, path, text, digest(text), sheet)
