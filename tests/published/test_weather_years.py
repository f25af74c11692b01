"""Years of weather, as their files have them.

TMY3 723170 and 703165 (National Solar Radiation Data Base, 1991-2005 update: users'
manual, NREL/TP-581-43156, 2008) and TMY2 12839 (Marion and Urban, users' manual for
TMY2s, NREL 1995), as they ship with pvlib; EPW as in the EnergyPlus Auxiliary Programs
manual, "Weather file data dictionary", written here from a TMY3 year.  Every hour is
held against the file itself, cell by cell; means and degree days were computed from the
files when pvlib was at 0.16.
"""

import csv
from importlib.util import find_spec

import numpy as np
import pytest

from limen.model.weather import Year
from limen.store.weatherfile import find_weather, parse_weather, read_weather
from store.weather_files import EPW_HEAD, TMY2, TMY3, epw, shipped, written

ZERO = 273.15
BASE = 18.0
YEARS = [
    (TMY3, 14.42184932, 3.0544, 2179.291667),
    ("703165TY.csv", 4.42065, 5.0720, 4956.71),
]
"""Mean temperature (°C), mean wind (m/s), degree days below 18 °C (K d)."""
MEAN_OF_TMY2 = 24.3140  # °C


def _cells(name: str) -> dict[str, list[float]]:
    lines = shipped(name).read_text("latin-1").splitlines()[1:]
    rows = list(csv.DictReader(lines))
    columns = ("Dry-bulb (C)", "RHum (%)", "Pressure (mbar)", "Wspd (m/s)")
    return {column: [float(row[column]) for row in rows] for column in columns}


def _is(year: Year, columns: list[list[float]], scale: tuple[float, ...]) -> None:
    own = (year.temperature - ZERO, year.humidity, year.pressure, year.wind)
    for found, wanted, each in zip(own, columns, scale, strict=True):
        assert found == pytest.approx(np.array(wanted) * each, rel=1e-12, abs=1e-9)


@pytest.mark.parametrize(("name", "mean", "wind", "degree_days"), YEARS)
def test_means_and_degree_days_of_the_tmy3_years(
    name: str, mean: float, wind: float, degree_days: float
) -> None:
    year = read_weather(shipped(name))
    celsius = year.temperature - ZERO
    assert len(celsius) == 8760
    assert float(celsius.mean()) == pytest.approx(mean, abs=1e-4)
    assert float(year.wind.mean()) == pytest.approx(wind, abs=1e-4)
    below = np.maximum(BASE - celsius, 0.0).sum() / 24
    assert float(below) == pytest.approx(degree_days, abs=0.01)


@pytest.mark.parametrize("name", [one[0] for one in YEARS])
def test_every_hour_of_a_tmy3_year_is_as_the_file_has_it(name: str) -> None:
    columns = list(_cells(name).values())
    _is(read_weather(shipped(name)), columns, (1.0, 0.01, 100.0, 1.0))


def test_every_hour_of_a_tmy2_year_is_as_the_file_has_it() -> None:
    """Users' manual, table 3-2: fields 68-71, 80-82, 85-88 and 96-98, in tenths of a
    degree, per cent, millibar and tenths of 1 m/s.
    """
    year = read_weather(shipped(TMY2))
    lines = shipped(TMY2).read_text("latin-1").splitlines()[1:]
    spans = ((67, 71), (79, 82), (84, 88), (95, 98))
    columns = [[float(line[a:b]) for line in lines] for a, b in spans]
    _is(year, columns, (0.1, 0.01, 100.0, 0.1))
    mean = float((year.temperature - ZERO).mean())
    assert mean == pytest.approx(MEAN_OF_TMY2, abs=1e-4)
    assert year.place == "Miami"


def test_every_hour_of_an_epw_year_is_as_the_file_has_it() -> None:
    """Fields N6, N8, N9 and N21, counted from 0 with the date, in °C, %, Pa, m/s."""
    year = parse_weather(written(epw()), "town.epw")
    rows = [row.split(",") for row in epw()[EPW_HEAD:]]
    columns = [[float(row[at]) for row in rows] for at in (6, 8, 9, 21)]
    _is(year, columns, (1.0, 0.01, 1.0, 1.0))
    assert year.place == "Town"


def test_the_first_hours_of_723170_are_these() -> None:
    """Lines 3 and 4 of the file: 10.0 °C, 77 %, 993 mbar, 6.2 m/s; then 10.0 °C."""
    year = read_weather(shipped(TMY3))
    assert float(year.temperature[0]) == pytest.approx(283.15)
    assert float(year.humidity[0]) == pytest.approx(0.77)
    assert float(year.pressure[0]) == pytest.approx(99_300.0)
    assert float(year.wind[0]) == pytest.approx(6.2)


def test_the_years_that_ship_are_found_without_a_folder() -> None:
    assert find_spec("pvlib") is not None
    assert shipped(TMY2).parent.name == "data"
    assert find_weather("weather/12839.tm2", ()) is None
