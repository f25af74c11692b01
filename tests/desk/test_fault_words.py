"""The faults of a file on the command line, in the words of whoever reads them."""

from pathlib import Path

import pytest

from broken.files import GOOD, SITES, Broken
from limen.desk.fault_words import faults_told
from limen.store.faults import MOST_LISTED, Fault, FileFaults
from limen.store.sitefile import parse_site
from limen.store.weatherread import year_of
from limen.words import read_as
from limen.words.retelling import _patterns as patterns_of_faults
from store.weather_files import changed, tmy3, written


def _faults(broken: Broken) -> FileFaults:
    with pytest.raises(FileFaults) as refused:
        parse_site(broken.of(GOOD), Path("door.toml"))
    return refused.value


@pytest.mark.parametrize("broken", SITES, ids=lambda one: one.name)
def test_in_english_they_are_told_as_the_reading_room_tells_them(
    broken: Broken,
) -> None:
    faults = _faults(broken)
    assert list(faults_told(faults)) == faults.lines()


def test_more_than_are_listed_are_counted() -> None:
    faults = FileFaults("door.toml", [Fault("", 1, "", "x")] * (MOST_LISTED + 3))
    assert list(faults_told(faults)) == faults.lines()
    assert faults_told(faults)[-1].endswith("3 more")


def test_a_reason_is_told_in_german_and_what_stands_there_is_left() -> None:
    reason = "a number needs its unit, written as text in quotes"
    fault = Fault("clear_width", 4, "1800", reason, "", 'clear_width = "1800 mm"')
    with read_as("de"):
        said = "\n".join(faults_told(FileFaults("door.toml", [fault])))
    assert "eine Zahl braucht ihre Einheit" in said
    assert "1800" in said
    assert 'clear_width = "1800 mm"' in said
    assert reason not in said


def test_of_two_parts_each_is_told() -> None:
    accepted = "a length with a unit; 1.5 to 8 m"
    fault = Fault("clear_width", 4, "", "nothing is written", accepted)
    with read_as("de"):
        said = faults_told(FileFaults("door.toml", [fault]))[-1]
    assert "Länge mit Einheit; 1.5 bis 8 m" in said


def test_what_is_wrong_with_a_weather_file_is_found_by_its_text() -> None:
    """Reasons, what is accepted and where it stands: none of them stays in English."""
    rows = changed(changed(tmy3(), 20, 31, "-9900"), 40, 31, "warm")
    rows[60] = "short"
    with pytest.raises(FileFaults) as refused:
        year_of(written(rows[:-1]), "town.csv")
    told = {t for one in refused.value.faults for t in (one.why, one.accepted, one.key)}
    known = [pattern for _, pattern in patterns_of_faults()]
    assert len(told) > 6
    for text in told - {""}:
        assert any(pattern.fullmatch(text) for pattern in known), text
