"""Weather files in: a year of hours, whatever is wrong told line by line.

Three forms are read: EPW, TMY3 (CSV) and TMY2 (columns of fixed width).  Of the many
figures of an hour four are wanted; the others may say what they like.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from hashlib import sha256
from importlib.util import find_spec
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from limen.model.air import ENDINGS
from limen.model.doorway import Doorway
from limen.model.site import Site
from limen.model.weather import HOURS, Year
from limen.store.faults import Fault, FileFaults, printable

MOST_BYTES = 4_000_000
MOST_TOLD = 20  # faults
SHIPPED = "pvlib"
"""A package among whose data there are years of weather, to begin with."""
ZERO = 273.15  # K
LOCATION = 10  # figures in the first line of an EPW file
STATION = 7  # figures in the first line of a TMY3 file
FIRST, HOUR = 50, 100  # characters of a TMY2 file's first line, and of an hour's

Line = str
Table = NDArray[np.float64]
Reader = Callable[[Line], tuple[str, str, str, str]]


@dataclass(frozen=True, slots=True)
class _Form:
    """How one form of file is taken apart.

    Attributes:
        head: lines before the first hour.
        take: temperature, humidity, pressure and wind of an hour's line, as written.
        scale: what one of each written is, in °C, 1, Pa and m/s.
        place: name of the place, from the first line.
        altitude: above the sea (m), as written in the first line.
    """

    head: int
    take: Reader
    scale: tuple[float, float, float, float]
    place: str
    altitude: str


SPANS = (
    ("temperature", -90.0, 60.0, "-90 to 60 °C"),
    ("relative humidity", 0.0, 1.1, "0 to 110 %"),
    ("pressure", 50_000.0, 110_000.0, "50 to 110 kPa"),
    ("wind", 0.0, 90.0, "0 to 90 m/s"),
)


def find_weather(name: str, folders: Sequence[Path]) -> Path | None:
    """The weather file of a name: in one of the folders, else one that ships.

    Args:
        name: as a site file has it, already found to be no way out of the folder.
        folders: looked into in this order.
    """
    places = [folder / name for folder in folders]
    spec = find_spec(SHIPPED)
    if "/" not in name and spec is not None:
        data = (Path(p) / "data" for p in spec.submodule_search_locations or ())
        places += [folder / name for folder in data]
    return next((place for place in places if place.is_file()), None)


def with_weather(site: Site, sheet_folders: Sequence[Path]) -> Site:
    """The site with the weather that doorways name hung on them.

    A weather file that is missing or at fault hinders nothing else: what needs it is
    then not known, and says so.

    Args:
        site: as read.
        sheet_folders: folders with sheets; weather lies beside them.
    """
    if not any(door.air.weather for door in site.doorway):
        return site
    folders = [folder.parent for folder in sheet_folders]
    doors = tuple(_with_year(door, folders) for door in site.doorway)
    return site.model_copy(update={"doorway": doors})


def _with_year(door: Doorway, folders: Sequence[Path]) -> Doorway:
    path = find_weather(door.air.weather, folders) if door.air.weather else None
    if path is None:
        return door
    try:
        year = read_weather(path)
    except FileFaults:
        return door
    return door.model_copy(update={"air": door.air.model_copy(update={"year": year})})


def shipped_weather() -> tuple[str, ...]:
    """Names of the years of weather that are there without fetching any."""
    spec = find_spec(SHIPPED)
    roots = spec.submodule_search_locations if spec else None
    found = [f for root in roots or () for f in (Path(root) / "data").iterdir()]
    return tuple(sorted(f.name for f in found if _looks_like_a_year(f)))


def _looks_like_a_year(file: Path) -> bool:
    ends = file.suffix.lower() in ENDINGS
    return ends and file.name[:1].isdigit()


def read_weather(path: Path) -> Year:
    """Read a weather file.

    Raises:
        FileFaults: everything that is wrong with it, up to 20 faults.
    """
    try:
        state = path.stat()
        if state.st_size > MOST_BYTES:
            raise FileFaults(path.name, [_too_large()])
        return _read(path, state.st_mtime_ns, state.st_size)
    except OSError as error:
        why = error.strerror or "it cannot be read"
        raise FileFaults(path.name, [Fault("", None, "", why, _ACCEPTED, "")]) from None


@lru_cache(maxsize=16)
def _read(path: Path, changed: int, size: int) -> Year:  # noqa: ARG001 - a key
    return parse_weather(path.read_bytes(), path.name)


def parse_weather(data: bytes, name: str) -> Year:
    """Turn the bytes of a weather file into a year.

    Args:
        data: the file, whole.
        name: its name; the ending says which form it has.

    Raises:
        FileFaults: everything that is wrong with it, up to 20 faults.
    """
    if len(data) > MOST_BYTES:
        raise FileFaults(name, [_too_large()])
    lines = data.decode("latin-1").splitlines()
    form = _form(lines, name)
    if isinstance(form, Fault):
        raise FileFaults(name, [form])
    hours = [line for line in lines[form.head :] if line.strip()]
    faults: list[Fault] = []
    values = _values(form, hours, faults)
    if len(hours) != HOURS:
        why = f"it has {len(hours)} hours"
        faults.insert(0, Fault("", None, "", why, "a year of 8760 hours", ""))
    if faults:
        raise FileFaults(name, faults[:MOST_TOLD])
    warm, damp, press, wind = (np.ascontiguousarray(c) for c in values.T)
    return Year(
        name,
        _place(form.place),
        sha256(data).hexdigest(),
        float(form.altitude),
        warm + ZERO,
        np.minimum(damp, 1.0),
        press,
        wind,
    )


_ACCEPTED = "a weather file of 8760 hours: EPW (.epw), TMY3 (.csv) or TMY2 (.tm2)"


def _too_large() -> Fault:
    return Fault("", None, "", "it is larger than 4 MB", _ACCEPTED, "")


def _place(written: str) -> str:
    return printable(written.strip().strip('"').title())


# The three forms -----------------------------------------------------------------


def _form(lines: list[str], name: str) -> _Form | Fault:
    """Which form a file has, by its ending and its first lines."""
    ending = Path(name).suffix.lower()
    first = lines[0] if lines else ""
    made = {".epw": _epw, ".csv": _tmy3, ".tm2": _tmy2}.get(ending)
    found = made(lines) if made and lines else None
    if found is None:
        why = "its first lines are not those of such a file"
        return Fault("", 1, printable(first[:40]), why, _ACCEPTED, "")
    try:
        float(found.altitude)
    except ValueError:
        said = printable(found.altitude[:20])
        return Fault("altitude", 1, said, "it is no number", "metres above the sea", "")
    return found


def _epw(lines: list[str]) -> _Form | None:
    """EnergyPlus weather: eight lines, then 35 figures an hour."""
    head = lines[0].split(",")
    if head[0].strip().upper() != "LOCATION" or len(head) < LOCATION:
        return None
    return _Form(8, _columns((6, 8, 9, 21)), (1, 0.01, 1, 1), head[1], head[9])


def _tmy3(lines: list[str]) -> _Form | None:
    """TMY3: the station, the names of the columns, then the hours."""
    station, names = lines[0].split(","), lines[1].split(",") if lines[1:] else []
    wanted = ("Dry-bulb (C)", "RHum (%)", "Pressure (mbar)", "Wspd (m/s)")
    if len(station) < STATION or not set(wanted) <= set(names):
        return None
    places = tuple(names.index(one) for one in wanted)
    return _Form(2, _columns(places), (1, 0.01, 100, 1), station[1], station[6])


def _tmy2(lines: list[str]) -> _Form | None:
    """TMY2: one line of the station, then columns of fixed width."""
    first, row = lines[0], lines[1] if lines[1:] else ""
    if len(first) < FIRST or len(row) < HOUR:
        return None

    def take(line: str) -> tuple[str, str, str, str]:
        return line[67:71], line[79:82], line[84:88], line[95:98]

    return _Form(1, take, (0.1, 0.01, 100, 0.1), first[7:33], first.split()[-1])


def _columns(places: tuple[int, ...]) -> Reader:
    a, b, c, d = places

    def take(line: str) -> tuple[str, str, str, str]:
        cells = line.split(",")
        return cells[a], cells[b], cells[c], cells[d]

    return take


# The hours -----------------------------------------------------------------------


def _values(form: _Form, hours: list[str], faults: list[Fault]) -> Table:
    """Temperature, humidity, pressure and wind, in °C, 1, Pa and m/s: (n, 4)."""
    rows: list[tuple[float, ...]] = []
    at: list[int] = []
    for number, line in enumerate(hours, start=form.head + 1):
        try:
            a, b, c, d = form.take(line)
            rows.append((float(a), float(b), float(c), float(d)))
            at.append(number)
        except (ValueError, IndexError):
            said = printable(line[:40])
            why = "four figures of this hour cannot be read"
            wanted = "temperature, humidity, pressure and wind as numbers"
            faults.append(Fault("", number, said, why, wanted, ""))
    table = np.array(rows, dtype=np.float64).reshape(-1, 4) * form.scale
    faults += _beyond(table, at)
    return table


def _beyond(table: Table, at: Sequence[int]) -> Iterator[Fault]:
    """Figures that no weather has: a missing one is written as such a figure."""
    for column, (what, low, high, span) in enumerate(SPANS):
        values = table[:, column]
        wrong = np.flatnonzero(~((values >= low) & (values <= high)))
        for row in map(int, wrong[:MOST_TOLD]):
            why = f"no {what} is so, or it is missing"
            found = f"{values[row]:g}"
            yield Fault(what, at[row], found, why, f"{what} of {span}", "")
