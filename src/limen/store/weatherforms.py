"""The forms of weather file that pvlib reads, and what it makes of each."""

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from limen.store.faults import Fault, printable

ACCEPTED = "a weather file of 8760 hours: EPW (.epw), TMY3 (.csv) or TMY2 (.tm2)"

Line = str


@dataclass(frozen=True, slots=True)
class Hour:
    """An hour's line, cut as its form says; nothing of it is read yet.

    Attributes:
        moment: year, month, day and hour.
        figures: temperature, humidity, pressure and wind.
    """

    moment: tuple[str, ...]
    figures: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Form:
    """How a file is laid out, and what pvlib makes of it.

    Attributes:
        ending: of the file's name.
        head: lines that pvlib is given before the first hour.
        first: lines in the file before the first hour.
        cut: takes an hour's line apart; or says what is wrong with its shape.
        width: cells that pvlib wants in every line; 0 where none are counted.
        least: number of the first hour of a day: 1 of 24, or 0 where midnight is 0.
        columns: temperature, humidity, pressure and wind, as pvlib calls them.
        places: where these four stand in a line, for whoever looks there.
        scale: what one of each is, in °C, 1, Pa and m/s.
        place: what pvlib calls the name of the place.
    """

    ending: str
    head: tuple[Line, ...]
    first: int
    cut: Callable[[Line], Hour | str]
    width: int
    least: int
    columns: tuple[str, ...]
    places: tuple[str, ...]
    scale: tuple[float, ...]
    place: str


def form_of(lines: Sequence[Line], ending: str) -> Form | Fault:
    """How a file is laid out, by its ending and its first lines."""
    made = {".epw": _epw, ".csv": _tmy3, ".tm2": _tmy2}.get(ending)
    found = made(lines) if made else None
    if found is None:
        why = "its first lines are not those of such a file"
        return Fault("", 1, printable(lines[0][:40]), why, ACCEPTED, "")
    return found


def _place(line: Line, cells: int) -> tuple[str, ...] | Fault | None:
    """The cells of a first line; one too many would move those after it."""
    found = tuple(line.rstrip(", ").split(","))
    if len(found) <= cells:
        return found if len(found) == cells else None
    why = f"it has {len(found)} figures; is there a comma in the name of the place?"
    return Fault("", 1, printable(line[:60]), why, f"{cells} figures", "")


# EPW -----------------------------------------------------------------------------

EPW_PLACE, EPW_HEAD = 10, 8
EPW_LEAST, EPW_MOST = 22, 35  # cells of an hour: to the wind, and all
EPW_FIGURES = (6, 8, 9, 21)


def _epw(lines: Sequence[Line]) -> Form | Fault | None:
    """EnergyPlus weather: eight lines, then up to 35 cells an hour."""
    if lines[0].split(",")[0].strip().upper() != "LOCATION":
        return None
    place = _place(lines[0], EPW_PLACE)
    if place is None or isinstance(place, Fault):
        return place

    def cut(line: Line) -> Hour | str:
        cells = line.split(",")
        if not EPW_LEAST <= len(cells) <= EPW_MOST:
            return _cells(len(cells), EPW_LEAST, EPW_MOST)
        return Hour(tuple(cells[:4]), tuple(cells[one] for one in EPW_FIGURES))

    return Form(
        ".epw",
        (",".join(place), *("-" for _ in range(EPW_HEAD - 1))),
        EPW_HEAD,
        cut,
        EPW_MOST,
        1,
        ("temp_air", "relative_humidity", "atmospheric_pressure", "wind_speed"),
        _columns(EPW_FIGURES),
        (1.0, 0.01, 1.0, 1.0),
        "city",
    )


# TMY3 ----------------------------------------------------------------------------

TMY3_PLACE = 7
TMY3_MOMENT = ("Date (MM/DD/YYYY)", "Time (HH:MM)")
TMY3_FIGURES = ("Dry-bulb (C)", "RHum (%)", "Pressure (mbar)", "Wspd (m/s)")


def _tmy3(lines: Sequence[Line]) -> Form | Fault | None:
    """TMY3: the station, the names of the columns, then the hours."""
    names = lines[1].split(",") if lines[1:] else []
    if not {*TMY3_MOMENT, *TMY3_FIGURES} <= set(names):
        return None
    place = _place(lines[0], TMY3_PLACE)
    if place is None or isinstance(place, Fault):
        return place
    day, hour = (names.index(one) for one in TMY3_MOMENT)
    figures = tuple(names.index(one) for one in TMY3_FIGURES)
    most, least = len(names), max(day, hour, *figures) + 1

    def cut(line: Line) -> Hour | str:
        cells = line.split(",")
        if not least <= len(cells) <= most:
            return _cells(len(cells), least, most)
        on, at = cells[day].split("/"), cells[hour].split(":")
        moment = (*on[2:], *on[:2], *at[:1]) if at[1:] else ()
        return Hour(moment, tuple(cells[one] for one in figures))

    return Form(
        ".csv",
        (",".join(place), lines[1]),
        2,
        cut,
        most,
        0,
        TMY3_FIGURES,
        _columns(figures),
        (1.0, 0.01, 100.0, 1.0),
        "Name",
    )


def _cells(found: int, least: int, most: int) -> str:
    return f"it has {found} figures, not {least} to {most}"


def _columns(places: Sequence[int]) -> tuple[str, ...]:
    return tuple(f"column {place + 1}" for place in places)


# TMY2 ----------------------------------------------------------------------------

TMY2_WIDTH = 142  # characters of an hour
TMY2_MOMENT = ((1, 3), (3, 5), (5, 7), (7, 9))
TMY2_FIGURES = ((67, 71), (79, 82), (84, 88), (95, 98))
TMY2_PLACE = re.compile(
    r"\s*([0-9]+)\s+(\S.*?)\s+([A-Z]{2})"
    r"\s+(-?[0-9]+\s+[NS](?:\s+[0-9]+){2}\s+[EW](?:\s+[0-9]+){2}\s+-?[0-9]+)\s*"
)


def _tmy2(lines: Sequence[Line]) -> Form | None:
    """TMY2: one line of the station, then columns of fixed width.

    pvlib takes the first line word by word, so that a place of two words is joined.
    """
    found = TMY2_PLACE.fullmatch(lines[0])
    if found is None:
        return None
    place = "_".join(found[2].split())

    def cut(line: Line) -> Hour | str:
        if len(line) != TMY2_WIDTH:
            return f"it has {len(line)} characters, not {TMY2_WIDTH}"
        if "_" in line:  # between digits it is passed over
            return "it holds a sign _ that belongs to no number"
        year, *rest = (line[a:b] for a, b in TMY2_MOMENT)
        figures = tuple(line[a:b] for a, b in TMY2_FIGURES)
        return Hour((f"19{year}", *rest), figures)

    return Form(
        ".tm2",
        (f"{found[1]} {place} {found[3]} {found[4]}",),
        1,
        cut,
        0,
        1,
        ("DryBulb", "RHum", "Pressure", "Wspd"),
        tuple(f"characters {a + 1} to {b}" for a, b in TMY2_FIGURES),
        (0.1, 0.01, 100.0, 0.1),
        "City",
    )
