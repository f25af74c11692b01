"""A list as a grid: records with their lines, cells as they stand there."""

from dataclasses import dataclass
from typing import Literal

from limen.findings import Message

Kind = Literal["text", "number", "day", "error", "no value"]
"""What a cell is; ``no value`` is a formula of which no result was kept."""

MOST_BYTES = 20_000_000
"""The size up to which a list is read."""
MOST_RECORDS = 20_000
MOST_COLUMNS = 200
MOST_LETTERS = 2_000
"""Letters in a cell, at most."""


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell.

    Attributes:
        text: what stands there; a day as ISO 8601, a number with a decimal point.
        kind: what it is; whatever comes from a text file is ``text``.
    """

    text: str
    kind: Kind = "text"

    @property
    def empty(self) -> bool:
        """Whether nothing stands there."""
        return self.kind == "text" and not self.text.strip()


@dataclass(frozen=True, slots=True)
class Record:
    """One row as it was read.

    Attributes:
        line: its first line in the file, or its row in the sheet, from 1.
        cells: its cells.
        fault: why it cannot be read at all; empty if it can.
        last: its last line, where a cell of it has line breaks; 0 is the first.
    """

    line: int
    cells: tuple[Cell, ...]
    fault: str = ""
    last: int = 0

    @property
    def empty(self) -> bool:
        """Whether nothing stands in it."""
        return not self.fault and all(cell.empty for cell in self.cells)


@dataclass(frozen=True, slots=True)
class Grid:
    """All records of a list.

    Attributes:
        records: in order.
        told: how it was read, what was assumed, what stands out.
        encoding, separator: how a text file was read; empty for a workbook.
        sheet, sheets: which sheet of a workbook; all that can be chosen.
    """

    records: tuple[Record, ...]
    told: tuple[Message, ...] = ()
    encoding: str = ""
    separator: str = ""
    sheet: str = ""
    sheets: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class How:
    """How a person wants a list read; what is left out is looked for.

    Attributes:
        encoding: name of an encoding.
        separator: what parts cells: ``;``, ``,``, ``|`` or a tab.
        sheet: name of a sheet of a workbook.
        header: line of the row that names the columns.
    """

    encoding: str = ""
    separator: str = ""
    sheet: str = ""
    header: int | None = None


class ListRefused(Exception):  # noqa: N818 - it refuses; nothing went wrong
    """A file that cannot be used as a list of doors at all.

    Attributes:
        message: why, and what would be accepted.
    """

    def __init__(self, key: str, **values: str | int) -> None:
        """Say why: a key of the sentences under ``take_in.file``."""
        self.message = Message(f"take_in.file.{key}", values)
        super().__init__(key)
