"""Weather files that cannot be used: every fault told, with its line."""

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from limen.model.site import Site
from limen.store.faults import FileFaults
from limen.store.sitefile import parse_site
from limen.store.weatherfile import (
    MOST_BYTES,
    find_weather,
    parse_weather,
    read_weather,
)

SITE = Path("site.toml")


def lines() -> list[str]:
    found = find_weather("723170TYA.CSV", ())
    assert found is not None
    return found.read_text("latin-1").splitlines()


def parsed(rows: list[str], name: str = "town.csv") -> FileFaults:
    with pytest.raises(FileFaults) as refused:
        parse_weather("\n".join(rows).encode("latin-1"), name)
    return refused.value


def changed(row: int, column: int, text: str) -> list[str]:
    rows = lines()
    cells = rows[row].split(",")
    cells[column] = text
    rows[row] = ",".join(cells)
    return rows


def test_the_year_itself_is_read() -> None:
    assert len(parse_weather("\n".join(lines()).encode(), "town.csv").wind) == 8760


@pytest.mark.parametrize(
    ("row", "column", "text", "word"),
    [
        (2, 31, "warm", "cannot be read"),
        (2, 31, "-9900", "missing"),
        (77, 31, "nan", "missing"),
        (77, 37, "140", "humidity"),
        (5000, 40, "12", "pressure"),
        (8761, 46, "-1", "wind"),
    ],
)
def test_a_figure_that_no_weather_has_is_told_with_its_line(
    row: int, column: int, text: str, word: str
) -> None:
    (fault,) = parsed(changed(row, column, text)).faults
    assert fault.line == row + 1
    assert word in f"{fault.key} {fault.why}"
    assert fault.accepted


def test_faults_are_told_together_and_not_without_end() -> None:
    rows = lines()
    broken = [*rows[:2], *("no,hour" for _ in rows[2:])]
    found = parsed(broken).faults
    assert len(found) == 20
    one = changed(10, 31, "x")
    one[20] = "short"
    assert {fault.line for fault in parsed(one).faults} == {11, 21}


def test_a_year_has_8760_hours() -> None:
    (fault,) = parsed(lines()[:-1]).faults
    assert "8759" in fault.why


@pytest.mark.parametrize(
    ("rows", "name"),
    [
        (["hello"], "a.csv"),
        ([], "a.epw"),
        (["LOCATION,x"], "a.epw"),
        (["1", "2"], "a.tm2"),
        (["anything"], "a.txt"),
        (["1,2,3,4,5,6,high", *["x"]], "a.csv"),
    ],
)
def test_what_is_no_weather_file_is_told_to_be_none(rows: list[str], name: str) -> None:
    (fault,) = parsed(rows, name).faults
    assert "8760" in fault.accepted


def test_a_file_that_is_too_large_is_not_read(tmp_path: Path) -> None:
    path = tmp_path / "big.csv"
    path.write_bytes(b"x" * (MOST_BYTES + 1))
    with pytest.raises(FileFaults, match="larger than 4 MB"):
        read_weather(path)
    with pytest.raises(FileFaults, match="larger than 4 MB"):
        parse_weather(path.read_bytes(), "big.csv")
    with pytest.raises(FileFaults, match="No such file"):
        read_weather(tmp_path / "gone.csv")


@settings(max_examples=60)
@given(st.binary(max_size=400), st.sampled_from(["a.epw", "b.csv", "c.tm2", "d"]))
def test_whatever_is_sent_is_refused_and_breaks_nothing(data: bytes, name: str) -> None:
    with pytest.raises(FileFaults):
        parse_weather(data, name)


# Named in a site ------------------------------------------------------------------


def _site(weather: str, tmp_path: Path) -> Site:
    from importlib.resources import files

    text = (
        files("limen").joinpath("demo", "alder-quay-as-found.toml").read_text("utf-8")
    )
    text = text.replace("723170TYA.CSV", weather)
    return parse_site(text, SITE, (tmp_path / "sheets",)).site


def test_a_year_that_ships_is_hung_on_the_doorway_that_names_it(tmp_path: Path) -> None:
    site = _site("723170TYA.CSV", tmp_path)
    assert site.door("main").air.year
    assert site.door("staff").air.year is None


def test_a_file_beside_the_site_comes_first(tmp_path: Path) -> None:
    found = find_weather("703165TY.csv", ())
    assert found
    (tmp_path / "weather").mkdir()
    (tmp_path / "weather" / "own.csv").write_bytes(found.read_bytes())
    year = _site("weather/own.csv", tmp_path).door("main").air.year
    assert year
    assert year.place == "Sand Point"


def test_a_weather_file_that_is_missing_hinders_nothing_else(tmp_path: Path) -> None:
    assert _site("gone.csv", tmp_path).door("main").air.year is None
    (tmp_path / "bad.csv").write_text("no weather")
    assert _site("bad.csv", tmp_path).door("main").air.year is None


@pytest.mark.parametrize(
    "name",
    [
        "../town.csv",
        "weather/../town.csv",
        "/etc/town.csv",
        "other/town.csv",
        "town.toml",
        "..csv",
        "C:town.csv",
        "weather\\\\town.csv",
    ],
)
def test_no_name_leads_out_of_the_folder(name: str, tmp_path: Path) -> None:
    with pytest.raises(FileFaults) as refused:
        _site(name, tmp_path)
    (fault,) = refused.value.faults
    assert "air" in fault.key
    assert "weather/our-town.epw" in fault.example
