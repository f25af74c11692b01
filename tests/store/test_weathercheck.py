"""Weather files that cannot be used: every fault told, with its line."""

import warnings

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from limen.model.weather import Year
from limen.store.faults import Fault, FileFaults
from limen.store.weatherread import year_of
from store.weather_files import EPW_HEAD, changed, epw, tmy2, tmy3, written

T, RH, P, W = 6, 8, 9, 21
"""Columns of an EPW file."""


def read(rows: list[str], name: str) -> Year:
    return year_of(written(rows), name)


def refused(rows: list[str], name: str) -> tuple[Fault, ...]:
    with pytest.raises(FileFaults) as told:
        read(rows, name)
    return told.value.faults


def every_hour(rows: list[str], column: int, text: str) -> list[str]:
    """An EPW file with the same in a column of every hour."""
    hours = (changed([row], 0, column, text)[0] for row in rows[EPW_HEAD:])
    return [*rows[:EPW_HEAD], *hours]


# Figures -------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("row", "column", "text", "word"),
    [
        (2, 31, "warm", "no number"),
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
    (fault,) = refused(changed(tmy3(), row, column, text), "town.csv")
    assert fault.line == row + 1
    assert fault.key == f"column {column + 1}"
    assert word in f"{fault.accepted} {fault.why}"
    assert fault.found == text


@pytest.mark.parametrize(
    ("column", "text"), [(T, "99.9"), (RH, "999"), (P, "999999"), (W, "999")]
)
def test_what_an_epw_file_writes_for_a_missing_figure_is_none(
    column: int, text: str
) -> None:
    """EnergyPlus Auxiliary Programs, "Weather file data dictionary": 99.9, 999,
    999999 and 999 are missing.
    """
    (fault,) = refused(changed(epw(), 100, column, text), "town.epw")
    assert (fault.line, fault.found) == (101, text)
    assert "missing" in fault.why


@pytest.mark.parametrize("text", ["", "NA", "nan", "inf", "True", "1_0", "0x10", "1d5"])
def test_what_is_no_number_is_none_though_the_column_may_be_read(text: str) -> None:
    (fault,) = refused(changed(epw(), 100, T, text), "town.epw")
    assert (fault.line, fault.found) == (101, text)
    assert "missing" in fault.why


def test_a_column_of_truths_is_no_column_of_ones() -> None:
    assert len(refused(every_hour(epw(), T, "True"), "town.epw")) == 20
    rows = epw()
    half = [*rows[:4000], *every_hour(rows, T, "True")[4000:]]
    assert refused(half, "town.epw")[0].line == 4001


def test_flags_that_are_numbers_here_and_signs_there_are_no_matter() -> None:
    rows = epw()
    mixed = [*rows[:4000], *every_hour(rows, 5, "9")[4000:]]
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        assert len(read(mixed, "town.epw").wind) == 8760


@pytest.mark.parametrize(
    ("figures", "word"),
    [("9999", "missing"), (" 1_0", "sign _"), ("    ", "pvlib"), ("warm", "pvlib")],
)
def test_figures_of_a_tmy2_file_are_told_with_their_line(
    figures: str, word: str
) -> None:
    rows = tmy2()
    rows[50] = rows[50][:67] + figures + rows[50][71:]
    (fault,) = refused(rows, "town.tm2")
    assert fault.line == 51
    assert word in fault.why


# Shape ---------------------------------------------------------------------------


def test_faults_are_told_together_in_order_and_not_without_end() -> None:
    rows = tmy3()
    assert len(refused([*rows[:2], *("no,hour" for _ in rows[2:])], "town.csv")) == 20
    one = changed(rows, 10, 31, "x")
    one[20] = "short"
    told = refused(changed(one, 30, 31, "y"), "town.csv")
    assert [fault.line for fault in told] == [11, 21, 31]


def test_a_year_has_8760_hours() -> None:
    (fault,) = refused(tmy3()[:-1], "town.csv")
    assert "8759" in fault.why
    (fault,) = refused([*epw(), *epw()[EPW_HEAD : EPW_HEAD + 24]], "town.epw")
    assert "8784" in fault.why


def test_an_hour_left_out_is_told_where_it_is() -> None:
    rows = epw()
    counted, after = refused([*rows[:100], *rows[101:]], "town.epw")
    assert counted.line is None
    assert after.line == 101
    assert "after the one before" in after.why


def test_an_hour_that_stands_twice_for_another_is_told() -> None:
    rows = epw()
    rows[101] = rows[100]
    assert refused(rows, "town.epw")[0].line == 102


def test_a_year_begins_in_january() -> None:
    rows = epw()
    july = [*rows[:EPW_HEAD], *rows[4352:], *rows[EPW_HEAD:4352]]
    (fault,) = refused(july, "town.epw")
    assert fault.line == EPW_HEAD + 1


@pytest.mark.parametrize(
    ("column", "text"),
    [(1, "13"), (1, "²"), (2, "32"), (3, "25"), (3, "0"), (0, "20"), (0, "9" * 5000)],
)
def test_what_is_no_hour_of_a_year_is_told(column: int, text: str) -> None:
    (fault,) = refused(changed(epw(), 100, column, text), "town.epw")
    assert fault.line == 101
    assert "no hour" in fault.why


@pytest.mark.parametrize("hour", ["", "7.00", "25:00", "07"])
def test_what_is_no_hour_of_a_tmy3_year_is_told(hour: str) -> None:
    (fault,) = refused(changed(tmy3(), 100, 1, hour), "town.csv")
    assert fault.line == 101


def test_midnight_may_be_the_first_hour_of_the_day_after() -> None:
    rows = tmy3()
    for number, row in enumerate(rows):
        if ",24:00," in row:
            after = rows[(number + 1) if number + 1 < len(rows) else 2]
            day = after.split(",")[0]
            rows[number] = ",".join([day, "00:00", *row.split(",")[2:]])
    assert (read(rows, "town.csv").wind == read(tmy3(), "town.csv").wind).all()


def test_decimals_after_a_comma_are_told_with_their_line() -> None:
    (fault,) = refused(changed(epw(), 100, T, "14,4"), "town.epw")
    assert fault.line == 101
    assert "36 figures, not 22 to 35" in fault.why


@pytest.mark.parametrize("sign", ['"', "\0", "\x0b"])
def test_a_sign_that_hides_lines_from_the_reader_is_told(sign: str) -> None:
    (fault,) = refused(changed(epw(), 100, 5, sign), "town.epw")
    assert fault.line == 101


def test_a_comma_in_the_name_of_the_place_moves_nothing() -> None:
    rows = epw()
    rows[0] = rows[0].replace("TOWN", "TOWN, NY")
    (fault,) = refused(rows, "town.epw")
    assert fault.line == 1
    assert "comma" in fault.why


@pytest.mark.parametrize(("old", "new"), [("36.100", "north"), ("723170", "x723170")])
def test_what_pvlib_does_not_read_in_a_first_line_is_told(old: str, new: str) -> None:
    rows = tmy3()
    rows[0] = rows[0].replace(old, new)
    (fault,) = refused(rows, "town.csv")
    assert fault.line == 1


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
    (fault,) = refused(rows, name)
    assert "8760" in fault.accepted


@settings(max_examples=60)
@given(st.binary(max_size=400), st.sampled_from(["a.epw", "b.csv", "c.tm2", "d"]))
def test_whatever_is_sent_is_refused_and_breaks_nothing(data: bytes, name: str) -> None:
    with pytest.raises(FileFaults):
        year_of(data, name)


@settings(max_examples=12)
@given(
    st.integers(EPW_HEAD, 8767),
    st.integers(0, 34),
    st.text(st.characters(codec="latin-1"), max_size=6),
)
def test_one_cell_written_otherwise_is_refused_or_changes_one_hour(
    row: int, column: int, text: str
) -> None:
    """Whatever stands in it: no hour but this one becomes another."""
    whole = read(epw(), "town.epw")
    try:
        found = read(changed(epw(), row, column, text), "town.epw")
    except FileFaults:
        return
    for one in ("temperature", "humidity", "pressure", "wind"):
        other = (getattr(found, one) != getattr(whole, one)).nonzero()[0]
        assert set(other) <= {row - EPW_HEAD}


# What is no fault -----------------------------------------------------------------


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_lines_may_end_in_any_way(end: str) -> None:
    data = end.join(epw()).encode()
    assert (year_of(data, "TOWN.EPW").wind == read(epw(), "town.epw").wind).all()


def test_blank_lines_and_cells_that_are_left_out_are_no_fault() -> None:
    rows = epw()
    short = [row.rsplit(",", 13)[0] for row in rows[EPW_HEAD:4000]]
    loose = [rows[0] + ",,", "", *rows[2:EPW_HEAD], *short, "", "  ", *rows[4000:]]
    assert (read(loose, "town.epw").wind == read(rows, "town.epw").wind).all()


@pytest.mark.parametrize("code", ["latin-1", "utf-8", "utf-8-sig"])
def test_the_place_is_read_as_it_is_written(code: str) -> None:
    rows = epw()
    rows[0] = rows[0].replace("TOWN", "ZÜRICH")
    assert year_of("\n".join(rows).encode(code), "town.epw").place == "Zürich"


def test_a_place_of_two_words_is_no_fault_of_a_tmy2_file() -> None:
    rows = tmy2()
    rows[0] = rows[0].replace("MIAMI    ", "KEY  WEST")
    year = read(rows, "town.tm2")
    assert year.place == "Key West"
    assert (year.wind == read(tmy2(), "town.tm2").wind).all()
