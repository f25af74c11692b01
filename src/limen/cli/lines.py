"""Lines of text with meaning instead of colour; wrapped and set in columns here."""

import textwrap
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import Enum, auto
from itertools import zip_longest

from limen.words import unbroken


class Ink(Enum):
    """What a piece of text means."""

    PLAIN = auto()
    STRONG = auto()
    QUIET = auto()
    FAILS = auto()
    HOLDS = auto()
    NOT_SHOWN = auto()
    NOT_ASKED = auto()


@dataclass(frozen=True, slots=True)
class Piece:
    """Text of one ink."""

    text: str
    ink: Ink = Ink.PLAIN


Line = tuple[Piece, ...]
EMPTY: Line = ()
_BETWEEN = 2


def line(text: str, ink: Ink = Ink.PLAIN) -> Line:
    """A line of one ink."""
    return (Piece(text, ink),)


def wrapped(
    text: str,
    width: int | None,
    *,
    indent: int = 0,
    hang: int = 0,
    ink: Ink = Ink.PLAIN,
) -> list[Line]:
    """A paragraph cut to a width.

    Args:
        text: the paragraph.
        width: columns, indent included; None leaves it in one line.
        indent: spaces before every line.
        hang: more spaces before every line but the first.
        ink: of all of it.
    """
    first = " " * indent
    if width is None:
        return [line(first + text, ink)]
    rest = " " * (indent + hang)
    return [line(one, ink) for one in _cut(text, width, first, rest)]


def _cut(text: str, width: int, first: str = "", rest: str = "") -> list[str]:
    """Cut between words; a number and its unit stay together."""
    cut = textwrap.wrap(
        unbroken(text),
        width,
        initial_indent=first,
        subsequent_indent=rest,
        break_on_hyphens=False,
    )
    return [one.replace("\N{NO-BREAK SPACE}", " ") for one in cut]


def columns(
    rows: Sequence[Sequence[Piece]],
    width: int | None,
    gives: Sequence[tuple[int, int]],
) -> list[list[Line]]:
    """Set rows in columns two spaces apart.

    Args:
        rows: one piece a column each.
        width: columns of the terminal; None: as much as the text needs.
        gives: which columns give way where it is narrow, one after another, and
            how narrow each may become; their cells are wrapped.

    Returns:
        The lines of each row.
    """
    if not rows:
        return []
    widths = [
        max(len(piece.text) for piece in column) for column in zip(*rows, strict=True)
    ]
    over = 0 if width is None else sum(widths) + _BETWEEN * (len(widths) - 1) - width
    for column, least in gives:
        given = max(0, min(over, widths[column] - least))
        widths[column] -= given
        over -= given
    return [_row(row, widths) for row in rows]


def _row(row: Sequence[Piece], widths: Sequence[int]) -> list[Line]:
    cells = [
        _cut(piece.text, width) if piece.text else []
        for piece, width in zip(row, widths, strict=True)
    ]
    return [
        _side_by_side(parts, row, widths) for parts in zip_longest(*cells, fillvalue="")
    ]


def _side_by_side(
    parts: Iterable[str], row: Sequence[Piece], widths: Sequence[int]
) -> Line:
    cells = zip(parts, row, widths, strict=True)
    return tuple(
        Piece(part.ljust(width + _BETWEEN), piece.ink) for part, piece, width in cells
    )
