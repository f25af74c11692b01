"""Tables for other programs: comma-separated, and no cell of them is ever a formula.

A program that opens a table may reckon a cell that begins with a sign of sums.  Names
come from people and files, so no text of theirs may begin so.  Where such a program
parts cells by another sign than the comma, part of a text would begin a cell of its
own: what follows such a sign is treated as a beginning too.
"""

import csv
import re
from collections.abc import Iterable, Sequence
from datetime import date
from io import StringIO

Cell = str | int | float | date | None

MARK = "'"
"""Makes text of what would be reckoned; a program that opens the table hides it."""
_BEGINS = re.compile(
    r"(^|[,;|\t\r\n\v\f])([\s\u00a0\ufeff\"']*)(?=[=+\-@\u2212\uff1d\uff0b\uff0d\uff20])"
)
_TURNS = re.compile(r"^(?=[\t\r\n])")


def cell(value: Cell) -> str:
    """What stands in a cell; a text in it is never a formula.

    Args:
        value: a number or a day as it is, a text made harmless, nothing for None.
    """
    if value is None:
        return ""
    if not isinstance(value, str):
        return value.isoformat() if isinstance(value, date) else str(value)
    text = value.replace("\0", "")
    return _TURNS.sub(MARK, _BEGINS.sub(rf"\1{MARK}\2", text))


def table(head: Sequence[str], rows: Iterable[Sequence[Cell]]) -> bytes:
    """A table as a file: RFC 4180, UTF-8 with the mark by which it is known.

    Args:
        head: what its columns are called.
        rows: its cells.
    """
    text = StringIO()
    write = csv.writer(text, quoting=csv.QUOTE_MINIMAL, lineterminator="\r\n")
    write.writerow([cell(one) for one in head])
    write.writerows([cell(one) for one in row] for row in rows)
    return text.getvalue().encode("utf-8-sig")
