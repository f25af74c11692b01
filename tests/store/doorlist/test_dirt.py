"""Every row of a dirty list is taken, refused with its line and reason, or named."""

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest

from limen.exchange.cells import cell as harmless
from limen.model.site import Site
from limen.store.doorlist.gathering import Plan, gather
from limen.store.doorlist.grid import How, ListRefused
from limen.store.doorlist.judging import Door, judge
from limen.store.doorlist.known import known_header
from limen.store.doorlist.mapping import read_map
from limen.store.doorlist.numbering import is_formula
from limen.store.doorlist.reading import Table, read_list
from limen.store.sitefile import parse_site
from store.doorlist.dirt import CELL_DIRT, MAP, TAKEN, Dirt, around, row
from store.doorlist.dirt_files import FILE_DIRT
from store.doorlist.dirt_rows import ROW_DIRT
from store.doorlist.dirty_books import cases

TODAY = date(2026, 11, 25)
EVERY = (*CELL_DIRT, *ROW_DIRT, *FILE_DIRT, *cases())
READ = [one for one in EVERY if not one.file]


_SITES: dict[str, Site] = {}


def _check(text: str) -> None:
    _SITES[text] = parse_site(text, Path("site.toml")).site


def taken_in(dirt: Dirt) -> tuple[Table, Plan]:
    """A dirty list, read, mapped and judged."""
    table = read_list(dirt.data, How(**dirt.how), known_header)  # pyright: ignore[reportArgumentType]
    mapping = read_map(f"{dirt.extra}\n{MAP}", "map.toml")
    judged = judge(table, mapping, (), TODAY)
    return table, gather(judged, [], _check, "list")


def outcome(table: Table, plan: Plan) -> Iterator[tuple[int, str]]:
    """What became of each row, by its line; of a refused one its first reason."""
    yield from table.passed
    for site in plan.sites:
        yield from ((door.record.line, TAKEN) for door in site.doors)
    yield from ((one.record.line, one.reasons[0].key) for one in plan.refused)


def test_there_are_two_hundred_kinds_and_each_has_a_name_of_its_own() -> None:
    assert len(EVERY) >= 200
    assert len({one.name for one in EVERY}) == len(EVERY)


@pytest.mark.parametrize("dirt", READ, ids=lambda one: one.name)
def test_every_row_comes_to_what_a_person_would_want(dirt: Dirt) -> None:
    table, plan = taken_in(dirt)
    found = list(outcome(table, plan))
    assert dict(found) == dict(dirt.lines)
    assert len(found) == len(dict(found))
    doors = {door.record.line: door for site in plan.sites for door in site.doors}
    for (line, key), wanted in dirt.holds.items():
        assert said(doors[line], key) == wanted
    for site in plan.sites:  # what was written is read back
        read = _SITES[site.text]
        assert read.name == site.said.name
        assert [one.id for one in read.doorway] == [door.id for door in site.doors]


def said(door: Door, key: str) -> object:
    """What a taken row says."""
    every = {"site": door.site.name, "place": door.site.place, **door.short}
    kept = every.get("kept")
    every |= kept if isinstance(kept, dict) else {}
    found = every.get(key)
    return found.isoformat() if isinstance(found, date) else found


@pytest.mark.parametrize(
    "dirt", [one for one in EVERY if one.file], ids=lambda one: one.name
)
def test_a_file_that_is_no_list_is_refused_as_a_whole(dirt: Dirt) -> None:
    with pytest.raises(ListRefused) as refused:
        taken_in(dirt)
    assert refused.value.message.key == f"take_in.file.{dirt.file}"


def test_a_row_is_refused_with_all_its_reasons_and_their_columns() -> None:
    bad = {"width": "wide", "height": "=1", "check": "soon"}
    _, plan = taken_in(Dirt("", around(row(3, **bad)).encode()))
    (refused,) = plan.refused
    assert [(one.column, one.key, one.found) for one in refused.reasons] == [
        ("width", "number", "wide"),
        ("height", "formula", "=1"),
        ("check", "day", "soon"),
    ]


def test_what_begins_like_a_formula_is_told_by_the_same_signs_as_in_exports() -> None:
    for sign in "=+-@\u2212\uff1d\uff0b\uff0d\uff20'ab1 ":
        assert is_formula(f"{sign}1") == (harmless(f"{sign}1") != f"{sign}1")
