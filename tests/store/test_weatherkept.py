"""Years that were read before: kept whole, or read again."""

from hashlib import sha256
from pathlib import Path

import pytest

from limen.model.weather import Year
from limen.store import weatherkept, weatherread
from limen.store.faults import FileFaults
from limen.store.weatherfile import parse_weather
from store.weather_files import TMY3, shipped

FIGURES = ("temperature", "humidity", "pressure", "wind")


@pytest.fixture
def data() -> bytes:
    return shipped(TMY3).read_bytes()


@pytest.fixture
def year(data: bytes, tmp_path: Path) -> Year:
    return parse_weather(data, TMY3, tmp_path)


@pytest.fixture
def never(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(weatherread, "check", lambda *_: pytest.fail("it is read"))


def only(folder: Path) -> Path:
    (file,) = folder.iterdir()
    return file


@pytest.mark.usefixtures("year", "never")
def test_a_year_that_is_kept_is_not_read_again(data: bytes, tmp_path: Path) -> None:
    again = parse_weather(data, "other-name.csv", tmp_path)
    assert again.name == "other-name.csv"
    assert len(again.wind) == 8760


def test_what_is_kept_is_what_was_read(
    data: bytes, year: Year, tmp_path: Path, never: None
) -> None:
    again = parse_weather(data, TMY3, tmp_path)
    assert (again.name, again.place, again.digest) == (
        year.name,
        year.place,
        year.digest,
    )
    for one in FIGURES:
        assert (getattr(again, one) == getattr(year, one)).all()


@pytest.mark.usefixtures("year")
@pytest.mark.parametrize("cut", [0, 10, 32, 1000, 100_000])
def test_what_was_cut_is_read_again_and_mended(
    data: bytes, cut: int, tmp_path: Path
) -> None:
    file = only(tmp_path)
    whole = file.read_bytes()
    file.write_bytes(whole[:cut])
    assert len(parse_weather(data, TMY3, tmp_path).wind) == 8760
    assert file.read_bytes() == whole


@pytest.mark.usefixtures("year")
@pytest.mark.parametrize("at", [0, 40, 200, 5_000, 200_000, -1])
def test_one_bit_that_fell_over_is_noticed(
    data: bytes, year: Year, at: int, tmp_path: Path
) -> None:
    file = only(tmp_path)
    spoilt = bytearray(file.read_bytes())
    spoilt[at] ^= 1
    file.write_bytes(bytes(spoilt))
    again = parse_weather(data, TMY3, tmp_path)
    for one in FIGURES:
        assert (getattr(again, one) == getattr(year, one)).all()


@pytest.mark.usefixtures("year", "never")
def test_the_same_bytes_under_another_ending_are_another_file(
    data: bytes, tmp_path: Path
) -> None:
    with pytest.raises(pytest.fail.Exception):
        parse_weather(data, "town.epw", tmp_path)


def test_what_is_refused_is_not_kept(data: bytes, tmp_path: Path) -> None:
    with pytest.raises(FileFaults):
        parse_weather(data[:-200], TMY3, tmp_path)
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_cannot_be_had_is_no_fault(data: bytes, tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("a file")
    year = parse_weather(data, TMY3, tmp_path / "taken" / "weather")
    assert len(year.wind) == 8760


def test_nothing_half_written_is_left(data: bytes, tmp_path: Path) -> None:
    parse_weather(data, TMY3, tmp_path / "new")
    assert only(tmp_path / "new").suffix == ".year"


def test_of_many_years_the_oldest_go(
    data: bytes, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(weatherkept, "MOST_YEARS", 2)
    for number in range(4):
        parse_weather(data + b"\n" * number, TMY3, tmp_path)
    left = {file.name.partition("-")[0] for file in tmp_path.iterdir()}
    assert left == {sha256(data + b"\n" * number).hexdigest() for number in (2, 3)}
