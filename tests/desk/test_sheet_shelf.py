"""Sheets as forms and texts: nothing that a sheet says is lost on the way."""

import tomllib
import types
from collections.abc import Iterator
from pathlib import Path
from typing import Annotated, Union, get_args, get_origin

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import BaseModel

from limen.desk.library import Desk, open_desk
from limen.desk.refusal import Refusal
from limen.desk.sheet_fields import LISTS, PARTS, Field
from limen.desk.sheet_form import faults_by_field, flat_of, raw_of
from limen.desk.sheet_shelf import (
    FormFaultsError,
    SheetClash,
    SheetTakenError,
    add_form,
    add_sheet,
    save_form,
    save_sheet,
    sheet_at_hand,
    sheets_at_hand,
    uses,
)
from limen.desk.sheets import sheets
from limen.model.sheet import Sheet
from limen.store.faults import FileFaults
from limen.store.sheet_writing import changed_text, sheet_text
from limen.store.sheetfile import parse_sheet

SHIPPED = {one.name: one.text for one in sheets()}


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    opened = open_desk(tmp_path / "library.db")
    yield opened
    opened.library.close()


# Every field is asked for --------------------------------------------------------


def _model_keys(model: type[BaseModel], above: str = "") -> Iterator[str]:
    for name, field in model.model_fields.items():
        inner = list(_models(field.annotation))
        if not inner:
            yield f"{above}{name}"
        for one in inner:
            yield from _model_keys(one, f"{above}{name}.")


def _models(kind: object) -> Iterator[type[BaseModel]]:
    if isinstance(kind, type) and issubclass(kind, BaseModel):
        yield kind
    elif get_origin(kind) in (Annotated, Union, types.UnionType, tuple, dict):
        for one in get_args(kind):
            yield from _models(one)


def _asked() -> Iterator[str]:
    for part in PARTS:
        for item in part.items:
            if isinstance(item, Field):
                yield item.key
                continue
            plain = [one.key for one in item.fields if one.key not in ("name", "value")]
            yield from (f"{item.key}.{key}" for key in plain) if plain else [item.key]


def test_the_form_asks_for_everything_that_a_sheet_may_say() -> None:
    assert set(_asked()) == set(_model_keys(Sheet))


def test_every_list_has_a_limit() -> None:
    assert all(one.most > 1 for one in LISTS.values())


# There and back -----------------------------------------------------------------


@pytest.mark.parametrize("name", SHIPPED)
def test_a_sheet_comes_back_from_its_fields_whole(name: str) -> None:
    raw = tomllib.loads(SHIPPED[name])
    assert raw_of(flat_of(raw)) == raw


@pytest.mark.parametrize("name", SHIPPED)
def test_a_sheet_written_anew_says_the_same(name: str) -> None:
    text = sheet_text(tomllib.loads(SHIPPED[name]), ["begun"])
    assert tomllib.loads(text) == tomllib.loads(SHIPPED[name])
    assert parse_sheet(text, name=name) == parse_sheet(SHIPPED[name], name=name)


@pytest.mark.parametrize("name", SHIPPED)
def test_a_text_that_is_to_say_the_same_is_not_touched(name: str) -> None:
    assert changed_text(SHIPPED[name], tomllib.loads(SHIPPED[name])) == SHIPPED[name]


CHANGED = (
    "presence.rows.1.spots",
    "presence.rows.5.angle",
    "presence.fan.choices.4.name",
    "presence.tilt.most",
    "presence.response",
    "service_pause",
    "steadiness",
    "outputs.1.monitored",
    "outputs.3.signals",
    "mounting.edge",
    "mounting.holes.1.up",
    "mounting.cable_hole.along",
    "supply.current",
    "environment.outdoors",
)
VALUES = ("", "yes", "12", "3 mm", "a, b", "2 s", 'say "so"', "\\ # [x]")


@given(
    st.sampled_from(sorted(SHIPPED)),
    st.dictionaries(st.sampled_from(CHANGED), st.sampled_from(VALUES), max_size=6),
)
def test_a_changed_text_says_what_it_is_to_say_and_keeps_its_comments(
    name: str, changes: dict[str, str]
) -> None:
    text = SHIPPED[name]
    raw = raw_of({**flat_of(tomllib.loads(text)), **changes})
    changed = changed_text(text, raw)
    assert tomllib.loads(changed) == raw
    assert _comments(changed) == _comments(text)


def _comments(text: str) -> list[str]:
    return [line for line in text.split("\n") if line.startswith("#")]


@given(st.dictionaries(st.text(max_size=20), st.text(max_size=20), max_size=8))
def test_fields_that_nobody_asked_for_change_nothing(noise: dict[str, str]) -> None:
    raw = tomllib.loads(SHIPPED["two-row"])
    assert (
        raw_of({**{f"x{key}": one for key, one in noise.items()}, **flat_of(raw)})
        == raw
    )


# Faults by field -----------------------------------------------------------------


@pytest.mark.parametrize(
    ("change", "at"),
    [
        ({"presence.rows.2.spots": "1"}, "presence.rows.2.spots"),
        ({"presence.rows.1.angle": "steep"}, "presence.rows.1.angle"),
        ({"presence.tilt.least": "9 deg"}, "presence.tilt.most"),
        ({"presence.fan.choices.2.value": "wide"}, "presence.fan.choices.2.value"),
        ({"presence.fan.at_height": ""}, "presence.fan.at_height"),
        ({"outputs.1.signals": ""}, "outputs.1.signals"),
        ({"mounting.holes.1.up": ""}, "mounting.holes.1.up"),
        ({"name": ""}, "name"),
        ({"environment.sealing": "tight"}, "environment.sealing"),
    ],
)
def test_a_fault_is_told_at_its_field(change: dict[str, str], at: str) -> None:
    flat = {**flat_of(tomllib.loads(SHIPPED["two-row"])), **change}
    with pytest.raises(FileFaults) as told:
        parse_sheet(sheet_text(raw_of(flat)), name="x")
    assert set(faults_by_field(tuple(told.value.faults), flat)) == {at}


def test_a_name_that_stands_twice_is_told_and_not_dropped(desk: Desk) -> None:
    flat = flat_of(tomllib.loads(SHIPPED["two-row"]))
    flat["presence.fan.choices.2.name"] = flat["presence.fan.choices.1.name"]
    with pytest.raises(FormFaultsError) as told:
        add_form(desk, "ours", flat)
    assert "presence.fan.choices.2.name" in told.value.faults
    assert not (desk.sheets / "ours.toml").exists()


def test_what_has_no_place_in_a_list_is_told_and_not_dropped(desk: Desk) -> None:
    flat = flat_of(tomllib.loads(SHIPPED["two-row"]))
    far = "presence.rows.99999999999.angle"
    with pytest.raises(FormFaultsError) as told:
        add_form(desk, "ours", {**flat, far: "0 deg"})
    assert set(told.value.faults) == {far}


# The shelf -----------------------------------------------------------------------


def test_a_sheet_is_kept_byte_for_byte(desk: Desk) -> None:
    data = SHIPPED["two-row"].replace("\n", "\r\n").encode()
    kept = add_sheet(desk, "ours", data)
    assert (desk.sheets / "ours.toml").read_bytes() == data
    assert kept.own
    assert kept.text.encode() == data
    assert (desk.sheets / "ours.toml").stat().st_mode & 0o077 == 0


@pytest.mark.parametrize(
    "name", ["new", "none", "not-known", "two-row", "", "A", "../a", "a b", "a" * 41]
)
def test_a_name_that_means_something_else_is_refused(desk: Desk, name: str) -> None:
    with pytest.raises(SheetTakenError):
        add_sheet(desk, name, SHIPPED["two-row"])


def test_a_sheet_is_never_overwritten_by_another_of_its_name(desk: Desk) -> None:
    add_sheet(desk, "ours", SHIPPED["two-row"])
    with pytest.raises(SheetTakenError):
        add_sheet(desk, "ours", SHIPPED["four-row"])
    assert sheet_at_hand(desk, "ours").text == SHIPPED["two-row"]


def test_the_second_save_is_shown_both_texts(desk: Desk) -> None:
    first = add_sheet(desk, "ours", SHIPPED["two-row"])
    text, other = (f"{SHIPPED['two-row']}# {word}\n" for word in ("one", "two"))
    assert not isinstance(save_sheet(desk, "ours", text, first.digest), SheetClash)
    clash = save_sheet(desk, "ours", other, first.digest)
    assert isinstance(clash, SheetClash)
    assert clash.mine == other
    assert clash.theirs is not None
    assert clash.theirs.text == text
    assert sheet_at_hand(desk, "ours").text == text


def test_a_form_changes_its_fields_alone(desk: Desk) -> None:
    first = add_sheet(desk, "ours", SHIPPED["two-row"])
    flat = {**flat_of(first.raw), "presence.spots_needed": "2"}
    kept = save_form(desk, "ours", flat, first.digest)
    assert not isinstance(kept, SheetClash)
    wanted = SHIPPED["two-row"].replace("spots_needed = 1", "spots_needed = 2")
    assert kept.text == wanted


def test_a_generic_sheet_stays_as_it_is(desk: Desk) -> None:
    one = sheet_at_hand(desk, "two-row")
    with pytest.raises(Refusal):
        save_sheet(desk, "two-row", f"{one.text}# x\n", one.digest)


def test_a_sheet_that_cannot_be_read_is_listed_with_its_faults(desk: Desk) -> None:
    desk.sheets.mkdir(parents=True)
    (desk.sheets / "torn.toml").write_text("name = 1\n", "utf-8")
    (desk.sheets / "No Name.toml").write_text("", "utf-8")
    listed = {one.name: one for one in sheets_at_hand(desk)}
    assert listed["torn"].sheet is None
    assert listed["torn"].faults
    assert "No Name" not in listed
    assert set(SHIPPED) < set(listed)


def test_it_is_known_which_sites_use_a_sheet(desk: Desk) -> None:
    from limen.desk.library_sites import add_demo

    stored = add_demo(desk, "as-found")
    used = uses(desk)
    assert {one.site for every in used.values() for one in every} == {stored.id}
    assert all(one.doors for every in used.values() for one in every)
