"""Where weather files lie, and when they are read."""

from pathlib import Path

import pytest

from limen.model.site import Site
from limen.model.weather import Year
from limen.store import weatherfile
from limen.store.faults import FileFaults
from limen.store.sitefile import parse_site
from limen.store.weatherfile import (
    MOST_BYTES,
    find_weather,
    parse_weather,
    read_weather,
)
from store.weather_files import TMY3, shipped

SITE = Path("site.toml")


def test_a_file_that_is_too_large_is_not_read(tmp_path: Path) -> None:
    path = tmp_path / "big.csv"
    path.write_bytes(b"x" * (MOST_BYTES + 1))
    with pytest.raises(FileFaults, match="larger than 4 MB"):
        read_weather(path)
    with pytest.raises(FileFaults, match="larger than 4 MB"):
        parse_weather(path.read_bytes(), "big.csv")
    with pytest.raises(FileFaults, match="No such file"):
        read_weather(tmp_path / "gone.csv")


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


# When they are read ---------------------------------------------------------------


def test_a_site_is_read_without_its_weather_until_somebody_asks(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[str] = []

    def read(data: bytes, name: str, kept: Path | None = None) -> Year:
        asked.append(name)
        return parse_weather(data, name, kept)

    monkeypatch.setattr(weatherfile, "parse_weather", read)
    (tmp_path / "weather").mkdir()
    (tmp_path / "weather" / "own.csv").write_bytes(shipped(TMY3).read_bytes())
    door = _site("weather/own.csv", tmp_path).door("main")
    assert asked == []
    assert door.air.year is door.air.year
    assert asked == ["own.csv"]


def test_a_file_at_fault_is_not_read_again_and_one_that_is_mended_is(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "own.csv"
    path.write_text("no weather")
    door = _site("own.csv", tmp_path).door("main")
    assert door.air.year is None
    with monkeypatch.context() as patched:
        patched.setattr(weatherfile, "parse_weather", lambda *_: pytest.fail("again"))
        assert door.air.year is None
        with pytest.raises(FileFaults, match="first lines"):
            read_weather(path)
    path.write_bytes(shipped(TMY3).read_bytes())
    mended = _site("own.csv", tmp_path).door("main")
    assert mended.air.year
    assert mended != door


def test_sites_with_the_same_weather_are_the_same(tmp_path: Path) -> None:
    assert _site(TMY3, tmp_path) == _site(TMY3, tmp_path)
    assert "hung" not in _site(TMY3, tmp_path).door("main").air.model_dump()


def test_no_file_says_what_hangs_on_it(tmp_path: Path) -> None:
    with pytest.raises(FileFaults, match="hung"):
        _site('723170TYA.CSV"\nhung = "x', tmp_path)


def test_bytes_and_file_give_the_same_year() -> None:
    path = shipped(TMY3)
    assert parse_weather(path.read_bytes(), path.name) == read_weather(path)
