"""Whatever a list holds, nothing breaks, and each of its rows is accounted for once."""

import csv
from io import StringIO
from pathlib import Path

from hypothesis import example, given, settings
from hypothesis import strategies as st

from limen.store.doorlist.gathering import gather
from limen.store.doorlist.grid import How, ListRefused
from limen.store.doorlist.judging import Judged, judge
from limen.store.doorlist.known import known_header
from limen.store.doorlist.mapping import DoorMap, read_map, write_map
from limen.store.doorlist.reading import Table, read_list
from limen.store.doorlist.refused_rows import HEAD as OURS
from limen.store.doorlist.refused_rows import refused_table
from limen.store.doorlist.suggesting import suggest
from limen.store.sitefile import parse_site
from store.doorlist.dirt import HEAD, MAP, row
from store.doorlist.dirty_books import book
from store.doorlist.test_dirt import TODAY

NASTY = st.text(st.sampled_from("=+-@'\t a1;,|.\u202e\ufffd#é\"\0"), max_size=6)
PLAIN = st.text(
    st.characters(exclude_categories=("Cs",), exclude_characters='\r\n"'), max_size=8
)
ROW = st.lists(NASTY | PLAIN, max_size=12).map(";".join)
BOOK = book()


def _looked(
    data: bytes, mapping: DoorMap | None, how: How | None = None
) -> tuple[Table, Judged] | None:
    try:
        table = read_list(data, how or How(), known_header)
        return table, judge(table, mapping or suggest(table), (), TODAY)
    except ListRefused:
        return None


@given(st.binary(max_size=300))
@settings(max_examples=60)
def test_no_bytes_break_the_reader(data: bytes) -> None:
    _looked(data, None)
    _looked(HEAD.encode() + b"\n" + data, None)


@given(st.data())
@settings(max_examples=25)
def test_no_changed_byte_of_a_workbook_breaks_the_reader(data: st.DataObject) -> None:
    at = data.draw(st.integers(0, len(BOOK) - 1))
    value = data.draw(st.binary(min_size=1, max_size=3))
    _looked(BOOK[:at] + value + BOOK[at + len(value) :], None)


@given(st.lists(ROW.filter(lambda one: '"' not in one), max_size=6))
@settings(max_examples=60)
@example([";;;;", "", "=1;+2;@x", row(3)])
def test_every_row_is_accounted_for_exactly_once(rows: list[str]) -> None:
    data = "\n".join([HEAD, row(2), *rows]).encode()
    found = _looked(data, read_map(MAP, "map"), How("utf-8", ";", header=1))
    assert found is not None
    table, judged = found
    plan = gather(judged, [], _read, "list")
    lines = [
        *(door.record.line for site in plan.sites for door in site.doors),
        *(one.record.line for one in plan.refused),
        *(line for line, _ in table.passed),
    ]
    whole = [HEAD, row(2), *rows]
    while whole and not whole[-1]:
        whole.pop()  # an end of line ends a row and begins none
        break
    assert sorted(lines) == list(range(1, len(whole) + 1))


def _read(text: str) -> None:
    parse_site(text, Path("site.toml"))


@given(st.lists(ROW, min_size=1, max_size=4))
@settings(max_examples=60)
def test_no_cell_of_the_refused_rows_is_a_formula(rows: list[str]) -> None:
    data = "\n".join([HEAD, *rows, row(9)]).encode()
    found = _looked(data, read_map(MAP, "map"))
    if found is None:
        return
    table, judged = found
    out = refused_table(table, judged.refused, lambda one: (f"={one.key}", "@x"))
    read = list(csv.reader(StringIO(out.decode("utf-8-sig"), newline="")))
    assert tuple(read[0][: len(OURS)]) == OURS
    assert len(read) == 1 + len(judged.refused)
    for cells in read:
        assert not any(one.lstrip(" \ufeff").startswith(tuple("=+-@")) for one in cells)
        assert not any(one.startswith(("\t", "\r", "\n")) for one in cells)


@given(st.lists(ROW, max_size=4))
@settings(max_examples=30)
def test_a_suggested_mapping_is_read_back_as_it_was(rows: list[str]) -> None:
    data = "\n".join([HEAD, row(2), *rows]).encode()
    mapping = suggest(read_list(data, How(), known_header))
    assert read_map(write_map(mapping), "map") == mapping
