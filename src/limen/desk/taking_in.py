"""Doors taken in from a list: looked at, tried, written or kept; nothing unseen."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from functools import partial
from pathlib import Path

from limen.desk.clock import today
from limen.desk.refusal import Refusal, refusing
from limen.findings import Message
from limen.store.doorlist.encodings import ENCODINGS
from limen.store.doorlist.gathering import Plan, SitePlan, SiteThere, gather
from limen.store.doorlist.grid import MOST_BYTES, How, ListRefused
from limen.store.doorlist.judging import Judged, Reason, judge, slug
from limen.store.doorlist.known import known_header
from limen.store.doorlist.mapping import Beside, ColumnMap, DoorMap, read_map, write_map
from limen.store.doorlist.reading import OURS, Table, read_list
from limen.store.doorlist.refused_rows import refused_table
from limen.store.doorlist.suggesting import suggest, texts_of
from limen.store.doorlist.targets import (
    DAYS,
    PAIRS,
    RULEBOOKS,
    TARGETS,
    dimension_units,
)
from limen.store.editing import ChangedOnDiskError, digest, save
from limen.store.reading import read_text
from limen.store.sheetfile import BESIDE, sheet_names
from limen.store.short import NONE, NOT_KNOWN
from limen.store.sitefile import parse_site, read_site
from limen.words import has, retold, say

__all__ = [
    "DAYS",
    "ENCODINGS",
    "PAIRS",
    "RULEBOOKS",
    "TARGETS",
    "ColumnMap",
    "DoorMap",
    "How",
    "Plan",
    "Reason",
    "SitePlan",
    "Table",
    "Tried",
    "dimension_units",
]

REFUSED_FILE = "refused.csv"
_LONGEST_NAME = 60
_FOUND = 3
_SHOWN = 60


@dataclass(frozen=True, slots=True)
class Tried:
    """What would be taken in.

    Attributes:
        table: the list as it was read.
        mapping: what each column becomes.
        judged: the rows, one by one.
        plan: sites and refused rows.
    """

    table: Table
    mapping: DoorMap
    judged: Judged
    plan: Plan


@dataclass(frozen=True, slots=True)
class Written:
    """What was written.

    Attributes:
        files: the site files, in the order of the list.
        refused: the file of the rows that were refused; None if there are none.
    """

    files: tuple[Path, ...]
    refused: Path | None


# Looking ---------------------------------------------------------------------------


def bytes_of(path: Path) -> bytes:
    """The bytes of a list.

    Raises:
        Refusal: there is no such file, or it is too large.
    """
    with refusing():
        if not path.is_file() and path.exists():
            raise Refusal([say(Message("take_in.file.empty"))])
        with path.open("rb") as file:
            return file.read(MOST_BYTES + 1)


def look(data: bytes, how: How) -> Table:
    """Read a list of doors.

    Args:
        data: the file.
        how: what a person has chosen of how it is read.

    Raises:
        Refusal: it cannot be used, and what would be accepted.
    """
    try:
        return read_list(data, how, known_header)
    except ListRefused as refused:
        raise Refusal([say(refused.message)]) from refused


def suggested(table: Table) -> DoorMap:
    """What the words of a list suggest; to be looked at before it counts."""
    return suggest(table)


def map_text(mapping: DoorMap, table: Table) -> str:
    """A mapping as a text to be looked at, with some of what each column holds."""
    found = {
        one.name: ", ".join(first_texts(table, one.place)) for one in table.columns
    }
    return write_map(mapping, Beside(found))


def first_texts(table: Table, place: int, count: int = _FOUND) -> list[str]:
    """The first texts of a column that differ, shortened."""
    return [text[:_SHOWN] for text in distinct_texts(table, place, count)]


def distinct_texts(table: Table, place: int, most: int) -> list[str]:
    """The texts of a column, each once, in the order in which they come."""
    column = next(one for one in table.columns if one.place == place)
    found: dict[str, None] = {}
    for text in texts_of(table, column):
        found[text] = None
        if len(found) == most:
            break
    return list(found)


def mapping_of(said: Mapping[str, object]) -> DoorMap:
    """A mapping from what was chosen.

    Raises:
        ValidationError: it does not go together.
    """
    return DoorMap.model_validate(said)


def sheets_known(folder: Path) -> tuple[str, ...]:
    """Names of sensor sheets that a unit can have, and what stands for none."""
    return (NOT_KNOWN, NONE, *sheet_names((folder,)))


def map_of(path: Path) -> DoorMap:
    """Read a mapping.

    Raises:
        Refusal: everything that is wrong with it.
    """
    with refusing():
        return read_map(read_text(path), str(path))


# Trying ----------------------------------------------------------------------------


def try_out(
    table: Table,
    mapping: DoorMap,
    there: Sequence[SiteThere],
    sheets: Path,
    on: date,
    source: str,
) -> Tried:
    """What would be taken in, and what refused; nothing is written.

    Args:
        table: the list.
        mapping: what each column becomes.
        there: sites that are there already.
        sheets: folder of sensor sheets; it need not exist.
        on: today; no check is of a later day.
        source: name of the list.

    Raises:
        Refusal: the mapping does not fit the list.
    """
    try:
        judged = judge(table, mapping, sheet_names((sheets,)), on)
    except ListRefused as refused:
        raise Refusal([say(refused.message)]) from refused
    check = partial(_check, sheets=sheets)
    return Tried(table, mapping, judged, gather(judged, there, check, source))


def _check(text: str, *, sheets: Path) -> None:
    parse_site(text, sheets.parent / "site.toml", (sheets,))


def try_in_folder(
    table: Table, mapping: DoorMap, folder: Path | None, source: str
) -> Tried:
    """What would be taken into a folder of site files today; nothing is written.

    Args:
        table: the list.
        mapping: what each column becomes.
        folder: where the site files go; None if that is not known yet.
        source: name of the list.

    Raises:
        Refusal: the mapping does not fit the list, or a site there cannot be read.
    """
    there = sites_in(folder) if folder is not None else []
    sheets = (folder or Path()) / BESIDE
    return try_out(table, mapping, there, sheets, today(), source)


def sites_in(folder: Path) -> list[SiteThere]:
    """The sites of a folder, to which doors may be added.

    Raises:
        Refusal: one of its files cannot be read: what it holds is not known.
    """
    found: list[SiteThere] = []
    for path in sorted(folder.glob("*.toml")) if folder.is_dir() else ():
        with refusing():
            file = read_site(path)
        site = file.site
        ids = frozenset(site.ids())
        book = site.rulebook or ""
        found.append(
            SiteThere(
                str(path), site.name, site.place, book, ids, file.text, file.digest
            )
        )
    return found


# Writing ---------------------------------------------------------------------------


def write(tried: Tried, folder: Path, source: Path) -> Written:
    """Write the sites that were tried, each whole or not at all.

    Args:
        tried: what was looked at.
        folder: where; made if it is not there.
        source: the list.

    Raises:
        Refusal: the folder cannot be written to, or a file has changed meanwhile.
    """
    with refusing():
        folder.mkdir(parents=True, exist_ok=True)
        refused = _write_refused(tried, folder, source)
        taken = {one.name for one in folder.iterdir()}
        files: list[Path] = []
        for site in tried.plan.sites:
            path = _path(site, folder, taken)
            _save(path, site.text, site.there.version if site.there else None)
            files.append(path)
    return Written(tuple(files), refused)


def _path(site: SitePlan, folder: Path, taken: set[str]) -> Path:
    if site.there is not None:
        return Path(site.there.where)
    said = slug(f"{site.said.name} {site.said.place}")[:_LONGEST_NAME].strip("-")
    stem = said or "site"
    name, number = f"{stem}.toml", 1
    while name in taken:
        number += 1
        name = f"{stem}-{number}.toml"
    taken.add(name)
    return folder / name


def _save(path: Path, text: str, expected: str | None) -> None:
    try:
        save(path, text, expected=expected)
    except ChangedOnDiskError as error:
        raise Refusal([retold(str(error))]) from error


def _write_refused(tried: Tried, folder: Path, source: Path) -> Path | None:
    """Beside the sites; in the place of the list only where that is such a file."""
    if not tried.plan.refused:
        return None
    text = refused_bytes(tried).decode("utf-8")
    if _is_ours(tried.table) and source.parent.samefile(folder):
        _save(source, text, digest(source.read_bytes().decode("utf-8")))
        return source
    path = folder / REFUSED_FILE
    number = 1
    while path.exists():
        number += 1
        path = folder / f"refused-{number}.csv"
    _save(path, text, None)
    return path


def _is_ours(table: Table) -> bool:
    """Whether a list is a table of rows that were refused before."""
    return any(one.name.startswith(OURS) for one in table.columns)


def refused_bytes(tried: Tried) -> bytes:
    """The rows that are refused as a table: line, reasons, the cells as they came."""
    return refused_table(tried.table, tried.plan.refused, reason_told)


def write_suggested(path: Path, table: Table) -> None:
    """Write the suggested mapping into a file that is not there yet.

    Raises:
        Refusal: it is there, or cannot be written.
    """
    with refusing():
        _save(path, map_text(suggested(table), table), None)


# Words -----------------------------------------------------------------------------


def reason_told(reason: Reason) -> tuple[str, str]:
    """Why a row is refused, and what would be accepted, in the reader's language."""
    values: Mapping[str, str] = {
        "found": retold(reason.found) or "–",
        "accepted": _accepted(reason),
    }
    why = say(Message(f"take_in.reason.{reason.key}", values))
    key = f"take_in.accepted.{reason.key}"
    if not has(key):
        named = _NO_ACCEPTED.get(reason.key, retold(reason.accepted))
        return why, named
    return why, say(Message(key, values))


_NO_ACCEPTED: Mapping[str, str] = dict.fromkeys(("site_text", "cells"), "")


def _accepted(reason: Reason) -> str:
    if reason.key == "lacks":
        return target_told(reason.accepted)
    return retold(reason.accepted)


def target_told(key: str) -> str:
    """What a column becomes, in words."""
    return say(Message(f"take_in.target.{key}"))
