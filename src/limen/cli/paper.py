"""What is printed on: how wide it is, and whether it takes colour."""

import os
import sys
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import IO

from limen.cli.lines import Ink, Line

_HUES: Mapping[Ink, str] = {
    Ink.PLAIN: "",
    Ink.STRONG: "bold",
    Ink.QUIET: "dim",
    Ink.FAILS: "bold #D55E00",
    Ink.HOLDS: "#009E73",
    Ink.NOT_SHOWN: "bold #CC79A7",
    Ink.NOT_ASKED: "dim",
}
"""The palette of all of limen, which everybody can tell apart (Okabe and Ito)."""

_WITHOUT_HUE: Mapping[Ink, str] = {
    ink: style.split(" #")[0] if not style.startswith("#") else ""
    for ink, style in _HUES.items()
}
_FINE = ("256", "truecolor", "windows")
"""Terminals with fewer colours would show others than these: they get none."""

_NARROWEST = 40


@dataclass(frozen=True, slots=True)
class Paper:
    """A place to print.

    Attributes:
        width: columns; None where lines may run on, as in a pipe.
        to: the stream, standard output if None.
    """

    width: int | None
    to: IO[str] | None = None

    def put(self, lines: Iterable[Line]) -> None:
        """Print lines; trailing spaces never reach the paper."""
        from rich.console import Console
        from rich.text import Text

        console = Console(file=self.to, highlight=False, markup=False, emoji=False)
        hues = _HUES if console.color_system in _FINE else _WITHOUT_HUE
        for line in lines:
            text = Text.assemble(*((piece.text, hues[piece.ink]) for piece in line))
            text.rstrip()
            console.print(text, soft_wrap=True)

    def put_text(self, text: str) -> None:
        """Print text for programs, as it stands."""
        print(text, file=self.to)


def paper(*, error: bool = False) -> Paper:
    """The terminal as it is; COLUMNS goes before what the terminal says."""
    stream = sys.stderr if error else sys.stdout
    # A terminal of old may lack our marks; a question mark beats a crash.
    reconfigure = getattr(stream, "reconfigure", None)
    if reconfigure:
        reconfigure(errors="replace")
    return Paper(_width(stream), stream)


def _width(stream: IO[str]) -> int | None:
    asked = os.environ.get("COLUMNS", "")
    if asked.isdecimal() and int(asked):
        return max(int(asked), _NARROWEST)
    if not stream.isatty():
        return None
    try:
        return max(os.get_terminal_size(stream.fileno()).columns, _NARROWEST)
    except OSError:
        return None
