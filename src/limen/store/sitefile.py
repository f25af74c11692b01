"""Site files in: the text is the truth, the site is what it says."""

import os
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import cast

from limen.model.doorway import Doorway
from limen.model.sheet import Sheet
from limen.model.site import Site
from limen.quantity import Grade
from limen.store.agreeing import Clash, clashes
from limen.store.editing import digest
from limen.store.explaining import key_text
from limen.store.faults import Fault, FileFaults, printable
from limen.store.reading import read_document, read_text
from limen.store.sheetfile import (
    BESIDE,
    SheetFile,
    SheetText,
    read_sheet,
    sheet_names,
)
from limen.store.short import (
    NONE,
    NOT_KNOWN,
    SIDES,
    Written,
    in_full,
    path_in_short,
)
from limen.store.syntax import read_toml
from limen.store.tomllines import Path as KeyPath
from limen.store.tomllines import locate
from limen.store.weatherfile import with_weather

_PLAIN = re.compile(r"[a-z0-9][a-z0-9-]{0,39}")


@dataclass(frozen=True, slots=True)
class SiteFile:
    """A site as it was read.

    Attributes:
        path: the file.
        text: the text of the file, the truth: what is saved is an edit of it.
        digest: of the text, to be given back when an edit of it is saved.
        site: what it says, every doorway in full, each fitting with its sheet
            hung on.
        sheets: the sheets it uses, by name.
    """

    path: Path
    text: str
    digest: str
    site: Site
    sheets: tuple[SheetFile, ...]


class SiteFaults(FileFaults):
    """Everything wrong with a site file and the sheets it uses, file by file.

    Attributes:
        parts: the faults of each file, the site file first.
    """

    def __init__(self, file: str, parts: Sequence[FileFaults]) -> None:
        """Keep the parts; told as one."""
        self.parts = tuple(parts)
        super().__init__(file, [fault for part in parts for fault in part.faults])

    def __reduce__(self) -> tuple[type["SiteFaults"], tuple[object, ...]]:  # pyright: ignore[reportIncompatibleMethodOverride]  # made from other parts
        """Cross a process border whole."""
        return SiteFaults, (self.file, self.parts)

    def lines(self) -> list[str]:
        """Tell all faults, file by file."""
        return [line for part in self.parts for line in part.lines()]


def read_site(
    path: str | os.PathLike[str],
    *,
    sheet_folders: Sequence[Path] = (),
    kept: Path | None = None,
) -> SiteFile:
    """Read a site file and the sheets it uses.

    Args:
        path: the file.
        sheet_folders: further folders with sheets, looked into after the folder
            ``sheets`` beside the file and before our generic ones.
        kept: folder where years of weather are kept that were read before.

    Raises:
        FileFaults: everything that is wrong with the file and its sheets.
    """
    place = Path(path)
    folders = (place.parent / BESIDE, *sheet_folders)
    return parse_site(read_text(path), place, folders, kept)


def parse_site(
    text: str,
    path: Path,
    folders: Sequence[Path] = (),
    kept: Path | None = None,
    given: Mapping[str, SheetText] | None = None,
) -> SiteFile:
    """Turn the text of a site file into a site.

    Args:
        text: the text.
        path: the file, for messages.
        folders: folders with sheets, looked into before our generic ones.
        kept: folder where years of weather are kept that were read before.
        given: sheets that were found before, by name; they go before the folders.

    Raises:
        FileFaults: everything that is wrong with the text and its sheets.
    """
    return _parsed(text, path, folders, kept, given)[1]


def parse_written(text: str, path: Path) -> Written:
    """Turn the text of a site file into what is written there, short forms as such.

    Args:
        text: the text.
        path: the file, for messages; sheets are looked for beside it.

    Raises:
        FileFaults: everything that is wrong with the text and its sheets.
    """
    return _parsed(text, path, (path.parent / BESIDE,))[0]


def sheets_named(data: object) -> tuple[str, ...]:
    """The sheets that a site file names, each once.

    Args:
        data: the document, though it be at fault elsewhere.
    """
    return tuple(dict.fromkeys(sheet for _, sheet in _named(data)))


def _parsed(
    text: str,
    path: Path,
    folders: Sequence[Path],
    kept: Path | None = None,
    given: Mapping[str, SheetText] | None = None,
) -> tuple[Written, SiteFile]:
    name = os.fspath(path)
    parts: list[FileFaults] = []
    written = _written(text, name, parts)
    data = read_toml(text).data
    sheets, missing = _sheets(data, folders, parts, given)
    site = None if written is None else _hung(in_full(written), sheets)
    site = None if site is None else with_weather(site, folders, kept)
    own = [*_missing(data, text, missing, folders)]
    if written is not None and site is not None:
        own += _clashing(_told_in_file(written, site), data, text)
    if own:
        parts[:0] = [FileFaults(name, own)]
    if parts or written is None or site is None:
        raise SiteFaults(name, _joined(parts))
    used = tuple(sheets[key] for key in sorted(sheets))
    return written, SiteFile(path, text, digest(text), site, used)


def _written(text: str, name: str, parts: list[FileFaults]) -> Written | None:
    context = {"grade": Grade.MEASURED}
    try:
        return read_document(text, Written, name=name, context=context)
    except FileFaults as faults:
        parts.append(faults)
        return None


def _joined(parts: Sequence[FileFaults]) -> list[FileFaults]:
    """The faults of one file in one part, files in the order they were read."""
    files = dict.fromkeys(part.file for part in parts)
    return [
        FileFaults(
            file, [f for part in parts if part.file == file for f in part.faults]
        )
        for file in files
    ]


# Sheets ------------------------------------------------------------------------


def _named(data: object) -> Iterator[tuple[KeyPath, str]]:
    """Every sheet that fittings name, though the site be at fault elsewhere."""
    for path, sheet in _sheet_keys(data):
        plain = isinstance(sheet, str) and _PLAIN.fullmatch(sheet)
        if plain and sheet != NOT_KNOWN:
            yield path, str(sheet)


def _sheet_keys(data: object) -> Iterator[tuple[KeyPath, object]]:
    """Every key under which a sheet may be named, and what stands there."""
    for number, door in enumerate(_tables(data, "doorway")):
        for place, fitting in enumerate(_tables(door, "fitting")):
            path = ("doorway", number, "fitting", place, "sheet")
            yield path, fitting.get("sheet")
    for number, short in enumerate(_tables(data, "short")):
        for key in (f"unit_{side}" for side in SIDES):
            if short.get(key) != NONE:
                yield ("short", number, key), short.get(key)


def _tables(data: object, key: str) -> list[Mapping[str, object]]:
    """The tables of a list of tables; what is none counts as an empty one."""
    if not isinstance(data, Mapping):
        return []
    found = cast("Mapping[str, object]", data).get(key)
    items = cast("list[object]", found) if isinstance(found, list) else []
    return [
        cast("Mapping[str, object]", item) if isinstance(item, Mapping) else {}
        for item in items
    ]


def _sheets(
    data: object,
    folders: Sequence[Path],
    parts: list[FileFaults],
    given: Mapping[str, SheetText] | None,
) -> tuple[dict[str, SheetFile], set[str]]:
    """The sheets that are there, and the names of those that are not."""
    sheets: dict[str, SheetFile] = {}
    missing: set[str] = set()
    for name in sheets_named(data):
        try:
            found = read_sheet(name, folders, given)
        except FileFaults as faults:
            parts.append(faults)
            continue
        if found is None:
            missing.add(name)
        else:
            sheets[name] = found
    return sheets, missing


def _hung(site: Site, sheets: Mapping[str, SheetFile]) -> Site:
    """The site with each fitting's sheet hung on it."""
    doors = tuple(_with_sheets(door, sheets) for door in site.doorway)
    return site.model_copy(update={"doorway": doors})


def _with_sheets(door: Doorway, sheets: Mapping[str, SheetFile]) -> Doorway:
    fittings = tuple(
        fitting.model_copy(update={"unit": _sheet(sheets.get(fitting.sheet))})
        for fitting in door.fitting
    )
    return door.model_copy(update={"fitting": fittings})


def _sheet(file: SheetFile | None) -> Sheet | None:
    return None if file is None else file.sheet


# Faults that only the whole shows ----------------------------------------------


def _missing(
    data: object, text: str, missing: set[str], folders: Sequence[Path]
) -> Iterator[Fault]:
    if not missing:
        return
    lines = locate(text)
    known = ", ".join(sheet_names(folders))
    for path, name in _named(data):
        if name in missing:
            yield Fault(
                key_text(path, data),
                lines.get(path),
                f'"{name}"',
                "there is no sensor sheet of this name",
                f"a file {BESIDE}/{name}.toml beside this one, or one of: {known}",
                'sheet = "two-row"',
            )


def _told_in_file(written: Written, site: Site) -> Iterator[Clash]:
    """What does not agree, at the keys that the file has.

    A short form without the place of a lens contradicts nothing: it is not known.
    """
    first = len(written.doorway)
    for clash in clashes(site):
        number = int(clash.path[1])
        if number < first:
            yield clash
        elif clash.path[-1] != "lens":
            short = written.short[number - first]
            within = path_in_short(short, clash.path[2:])
            yield replace(clash, path=("short", number - first, *within), example="")


def _clashing(told: Iterable[Clash], data: object, text: str) -> list[Fault]:
    found = list(told)
    lines = locate(text) if found else {}
    return [
        Fault(
            key_text(clash.path, data),
            _line(clash.path, lines),
            _found(data, clash.path),
            clash.why,
            clash.accepted,
            clash.example,
        )
        for clash in found
    ]


def _line(path: KeyPath, lines: Mapping[KeyPath, int]) -> int | None:
    """The line of the key, or of the table in which it is missing."""
    ways = (path[:length] for length in range(len(path), 0, -1))
    return next((lines[way] for way in ways if way in lines), None)


def _found(data: object, path: KeyPath) -> str:
    """What stands there, shortened; empty where nothing does."""
    value = data
    for part in path:
        if isinstance(value, Mapping):
            value = cast("Mapping[str | int, object]", value).get(part)
        elif isinstance(value, list) and isinstance(part, int):
            value = cast("list[object]", value)[part]
    if isinstance(value, str):
        return printable(f'"{value}"')
    return "" if value is None or isinstance(value, dict | list) else str(value)
