"""A mapping suggested from the words of a list; it counts once a person has seen it."""

import re
from collections.abc import Iterator, Sequence
from typing import Literal

from limen.store.doorlist.known import folded, header_means, header_unit, meaning
from limen.store.doorlist.mapping import ColumnMap, DoorMap
from limen.store.doorlist.numbering import decimal_seen
from limen.store.doorlist.reading import OURS, Column, Table
from limen.store.doorlist.targets import PAIRS, TARGETS

MOST_VALUES = 30
_SLASHED = re.compile(r"(\d{1,2})/(\d{1,2})/(\d{4}|\d\d)")
_JOINED = ("site.place",)
"""Keys that several columns make together: street, town."""
_DASHES = ("-", "–", "—", "?", "/", "--", "---")
_MONTHS = 12


def suggest(table: Table) -> DoorMap:
    """Suggest what each column becomes.

    Args:
        table: the list.
    """
    chosen: dict[tuple[str, ...], list[Column]] = {}
    left: list[str] = []
    for column in table.columns:
        if column.name.startswith(OURS):
            continue
        to = _keys(column)
        used = {key for keys in chosen for key in keys}
        if to and (not used & set(to) or (to in chosen and to[0] in _JOINED)):
            chosen.setdefault(to, []).append(column)
        else:
            left.append(column.name)
    maps = [_column(table, to, columns) for to, columns in chosen.items()]
    measured = [
        text
        for one, columns in zip(maps, chosen.values(), strict=True)
        if TARGETS[one.to[0]].kind in ("length", "mass")
        for text in texts_of(table, columns[0])
    ]
    return DoorMap(
        decimal=_decimal(measured),
        unknown=tuple(_unknown(table, [c for cs in chosen.values() for c in cs])),
        leave_out=tuple(left),
        column=tuple(maps),
    )


def texts_of(table: Table, column: Column) -> Iterator[str]:
    """What stands in a column, row by row; empty cells left out."""
    for record in table.rows:
        if column.place < len(record.cells):
            text = " ".join(record.cells[column.place].text.split())
            if text:
                yield text


def _keys(column: Column) -> tuple[str, ...]:
    key = header_means(column.name) if column.stated else None
    if key is None:
        return ()
    return PAIRS.get(key, (key,))


def _column(table: Table, to: tuple[str, ...], columns: Sequence[Column]) -> ColumnMap:
    kind = TARGETS[to[0]].kind
    texts = list(dict.fromkeys(texts_of(table, columns[0])))
    return ColumnMap(
        column=tuple(one.name for one in columns),
        to=to,
        unit=header_unit(columns[0].name) if kind in ("length", "mass") else None,
        day=_day(texts) if kind == "day" else None,
        values=_values(texts, TARGETS[to[0]].accepted),
    )


def _decimal(texts: Sequence[str]) -> Literal[".", ","] | None:
    comma, point = decimal_seen(list(texts))
    return None if comma == point else "," if comma else "."


def _day(texts: Sequence[str]) -> str | None:
    """The order of day and month, where a day past the twelfth settles it."""
    found = [match for text in texts if (match := _SLASHED.fullmatch(text))]
    first = any(int(one[1]) > _MONTHS for one in found)
    second = any(int(one[2]) > _MONTHS for one in found)
    if first == second:
        return None
    year = "y" if len(found[0][3]) > 2 else "yy"  # noqa: PLR2004 - digits
    return f"d/m/{year}" if first else f"m/d/{year}"


def _values(texts: Sequence[str], accepted: tuple[str, ...]) -> dict[str, str]:
    if not accepted:
        return {}
    found: dict[str, str] = {}
    for text in texts[:MOST_VALUES]:
        meant = meaning(text)
        if meant in accepted and text != meant:
            found[text] = meant
    return found


def _unknown(table: Table, columns: Sequence[Column]) -> Iterator[str]:
    """Texts of the list that say that nothing is known."""
    told: set[str] = set()
    for column in columns:
        for text in texts_of(table, column):
            plain = text.strip()
            says = plain in _DASHES or (folded(plain) and meaning(plain) == "unknown")
            if says and plain.casefold() not in told:
                told.add(plain.casefold())
                yield plain[:200]
