"""Years of weather, read as pvlib 0.16 reads them.

TMY3 723170 and 703165 (National Solar Radiation Data Base, 1991-2005 update: users'
manual, NREL/TP-581-43156, 2008) and TMY2 12839 (Marion and Urban, users' manual for
TMY2s, NREL 1995), as they ship with pvlib; EPW as in the EnergyPlus Auxiliary Programs
manual, "Weather file data dictionary", written here from a TMY3 year.
"""

from importlib.util import find_spec
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
import pytest
from pvlib.iotools import read_epw, read_tmy2, read_tmy3

from limen.store.weatherfile import find_weather, parse_weather, read_weather

ZERO = 273.15
MEAN, DEGREE_DAYS, WIND = 14.42184932, 2179.291667, 3.0544
BASE = 18.0
TMY3 = ("723170TYA.CSV", "703165TY.csv")
TMY2 = "12839.tm2"


def shipped(name: str) -> Path:
    found = find_weather(name, ())
    assert found is not None
    return found


def test_the_mean_and_degree_days_of_723170() -> None:
    year = read_weather(shipped(TMY3[0]))
    celsius = year.temperature - ZERO
    assert len(celsius) == 8760
    assert float(celsius.mean()) == pytest.approx(MEAN, abs=1e-4)
    assert float(year.wind.mean()) == pytest.approx(WIND, abs=1e-4)
    below = np.maximum(BASE - celsius, 0.0).sum() / 24
    assert float(below) == pytest.approx(DEGREE_DAYS, abs=0.01)


@pytest.mark.parametrize("name", TMY3)
def test_every_hour_of_a_tmy3_year_is_as_pvlib_reads_it(name: str) -> None:
    year = read_weather(shipped(name))
    table, meta = read_tmy3(str(shipped(name)), map_variables=True)
    assert year.altitude == meta["altitude"]
    assert year.temperature - ZERO == pytest.approx(table["temp_air"].to_numpy())
    assert year.humidity * 100 == pytest.approx(table["relative_humidity"].to_numpy())
    assert year.pressure / 100 == pytest.approx(table["pressure"].to_numpy())
    assert year.wind == pytest.approx(table["wind_speed"].to_numpy())


def test_every_hour_of_a_tmy2_year_is_as_pvlib_reads_it() -> None:
    year = read_weather(shipped(TMY2))
    table, _ = read_tmy2(str(shipped(TMY2)))
    assert (year.temperature - ZERO) * 10 == pytest.approx(table["DryBulb"].to_numpy())
    mean: Any = table["DryBulb"].mean()
    assert float(mean) == pytest.approx(243.140, abs=1e-3)
    assert year.humidity * 100 == pytest.approx(table["RHum"].to_numpy())
    assert year.pressure / 100 == pytest.approx(table["Pressure"].to_numpy())
    assert year.wind * 10 == pytest.approx(table["Wspd"].to_numpy())


def test_every_hour_of_an_epw_year_is_as_pvlib_reads_it(tmp_path: Path) -> None:
    path = tmp_path / "town.epw"
    path.write_text(_epw(), encoding="latin-1")
    year = read_weather(path)
    table, meta = read_epw(str(path))
    assert year.altitude == meta["altitude"] == 273.0
    assert year.place == "Town"
    assert year.temperature - ZERO == pytest.approx(table["temp_air"].to_numpy())
    assert year.humidity * 100 == pytest.approx(table["relative_humidity"].to_numpy())
    assert year.pressure == pytest.approx(table["atmospheric_pressure"].to_numpy())
    assert year.wind == pytest.approx(table["wind_speed"].to_numpy())


def test_the_years_that_ship_are_found_without_a_folder() -> None:
    spec = find_spec("pvlib")
    assert spec is not None
    assert shipped(TMY2).parent.name == "data"
    assert find_weather("weather/12839.tm2", ()) is None


def test_bytes_and_file_give_the_same_year() -> None:
    path = shipped(TMY3[0])
    assert parse_weather(path.read_bytes(), path.name) == read_weather(path)


def _epw() -> str:
    """A TMY3 year written as EPW: 8 lines, then 35 figures an hour."""
    table, _ = read_tmy3(str(shipped(TMY3[0])), map_variables=True)
    days = pd.date_range("2001-01-01", periods=8760, freq="h")
    head = "LOCATION,TOWN,X,YYY,TMY3,723170,36.10,-79.95,-5.0,273.0"
    lines = [head, *(f"HEAD {n}" for n in range(7))]
    for day, (_, row) in zip(days, table.iterrows(), strict=True):
        cells = ["0"] * 35
        cells[:5] = [str(v) for v in (day.year, day.month, day.day, day.hour + 1, 0)]
        cells[6] = f"{row['temp_air']}"
        cells[8] = f"{row['relative_humidity']}"
        cells[9] = f"{row['pressure'] * 100:.0f}"
        cells[21] = f"{row['wind_speed']}"
        lines.append(",".join(cells))
    return "\n".join(lines) + "\n"
