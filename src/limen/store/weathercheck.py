"""The shape of a weather file, looked at before pvlib reads it.

pvlib passes over an hour that is left out, and takes a quotation mark for the begin of
a cell that ends lines later, both without a word; what it refuses it refuses whole, and
does not say which line.  Here only the shape is looked at: how many cells the line of
an hour has, and whether hour follows upon hour.  What cells say is pvlib's to read.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from limen.model.weather import HOURS
from limen.store.faults import Fault, printable
from limen.store.weatherforms import Form, Hour, Line, form_of

DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
YEARS = range(1700, 2200)  # that pandas knows
IN_ORDER = "every hour of a year in order, from the first of 1 January"
WHEN = ("year", "month", "day", "hour")
_NUMBER = re.compile(r"[0-9]{1,4}")


@dataclass(frozen=True, slots=True)
class Checked:
    """A file of which pvlib can read every hour that is here.

    Attributes:
        form: how it is laid out.
        rows: lines of the hours whose shape is right, each with its number from 1.
        faults: everything that is wrong with the shape.
    """

    form: Form
    rows: tuple[tuple[int, Line], ...]
    faults: tuple[Fault, ...]

    def text(self, start: int = 0, end: int | None = None) -> str:
        """What pvlib is given to read, or some rows of it: filled, none of them blank.

        A blank line would be skipped; one that ends early is taken where the first
        does not.
        """
        rows = (self._filled(line) for _, line in self.rows[start:end])
        return "\n".join((*self.form.head, *rows)) + "\n"

    def _filled(self, line: Line) -> Line:
        return line + "," * (self.form.width - 1 - line.count(","))

    def written(self, row: int, which: int) -> str:
        """One of the four figures of an hour as it stands in the file."""
        hour = self.form.cut(self.rows[row][1])
        return "" if isinstance(hour, str) else hour.figures[which].strip()


def check(data: bytes, name: str) -> Checked | Fault:
    """Look at the shape of a weather file.

    Args:
        data: the file, whole.
        name: its name; the ending says which form it has.

    Returns:
        What pvlib can read, with the faults of the rest; or why it is no such file.
    """
    lines = _lines(data)
    form = form_of(lines, Path(name).suffix.lower())
    if isinstance(form, Fault):
        return form
    numbered = enumerate(lines[form.first :], start=form.first + 1)
    rows = [(number, line) for number, line in numbered if line.strip()]
    faults = list(_faults(form, rows))
    wrong = {fault.line for fault in faults}
    right = tuple(row for row in rows if row[0] not in wrong)
    if len(rows) != HOURS:
        why = f"it has {len(rows)} hours"
        faults.insert(0, Fault("", None, "", why, "a year of 8760 hours", ""))
    return Checked(form, right, tuple(faults))


def _lines(data: bytes) -> list[Line]:
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = data.decode("latin-1")
    return text.replace("\r\n", "\n").replace("\r", "\n").split("\n")


def _faults(form: Form, rows: Sequence[tuple[int, Line]]) -> Iterator[Fault]:
    due = 0
    for number, line in rows:
        found = _hour(form, line)
        if isinstance(found, Fault):
            yield Fault(found.key, number, found.found, found.why, found.accepted, "")
        elif found != due:
            why = "it is not the hour after the one before"
            yield Fault(
                ", ".join(WHEN), number, printable(line[:30]), why, IN_ORDER, ""
            )
        due = ((due if isinstance(found, Fault) else found) + 1) % HOURS


def _hour(form: Form, line: Line) -> int | Fault:
    """Which hour of the year a line is, from 0; or what is wrong with its shape."""
    said = printable(line[:40])
    if '"' in line or not line.replace("\t", " ").isprintable():
        why = "it holds a quotation mark or an invisible character"
        return Fault("", None, said, why, "figures and commas", "")
    hour = form.cut(line)
    if isinstance(hour, str):
        return Fault("", None, said, hour, "the same figures in every hour", "")
    moment = _moment(hour, form.least)
    if moment is None:
        return Fault(
            ", ".join(WHEN), None, said, "it is no hour of a year", IN_ORDER, ""
        )
    return moment


def _moment(hour: Hour, least: int) -> int | None:
    """Which hour of the year begins then, from 0; None if it is none."""
    parts = [part.strip() for part in hour.moment]
    if len(parts) != len(WHEN) or not all(map(_NUMBER.fullmatch, parts)):
        return None
    year, month, day, end = map(int, parts)
    if year not in YEARS or not 1 <= month <= len(DAYS):
        return None
    if not 1 <= day <= DAYS[month - 1] or not least <= end <= 24:  # noqa: PLR2004
        return None
    return (24 * (sum(DAYS[: month - 1]) + day - 1) + end - 1) % HOURS
