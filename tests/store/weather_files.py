"""Weather files to be spoilt: a TMY3 and a TMY2 year as they ship with pvlib, and the
TMY3 year written as EPW, as in the EnergyPlus Auxiliary Programs manual, "Weather file
data dictionary".
"""

from functools import cache
from pathlib import Path

import pandas as pd
from pvlib.iotools import read_tmy3

from limen.store.weatherfile import find_weather

TMY3 = "723170TYA.CSV"
TMY2 = "12839.tm2"
EPW_HEAD = 8
PLACE = "LOCATION,TOWN,X,YYY,TMY3,723170,36.10,-79.95,-5.0,273.0"


def shipped(name: str) -> Path:
    found = find_weather(name, ())
    assert found is not None
    return found


def tmy3() -> list[str]:
    return shipped(TMY3).read_text("latin-1").splitlines()


def tmy2() -> list[str]:
    return shipped(TMY2).read_text("latin-1").splitlines()


def epw() -> list[str]:
    """8 lines, then 35 figures an hour."""
    return list(_epw())


@cache
def _epw() -> tuple[str, ...]:
    table, _ = read_tmy3(str(shipped(TMY3)), map_variables=True)
    days = pd.date_range("2001-01-01", periods=8760, freq="h")
    lines = [PLACE, *(f"HEAD {n}" for n in range(EPW_HEAD - 1))]
    for day, (_, row) in zip(days, table.iterrows(), strict=True):
        cells = ["0"] * 35
        cells[:5] = [str(v) for v in (day.year, day.month, day.day, day.hour + 1, 0)]
        cells[5] = "?9?9?9?9E0"
        cells[6] = f"{row['temp_air']}"
        cells[8] = f"{row['relative_humidity']}"
        cells[9] = f"{row['pressure'] * 100:.0f}"
        cells[21] = f"{row['wind_speed']}"
        lines.append(",".join(cells))
    return tuple(lines)


def changed(rows: list[str], row: int, column: int, text: str) -> list[str]:
    """The lines with one cell of one of them written otherwise."""
    cells = rows[row].split(",")
    cells[column] = text
    return [*rows[:row], ",".join(cells), *rows[row + 1 :]]


def written(rows: list[str]) -> bytes:
    return ("\n".join(rows) + "\n").encode("latin-1")
