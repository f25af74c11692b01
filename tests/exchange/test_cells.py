"""No cell of a table is a formula, whoever opens it."""

import csv
from datetime import date
from io import StringIO

import pytest
from hypothesis import given
from hypothesis import strategies as st

from limen.exchange.cells import cell, table

SIGNS = "=+-@\uff1d\uff0b\uff0d\uff20"
"""By what a cell begins that is reckoned.

Source: common practice, no source; full-width forms as well.
"""


@pytest.mark.parametrize("sign", SIGNS)
@pytest.mark.parametrize("before", ["", " ", "\t", "\n", "\ufeff", "a;", "a,", 'a;"'])
def test_a_text_that_begins_with_a_sign_of_sums_is_marked(
    sign: str, before: str
) -> None:
    assert f"{sign}1" in cell(f"{before}{sign}1")
    for parted in _parted(cell(f"{before}{sign}1")):
        assert parted.lstrip(' \t\r\n"\ufeff')[:1] not in set(SIGNS)


def test_a_harmless_text_stays_as_it_is() -> None:
    for text in ("Main entrance", "North-south", "a = b", "5 - 3", "", "Zoë's door"):
        assert cell(text) == text


def test_numbers_days_and_nothing_stand_as_they_are() -> None:
    said = (cell(-3), cell(2.5), cell(date(2026, 2, 28)), cell(None))
    assert said == ("-3", "2.5", "2026-02-28", "")


@given(st.lists(st.text(), min_size=2, max_size=2))
def test_no_reader_of_any_separator_meets_a_formula(texts: list[str]) -> None:
    data = table(["one", "other"], [texts]).decode("utf-8-sig")
    for separator in ",;\t":
        for row in csv.reader(StringIO(data, newline=""), delimiter=separator):
            for found in row:
                assert found.lstrip(' "')[:1] not in set(SIGNS), row


def test_a_table_is_read_back_as_it_was_written() -> None:
    rows = [["a,b", 'said "so"', "two\nlines"], ["1", "", "é"]]
    data = table(["x", "y", "z"], rows).decode("utf-8-sig")
    back = list(csv.reader(StringIO(data, newline="")))
    assert back == [["x", "y", "z"], *rows]


def _parted(text: str) -> list[str]:
    return text.replace(",", ";").split(";")
