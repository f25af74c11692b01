"""Workbooks of spreadsheets: values as they were shown last, never worked out here.

A library reads them.  Limits come first: a small archive can hold a large lie.
"""

import re
import warnings
import zipfile
import zlib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from io import BytesIO
from typing import Any, cast
from xml.etree.ElementTree import ParseError

from defusedxml.common import DefusedXmlException
from defusedxml.ElementTree import iterparse

from limen.findings import Message
from limen.store.doorlist.grid import (
    MOST_COLUMNS,
    MOST_LETTERS,
    MOST_RECORDS,
    Cell,
    Grid,
    How,
    ListRefused,
    Record,
)

MOST_UNPACKED = 80_000_000
MOST_PARTS = 2_000
_MOST_BLANK = 2_000  # rows in a row; formats reach further down than doors do
_EXACT = 1e15
_MACROS = re.compile(r"vbaProject|macrosheets|\.bin$", re.IGNORECASE)
_BROKEN = (
    zipfile.BadZipFile,
    zlib.error,
    DefusedXmlException,
    ParseError,
    KeyError,
    ValueError,
    TypeError,
    IndexError,
    AttributeError,
    NotImplementedError,
    OSError,
    EOFError,
    RuntimeError,
)
"""What the library raises where a part is not as it should be: anything."""


@dataclass(slots=True)
class _Noted:
    """What stands out in a sheet, gathered while it is read."""

    merged: dict[int, dict[int, int]] = field(default_factory=dict[int, dict[int, int]])
    """By row and column: the row in which the value stands."""
    merged_cells: int = 0
    hidden_rows: int = 0
    hidden_columns: int = 0
    formulas: int = 0
    filled: int = 0


def read_workbook(data: bytes, how: How) -> Grid:
    """Read one sheet of a workbook.

    Args:
        data: the file, an archive.
        how: the sheet, where a person has chosen one.

    Raises:
        ListRefused: it is no workbook that is read, too large, or has no such sheet.
    """
    _refuse_parts(data)
    try:
        with warnings.catch_warnings():
            # It warns of parts that it leaves out: pictures, styles, checks of input.
            warnings.simplefilter("ignore")
            return _read(data, how)
    except _BROKEN as error:
        raise ListRefused("broken") from error


def _refuse_parts(data: bytes) -> None:
    """Refuse what is no plain workbook, or would unpack to too much."""
    try:
        with zipfile.ZipFile(BytesIO(data)) as archive:
            parts = archive.infolist()
    except (zipfile.BadZipFile, OSError, ValueError, NotImplementedError) as error:
        raise ListRefused("broken") from error
    names = {part.filename for part in parts}
    if "mimetype" in names or "content.xml" in names:
        raise ListRefused("open_document")
    if any(_MACROS.search(name) for name in names):
        raise ListRefused("macros")
    if "xl/workbook.xml" not in names:
        raise ListRefused("archive")
    if len(parts) > MOST_PARTS or sum(part.file_size for part in parts) > MOST_UNPACKED:
        raise ListRefused("unpacked", most=MOST_UNPACKED // 1_000_000)


def _opened(data: bytes, *, values: bool) -> Any:  # noqa: ANN401 - the library is untyped
    from openpyxl import load_workbook  # pyright: ignore[reportUnknownVariableType]

    opened: Any = load_workbook(
        BytesIO(data), read_only=True, data_only=values, keep_links=False
    )
    return opened


def _read(data: bytes, how: How) -> Grid:
    book, formulas = _opened(data, values=True), _opened(data, values=False)
    visible = [one for one in book.worksheets if one.sheet_state == "visible"]
    names = [str(one.title) for one in book.worksheets]
    sheet = _chosen(book.worksheets, visible, how.sheet)
    noted = _Noted()
    with zipfile.ZipFile(BytesIO(data)) as archive:
        inside = cast("dict[str, object]", vars(sheet))
        path = str(inside["_worksheet_path"]).lstrip("/")
        with archive.open(path) as part:
            _note(part, noted)
    asked = formulas[sheet.title]
    for one in (sheet, asked):
        one.reset_dimensions()
    records = tuple(_records(sheet, asked, noted))
    hidden = [str(one.title) for one in book.worksheets if one not in visible]
    told = tuple(_told(str(sheet.title), names, hidden, noted, chosen=bool(how.sheet)))
    return Grid(records, told, sheet=str(sheet.title), sheets=tuple(names))


def _chosen(sheets: Any, visible: Any, wanted: str) -> Any:  # noqa: ANN401 - untyped
    if not sheets:
        raise ListRefused("broken")
    if not wanted:
        if not visible:
            raise ListRefused("no_sheet_seen")
        return visible[0]
    for one in sheets:
        if str(one.title).casefold() == wanted.casefold():
            return one
    listed = ", ".join(str(one.title) for one in sheets)
    raise ListRefused("no_sheet", found=wanted[:60], listed=listed)


# What the library does not say -----------------------------------------------------


def _note(part: Any, noted: _Noted) -> None:  # noqa: ANN401 - a file in an archive
    """Merged cells, hidden rows and columns, in one pass over the sheet's own text."""
    for _, element in iterparse(part, events=("end",)):
        name = str(element.tag).rpartition("}")[2]
        if name == "row":
            noted.hidden_rows += element.get("hidden") in ("1", "true")
        elif name == "col":
            noted.hidden_columns += element.get("hidden") in ("1", "true")
        elif name == "mergeCell":
            _note_merged(str(element.get("ref", "")), noted)
        if name != "c":
            element.clear()


_CORNERS = re.compile(r"([A-Z]{1,3})(\d{1,7}):([A-Z]{1,3})(\d{1,7})")


def _note_merged(reference: str, noted: _Noted) -> None:
    """Where the value of each row of a merged cell stands; in its first column only."""
    found = _CORNERS.fullmatch(reference)
    if found is None:
        return
    column, top, bottom = _number(found[1]), int(found[2]), int(found[4])
    for row in range(top + 1, min(bottom, top + MOST_RECORDS) + 1):
        noted.merged.setdefault(row, {})[column] = top
        noted.merged_cells += 1
        if noted.merged_cells > MOST_RECORDS:
            return


def _number(letters: str) -> int:
    """Column A is 1."""
    number = 0
    for letter in letters:
        number = number * 26 + ord(letter) - ord("A") + 1
    return number


# Records ---------------------------------------------------------------------------


def _records(sheet: Any, asked: Any, noted: _Noted) -> Iterator[Record]:  # noqa: ANN401 - untyped
    above: dict[tuple[int, int], Cell] = {}
    tops = {(top, at) for row in noted.merged.values() for at, top in row.items()}
    blank: list[Record] = []
    pairs = zip(sheet.iter_rows(), asked.iter_rows(), strict=True)
    for line, (values, formulas) in enumerate(pairs, start=1):
        cells = [*_cells(values, formulas, noted)]
        while cells and cells[-1].empty:
            cells.pop()  # formats reach further than what is written
        cells = _filled(cells, line, noted, above)
        above |= {(line, at): c for at, c in enumerate(cells, 1) if (line, at) in tops}
        record = _checked(Record(line, tuple(cells)))
        blank.append(record)
        if record.empty and len(blank) <= _MOST_BLANK:
            continue
        if record.empty:
            return
        yield from blank
        blank = []
        if line > MOST_RECORDS:
            raise ListRefused("too_many", most=MOST_RECORDS)


def _cells(values: Any, formulas: Any, noted: _Noted) -> Iterable[Cell]:  # noqa: ANN401 - untyped
    for value, formula in zip(values, formulas, strict=True):
        asked = formula.data_type == "f"
        noted.formulas += asked
        yield _cell(value.value, error=value.data_type == "e", asked=asked)


def _cell(value: object, *, error: bool, asked: bool) -> Cell:
    if value is None:
        return Cell("", "no value" if asked else "text")
    if error:
        return Cell(str(value), "error")
    if isinstance(value, bool):
        return Cell("yes" if value else "no")
    if isinstance(value, int | float):
        whole = float(value).is_integer() and abs(value) < _EXACT
        return Cell(str(int(value)) if whole else format(value, ".12g"), "number")
    if isinstance(value, datetime):
        return Cell(value.date().isoformat(), "day")  # of a day with an hour, the day
    if isinstance(value, date):
        return Cell(value.isoformat(), "day")
    return Cell(str(value))


def _filled(
    cells: list[Cell],
    line: int,
    noted: _Noted,
    above: Mapping[tuple[int, int], Cell],
) -> list[Cell]:
    """The row with the values of cells that were merged over several rows."""
    for column, top in noted.merged.get(line, {}).items():
        value = above.get((top, column))
        if value is None or column > MOST_COLUMNS:
            continue
        cells += [Cell("")] * (column - len(cells))
        if cells[column - 1].empty:
            cells[column - 1] = value
            noted.filled += 1
    return cells


def _checked(record: Record) -> Record:
    if len(record.cells) > MOST_COLUMNS:
        return Record(record.line, record.cells[:MOST_COLUMNS], "cells")
    if any(len(cell.text) > MOST_LETTERS for cell in record.cells):
        return Record(record.line, record.cells, "cell_long")
    return record


# Told --------------------------------------------------------------------------------


def _told(
    sheet: str, names: list[str], hidden: list[str], noted: _Noted, *, chosen: bool
) -> Iterator[Message]:
    others = ", ".join(name for name in names if name != sheet)
    key = "chosen" if chosen else "first" if others else "only"
    values: dict[str, str | int] = {"sheet": sheet, "others": others}
    yield Message(f"take_in.read.sheet.{key}", values)
    if hidden:
        yield Message("take_in.read.hidden_sheets", {"sheets": ", ".join(hidden)})
    for key in ("hidden_rows", "hidden_columns", "formulas", "filled"):
        count: int = getattr(noted, key)
        if count:
            yield Message(f"take_in.read.{key}", {"count": count})
