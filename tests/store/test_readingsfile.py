"""Readings files: read whole, refused with all their faults, written back the same."""

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from builders.doorways import a_doorway
from limen.model.readings import Readings
from limen.quantity import Quantity
from limen.store.faults import FileFaults
from limen.store.readings_writing import readings_text, written
from limen.store.readingsfile import agreeing, parse_readings, read_readings

GOOD = """\
site = "site.toml"
doorway = "reference"
taken = 2026-11-12

[[unit]]
fitting = "inside"
lens = { height = "2203 mm ± 3 mm" }

[[unit.reading]]
kind = "row line"
along = "-900 mm"
out = "64 mm ± 4 mm"
row = 1

[[unit.reading]]
kind = "spot centre"
from_left = "120 mm"
out = "64 mm"

[[unit.reading]]
kind = "row end"
end = "right"
from_right = "-210 mm"

[[unit.reading]]
kind = "box edge in"
along = "0 mm"
out = "70 mm"
height = "700 mm"
struck = true
"""


def refused(text: str) -> list[str]:
    with pytest.raises(FileFaults) as caught:
        parse_readings(text, name="readings.toml")
    return [" ".join(fault.lines()) for fault in caught.value.faults]


def test_a_file_says_what_was_read(tmp_path: Path) -> None:
    path = tmp_path / "readings.toml"
    path.write_text(GOOD, encoding="utf-8")
    file = read_readings(path)
    (unit,) = file.readings.unit
    assert file.site == tmp_path / "site.toml"
    assert [one.kind for one in unit.reading] == [
        "row line",
        "spot centre",
        "row end",
        "box edge in",
    ]
    assert unit.lens.height == Quantity(2.203, 0.003)
    assert unit.reading[3].struck


def test_a_place_is_the_same_from_the_middle_and_from_both_posts() -> None:
    unit = parse_readings(GOOD, name="r").unit[0]
    width = Quantity(2.0, 0.004)
    assert unit.reading[0].place(width).value == pytest.approx(-0.9)
    assert unit.reading[1].place(width).value == pytest.approx(-0.88)
    assert unit.reading[2].place(width).value == pytest.approx(1.21)


def test_a_post_that_is_not_known_closely_makes_a_place_less_sure() -> None:
    text = GOOD.replace('from_left = "120 mm"', 'from_left = "120 mm ± 2 mm"')
    unit = parse_readings(text, name="r").unit[0]
    assert unit.reading[1].place(Quantity(2.0, 0.006)).u == pytest.approx(0.005)


def test_all_faults_are_told_at_once_each_with_its_line() -> None:
    text = (
        GOOD.replace('"64 mm ± 4 mm"', "64")
        .replace("row = 1", "row = 99")
        .replace('end = "right"', 'end = "top"')
        .replace('doorway = "reference"', 'doorway = "Reference"')
    )
    told = refused(text)
    assert len(told) == 4
    assert "line 2" in told[0]
    assert "line 12" in told[1]
    assert "needs its unit" in told[1]
    assert all("accepted" in one for one in told)


@pytest.mark.parametrize(
    ("old", "new", "why"),
    [
        ('along = "-900 mm"\n', "", "said once"),
        ('along = "-900 mm"', 'along = "1 mm"\nfrom_left = "2 mm"', "said once"),
        ('kind = "row line"', 'kind = "row"', "accepted"),
        ('out = "70 mm"\n', "", "needed"),
        ("struck = true", "struck = 1", "true"),
    ],
)
def test_a_reading_that_is_not_one_is_refused(old: str, new: str, why: str) -> None:
    assert old in GOOD
    (told,) = refused(GOOD.replace(old, new))
    assert why in told


def test_a_unit_twice_is_refused() -> None:
    (told,) = refused(GOOD + '\n[[unit]]\nfitting = "inside"\n')
    assert "twice" in told


# Whether it fits its site --------------------------------------------------------


def _clashes(text: str) -> list[str]:
    door = a_doorway()
    readings = parse_readings(text, name="r")
    with pytest.raises(FileFaults) as caught:
        agreeing(readings, {door.id: door}, text, name="r")
    return [" ".join(fault.lines()) for fault in caught.value.faults]


def test_readings_that_fit_their_site_give_their_doorway() -> None:
    door = a_doorway()
    readings = parse_readings(GOOD, name="r")
    assert agreeing(readings, {door.id: door}, GOOD, name="r") is door


def test_a_doorway_that_is_not_there_is_told_with_those_that_are() -> None:
    (told,) = _clashes(GOOD.replace('"reference"', '"main"'))
    assert "line 2" in told
    assert "reference" in told


def test_rows_spots_and_units_that_are_not_there_are_told_together() -> None:
    text = GOOD.replace("row = 1", "row = 5").replace(
        'out = "64 mm"\n', 'out = "64 mm"\nspot = 99\n'
    )
    text += '\n[[unit]]\nfitting = "attic"\n'
    row, spot, unit = _clashes(text)
    assert "line 13" in row
    assert "the sheet has 2 rows" in row
    assert "24 spots" in spot
    assert "no such fitting" in unit
    assert "inside" in unit


# Out, and in again ---------------------------------------------------------------

lengths = st.integers(0, 4000).map(lambda mm: f"{mm} mm ± 3 mm")
places = st.one_of(
    st.builds(dict, along=lengths),
    st.builds(dict, from_left=lengths),
    st.builds(dict, from_right=lengths),
)
rows = st.one_of(st.just({}), st.builds(dict, row=st.integers(1, 12)))
kinds = st.one_of(
    st.builds(dict, kind=st.just("row line"), out=lengths),
    st.builds(dict, kind=st.just("row end"), end=st.sampled_from(["left", "right"])),
    st.builds(dict, kind=st.just("spot centre"), out=lengths, spot=st.integers(1, 200)),
)
each = st.builds(lambda a, b, c: {**a, **b, **c}, kinds, places, rows)


@given(st.lists(each, max_size=6), st.text(max_size=20))
@settings(max_examples=60)
def test_what_is_written_reads_back_the_same(
    readings: list[dict[str, object]], note: str
) -> None:
    values = {
        "site": "a b.toml",
        "doorway": "main",
        "note": note,
        "unit": ({"fitting": "inside", "reading": tuple(readings)},),
    }
    known = Readings.model_validate(values)
    assert parse_readings(readings_text(known), name="r") == known


def test_what_a_form_got_wrong_is_told_where_it_stands() -> None:
    text = written(
        {
            "site": "x",
            "doorway": "main",
            "unit": [
                {
                    "fitting": "inside",
                    "reading": [{"kind": "row line", "along": "12", "out": "64 mm"}],
                }
            ],
        }
    )
    (told,) = refused(text)
    assert "reading[1].along" in told


def test_a_key_of_another_kind_is_told_as_such() -> None:
    (told,) = refused(GOOD.replace("row = 1\n", "row = 1\nspot = 3\n"))
    assert "reading[1].spot" in told
    assert "no such key belongs to this kind" in told
    assert "did you mean" not in told
