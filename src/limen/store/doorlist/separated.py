"""Text files: cells between separators, by RFC 4180, with what people do to it.

The standard library parses; here stands what it is given, line by line, so that one
broken row costs no other.  A quote that is not closed makes its own line a row that
cannot be read, and reading goes on at the next line.
"""

import csv
import re
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from limen.findings import Message
from limen.store.doorlist.encodings import LOST, decoded
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

SEPARATORS = (";", ",", "\t", "|")
"""What may part cells, the likeliest first where two part a file equally well."""
Known = Callable[[str], bool]
_LINE = re.compile(r"[^\r\n]*(?:\r\n|\r|\n|\Z)")
_HINT = re.compile(r"sep=(.)\s*", re.IGNORECASE)
_LOOKED_AT = 60
_LONGEST_RECORD = 50  # lines of one row, line breaks in its cells


def read_separated(data: bytes, how: How, known: Known) -> Grid:
    """Read a text file.

    Args:
        data: the file.
        how: encoding and separator, where a person has chosen them.
        known: whether a text is known as the header of a column.

    Raises:
        ListRefused: it is no text in a known encoding, or has no rows.
    """
    read = decoded(data, how.encoding)
    lines = [found for found in _LINE.findall(read.text) if found]
    first, hinted = _hint(lines)
    separator, told = _separator(lines[first:], hinted, how, known)
    named = [Record(1, (Cell(lines[0].strip()),))] if first else []
    records = (*named, *_records(lines, separator, first))
    return Grid(records, (read.told, told), read.encoding, separator)


def _hint(lines: Sequence[str]) -> tuple[int, str]:
    """Lines to pass over, and the separator that the first line names."""
    found = _HINT.fullmatch(lines[0]) if lines else None
    return (1, found[1]) if found else (0, "")


# The separator -------------------------------------------------------------------


def _separator(
    lines: Sequence[str], hinted: str, how: How, known: Known
) -> tuple[str, Message]:
    named = how.separator or hinted
    if named:
        key = "chosen" if how.separator else "named"
        return _plain(named), _told(named, key)
    scores = {sign: _score(lines[:_LOOKED_AT], sign, known) for sign in SEPARATORS}
    best = max(SEPARATORS, key=lambda sign: scores[sign])
    if scores[best][-1] == 0:
        return best, Message("take_in.read.separator.none")
    return best, _told(best, "assumed")


def _plain(known: str) -> str:
    """One sign; a tab may be written as a word."""
    sign = {"tab": "\t", "\\t": "\t"}.get(known.lower(), known)
    if len(sign) != 1 or sign in '"\r\n' or sign.isalnum():
        raise ListRefused("separator", found=known[:20])
    return sign


def _told(sign: str, key: str) -> Message:
    shown = Message("take_in.read.tab") if sign in ("\t", "tab", "\\t") else sign
    return Message(f"take_in.read.separator.{key}", {"separator": shown})


def _score(lines: Sequence[str], sign: str, known: Known) -> tuple[int, int, int]:
    """How many headers it makes of a row, how many rows alike, into how many cells."""
    records = [
        record
        for record in _records(lines, sign, 0)
        if not record.fault and not record.empty and len(record.cells) > 1
    ]
    counts = Counter(len(record.cells) for record in records)
    if not counts:
        return 0, 0, 0
    cells, rows = max(counts.items(), key=lambda item: (item[1], item[0]))
    headers = (sum(known(c.text) for c in record.cells) for record in records)
    return max(headers), rows, cells


# Records -------------------------------------------------------------------------


def _records(lines: Sequence[str], separator: str, first: int) -> Iterator[Record]:
    at = first
    while at < len(lines):
        if at - first > MOST_RECORDS:
            raise ListRefused("too_many", most=MOST_RECORDS)
        used, cells, fault = _record(lines, at, separator)
        yield _checked(Record(at + 1, tuple(map(Cell, cells)), fault, at + used))
        at += used


def _record(
    lines: Sequence[str], at: int, separator: str
) -> tuple[int, list[str], str]:
    """One row: how many lines it takes, its cells, why it cannot be read."""
    if '"' not in lines[at]:
        return 1, lines[at].rstrip("\r\n").split(separator), ""
    few = lines[at : at + _LONGEST_RECORD]
    # A reader gives up at what is no quote; spaces before one are not part of a cell.
    read = csv.reader(few, delimiter=separator, strict=True, skipinitialspace=True)
    try:
        cells = next(read)
    except csv.Error:
        return 1, lines[at].rstrip("\r\n").split(separator), "quote"
    return read.line_num, cells, ""


def _checked(record: Record) -> Record:
    fault = record.fault
    if not fault and len(record.cells) > MOST_COLUMNS:
        fault = "cells"
    if not fault and any(LOST in cell.text for cell in record.cells):
        fault = "encoding"
    if not fault and any(len(cell.text) > MOST_LETTERS for cell in record.cells):
        fault = "cell_long"
    return replace(record, fault=fault) if fault else record
