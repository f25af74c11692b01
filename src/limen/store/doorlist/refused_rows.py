"""Rows that were refused, as a table that can be mended and taken in again."""

from collections.abc import Callable, Sequence

from limen.exchange.cells import table
from limen.store.doorlist.judging import Reason, Refused
from limen.store.doorlist.reading import OURS, Table

HEAD = tuple(f"{OURS}{name}" for name in ("line", "column", "reason", "accepted"))
"""Columns that stand before those of the list; a list that has them again is ours."""


def refused_table(
    read: Table,
    refused: Sequence[Refused],
    said: Callable[[Reason], tuple[str, str]],
) -> bytes:
    """The rows as they came, each with its line and reasons; no cell is a formula.

    Args:
        read: the list.
        refused: rows of it.
        said: sentence and what is accepted, of a reason.
    """
    own = [column for column in read.columns if not column.name.startswith(OURS)]
    places = [column.place for column in own]
    rows: list[list[str | int]] = []
    for one in refused:
        texts = [_told(one.reasons, said, part) for part in (0, 1)]
        columns = "; ".join(dict.fromkeys(r.column for r in one.reasons if r.column))
        cells = one.record.cells
        kept = [cells[at].text if at < len(cells) else "" for at in places]
        beyond = [cell.text for cell in cells[read.width :]]
        rows.append([one.record.line, columns, *texts, *kept, *beyond])
    return table([*HEAD, *(column.name for column in own)], rows)


def _told(
    reasons: Sequence[Reason], said: Callable[[Reason], tuple[str, str]], part: int
) -> str:
    return " ".join(
        dict.fromkeys(said(one)[part] for one in reasons if said(one)[part])
    )
