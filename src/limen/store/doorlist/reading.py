"""A file becomes a table: what it is, which row names the columns, which rows count.

What a file is, its bytes say; its name is not asked.
"""

import re
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from limen.findings import Message
from limen.store.doorlist.grid import (
    MOST_BYTES,
    Cell,
    Grid,
    How,
    ListRefused,
    Record,
)
from limen.store.doorlist.separated import read_separated
from limen.store.doorlist.workbook import read_workbook

Passed = Literal["above", "header", "empty", "header_again"]
"""Why a row is passed over."""

OURS = "limen "
"""Columns that a table of refused rows begins with; they are passed over."""
_OLE = b"\xd0\xcf\x11\xe0"
_ZIP = b"PK\x03\x04"
_STRANGE = (
    (b"%PDF", "pdf"),
    (_OLE, "old_workbook"),
    (b"PK\x05\x06", "broken"),
    (b"\x1f\x8b", "archive"),
    (b"7z\xbc\xaf", "archive"),
    (b"Rar!", "archive"),
    (b"\x89PNG", "picture"),
    (b"\xff\xd8\xff", "picture"),
    (b"{\\rtf", "document"),
)
_MARKUP = re.compile(rb"\s*<(?:\?xml|!doctype|html|table|workbook)", re.IGNORECASE)
_SEARCHED = 30
_HEADED = 2


@dataclass(frozen=True, slots=True)
class Column:
    """A column of the list.

    Attributes:
        place: counted from 0.
        name: as its header says, each once; ``column 5`` where it says nothing.
        stated: whether its header says anything.
    """

    place: int
    name: str
    stated: bool


@dataclass(frozen=True, slots=True)
class Table:
    """A list with its columns.

    Attributes:
        grid: how it was read.
        columns: those that are named or filled.
        header: line of the row that names them; 0 if there is none.
        rows: the rows that count.
        passed: lines that are passed over, and why.
        told: how it was read, what was assumed.
        width: cells of the row that names the columns.
    """

    grid: Grid
    columns: tuple[Column, ...]
    header: int
    rows: tuple[Record, ...]
    passed: tuple[tuple[int, Passed], ...]
    told: tuple[Message, ...]
    width: int


def read_list(data: bytes, how: How, known: Callable[[str], bool]) -> Table:
    """Read a list of doors.

    Args:
        data: the file.
        how: what a person has chosen of how it is read.
        known: whether a text is known as the header of a column.

    Raises:
        ListRefused: it cannot be used as a list, and what would be accepted.
    """
    if len(data) > MOST_BYTES:
        raise ListRefused("too_large", most=MOST_BYTES // 1_000_000)
    if not data.strip(b"\0 \t\r\n"):
        raise ListRefused("empty")
    for begins, key in _STRANGE:
        if data.startswith(begins):
            raise ListRefused(key)
    if _MARKUP.match(data.removeprefix(b"\xef\xbb\xbf")):
        raise ListRefused("markup")
    is_book = data.startswith(_ZIP)
    grid = read_workbook(data, how) if is_book else read_separated(data, how, known)
    return _table(grid, how, known)


def _table(grid: Grid, how: How, known: Callable[[str], bool]) -> Table:
    records = grid.records
    at = _header_at(records, how, known)
    head = records[at]
    texts = [_plain(cell) for cell in head.cells]
    while texts and not texts[-1]:
        texts.pop()
    passed: list[tuple[int, Passed]] = [(one.line, "above") for one in records[:at]]
    passed.append((head.line, "header"))
    rows: list[Record] = []
    for record in records[at + 1 :]:
        why = _passed(record, texts)
        if why:
            passed.append((record.line, why))
        else:
            rows.append(record)
    key = "chosen" if how.header else "assumed" if at else "first"
    told = Message(f"take_in.read.header.{key}", {"line": head.line})
    columns = tuple(_columns(texts))
    return Table(
        grid,
        columns,
        head.line,
        tuple(rows),
        tuple(passed),
        (*grid.told, told),
        len(texts),
    )


def _header_at(
    records: Sequence[Record], how: How, known: Callable[[str], bool]
) -> int:
    """Place of the row that names the columns: that with most known names."""
    if how.header is not None:
        for at, record in enumerate(records):
            if record.line == how.header and not record.empty:
                return at
        raise ListRefused("no_header", found=how.header)
    some = [(at, one) for at, one in enumerate(records[:_SEARCHED]) if not one.fault]
    scores = {at: _known(one, known) for at, one in some}
    best = max(scores, key=lambda at: (scores[at], -at), default=0)
    if scores.get(best, 0) >= _HEADED:
        return best
    filled = [(at, one) for at, one in some if not one.empty]
    if not filled:
        raise ListRefused("no_rows")
    widths = Counter(len(one.cells) for _, one in filled)
    usual = max(widths, key=lambda width: (widths[width], width))
    return next(at for at, one in filled if len(one.cells) == usual)


def _known(record: Record, known: Callable[[str], bool]) -> int:
    return sum(1 for cell in record.cells if known(_plain(cell)))


def _plain(cell: Cell) -> str:
    return " ".join(cell.text.split())


def _columns(texts: Sequence[str]) -> Iterator[Column]:
    used: set[str] = set()
    for place, text in enumerate(texts):
        stem = text[:120] or f"column {place + 1}"
        name, number = stem, 1
        while name in used:
            number += 1
            name = f"{stem} ({number})"
        used.add(name)
        yield Column(place, name, bool(text))


def _passed(record: Record, header: Sequence[str]) -> Passed | None:
    if record.empty:
        return "empty"
    texts = [_plain(cell) for cell in record.cells]
    while texts and not texts[-1]:
        texts.pop()
    return "header_again" if texts == list(header) and not record.fault else None
