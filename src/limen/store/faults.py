"""Faults of a file: what stands where, why it is refused, what would be accepted."""

from collections.abc import Iterable
from dataclasses import dataclass

MOST_LISTED = 200
"""Faults that are listed one by one; a file with more has one cause for most."""

_LONGEST = 80
_LONGEST_NAME = 200


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing in a file that cannot be read as meant.

    Attributes:
        key: The way to it in the file's own words, `doorway "main" · clear_width`;
            empty for the file as a whole.
        line: The line, counted from 1, if there is one.
        found: What stands there, shortened.
        why: Why it is refused.
        accepted: What is accepted.
        example: A line that is accepted.
    """

    key: str
    line: int | None
    found: str
    why: str
    accepted: str = ""
    example: str = ""

    def lines(self) -> list[str]:
        """Tell it: a first line with place and reason, then what is known."""
        where = f"line {self.line}" if self.line else "the file"
        place = f"{where} · {self.key}" if self.key else where
        rest = (
            ("found", self.found),
            ("accepted", self.accepted),
            ("example", self.example),
        )
        told = [f"    {name:<9} {text}" for name, text in rest if text]
        return [f"  {place}: {self.why}", *told]


class FileFaults(Exception):  # noqa: N818 - it carries faults, and is read aloud so
    """A file that cannot be used, with all its faults in the order of its lines.

    Attributes:
        file: The name of the file, as the person gave it.
        faults: All of them, at least one.
    """

    def __init__(self, file: str, faults: Iterable[Fault]) -> None:
        """Put the faults in the order of the file."""
        self.file = file
        self.faults = tuple(sorted(faults, key=lambda fault: fault.line or 0))
        super().__init__("\n".join(self.lines()))

    def __reduce__(self) -> tuple[type["FileFaults"], tuple[str, tuple[Fault, ...]]]:
        return FileFaults, (self.file, self.faults)

    def lines(self) -> list[str]:
        """Tell all faults, ready to print one below the other."""
        count = len(self.faults)
        name = printable(self.file, _LONGEST_NAME)
        first = f"{name}: {count} fault{'s' if count > 1 else ''}, nothing read"
        listed = [text for fault in self.faults[:MOST_LISTED] for text in fault.lines()]
        more = count - MOST_LISTED
        return [first, *listed, *([f"  … and {more} more"] if more > 0 else [])]


def printable(text: str, longest: int = _LONGEST) -> str:
    """Shorten a text from a file, and show what cannot be printed as �."""
    short = text if len(text) <= longest else text[: longest - 1] + "…"
    return "".join(char if char.isprintable() else "�" for char in short)
