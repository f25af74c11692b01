# pyright: reportMissingTypeStubs=false, reportUnknownVariableType=false
# pyright: reportUnknownMemberType=false, reportUnknownArgumentType=false
"""A year of weather as pvlib reads it, and what no weather is told line by line."""

import warnings
from collections.abc import Iterator
from hashlib import sha256
from io import StringIO
from pathlib import Path
from tempfile import TemporaryDirectory
from threading import Lock
from typing import TYPE_CHECKING, Any, cast

import numpy as np
from numpy.typing import NDArray

from limen.model.weather import Year
from limen.store.faults import Fault, FileFaults, printable
from limen.store.weathercheck import Checked, check
from limen.store.weatherforms import ACCEPTED

if TYPE_CHECKING:
    from pandas import DataFrame

MOST_TOLD = 20  # faults
ZERO = 273.15  # K
SPANS = (
    (-90.0, 60.0, "a temperature of -90 to 60 °C"),
    (0.0, 1.1, "a relative humidity of 0 to 110 %"),
    (50_000.0, 110_000.0, "a pressure of 50 to 110 kPa"),
    (0.0, 90.0, "a wind of 0 to 90 m/s"),
)
UNREAD = (ValueError, LookupError, TypeError, AttributeError, ArithmeticError)
"""What pvlib and pandas raise at a file that they cannot read."""

Table = NDArray[np.float64]
_ONE_AT_A_TIME = Lock()


def year_of(data: bytes, name: str) -> Year:
    """Turn the bytes of a weather file into a year, by pvlib.

    Args:
        data: the file, whole.
        name: its name; the ending says which form it has.

    Raises:
        FileFaults: everything that is wrong with it, up to 20 faults.
    """
    checked = check(data, name)
    if isinstance(checked, Fault):
        raise FileFaults(name, [checked])
    faults = list(checked.faults)
    values, place = _read(checked, faults)
    if faults:
        faults.sort(key=lambda fault: fault.line or 0)
        raise FileFaults(name, faults[:MOST_TOLD])
    warm, damp, press, wind = (np.ascontiguousarray(column) for column in values.T)
    digest = sha256(data).hexdigest()
    return Year(name, place, digest, warm + ZERO, np.minimum(damp, 1.0), press, wind)


def _read(checked: Checked, faults: list[Fault]) -> tuple[Table, str]:
    """Temperature, humidity, pressure and wind in °C, 1, Pa and m/s: (n, 4)."""
    nothing = np.empty((0, 4)), ""
    if not checked.rows:
        return nothing
    try:
        table, place = _by_pvlib(checked.form.ending, checked.text())
        if len(table) != len(checked.rows):
            raise ValueError(f"{len(table)} hours")
        figures = [_numbers(table[column]) for column in checked.form.columns]
        said = str(place[checked.form.place])
    except UNREAD:
        faults.append(_unread(checked))
        return nothing
    values = np.stack(figures, axis=1) * checked.form.scale
    faults += _beyond(checked, values)
    return values, _titled(said)


def _unread(checked: Checked) -> Fault:
    """Which line pvlib does not read, found by halving; the first if it reads none."""
    start, end = 0, len(checked.rows)
    while end - start > 1:
        half = (start + end) // 2
        start, end = (half, end) if _reads(checked, start, half) else (start, half)
    last = len(checked.rows) - 1
    number, line = checked.rows[start]
    if start == 0 and last and not _reads(checked, last, last + 1):
        number, line = 1, checked.form.head[0]
    why = "pvlib, which reads such files, does not read this line"
    return Fault("", number, printable(line), why, ACCEPTED, "")


def _reads(checked: Checked, start: int, end: int) -> bool:
    try:
        table, _ = _by_pvlib(checked.form.ending, checked.text(start, end))
    except UNREAD:
        return False
    return len(table) == end - start


def _titled(place: str) -> str:
    return printable(place.replace("_", " ").strip().strip('"').title())


def _by_pvlib(ending: str, text: str) -> "tuple[DataFrame, dict[str, Any]]":
    """What pvlib reads.

    While it does, the whole process is told nothing of columns of which some cells are
    numbers and others not: flags are so in many a file, and are not looked at.  One
    file is read at a time, so that this ends as it began.
    """
    from pandas.errors import DtypeWarning
    from pvlib import iotools

    reading = cast("Any", iotools)
    with _ONE_AT_A_TIME, warnings.catch_warnings():
        warnings.simplefilter("ignore", DtypeWarning)
        if ending == ".epw":
            return reading.read_epw(StringIO(text))
        if ending == ".csv":
            return reading.read_tmy3(StringIO(text), map_variables=False)
        with TemporaryDirectory(prefix="limen-") as folder:  # it takes no text
            path = Path(folder) / "year.tm2"
            path.write_text(text, encoding="ascii", errors="replace")
            return reading.read_tmy2(path)


def _numbers(column: Any) -> Table:  # noqa: ANN401 - a column of pandas
    """A column as numbers; NaN where a cell holds none."""
    from pandas import to_numeric

    if column.dtype == bool:
        return np.full(len(column), np.nan)
    if column.dtype == object:
        column = column.where([not isinstance(one, bool) for one in column])
    found = to_numeric(column, errors="coerce")
    return np.asarray(found, dtype=np.float64)


def _beyond(checked: Checked, values: Table) -> Iterator[Fault]:
    """Figures that no weather has: a missing one is written as such a figure."""
    for which, (low, high, accepted) in enumerate(SPANS):
        column = values[:, which]
        wrong = np.flatnonzero(~((column >= low) & (column <= high)))
        key = checked.form.places[which]
        for row in map(int, wrong[:MOST_TOLD]):
            said = printable(checked.written(row, which))
            why = _why(said, number=bool(np.isfinite(column[row])))
            yield Fault(key, checked.rows[row][0], said, why, accepted, "")


def _why(said: str, *, number: bool) -> str:
    if number:
        return "no weather has it; perhaps it stands for a missing figure"
    return "it is no number, or missing" if said else "it is missing"
