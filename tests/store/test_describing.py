"""Every field of a doorway is known, with its name and help in words."""

from collections.abc import Iterator
from typing import Any

import pytest

from limen.model.doorway import Doorway
from limen.model.fields import Stated
from limen.store.describing import Told, told, told_at
from limen.store.schema import schema
from limen.words import catalogue

REWORDED = {("Marking", "signs")}
"""Helps that say it otherwise than the model: a form writes no brackets."""


def _all(model: type[Stated] = Doorway) -> Iterator[Told]:
    for one in told(model):
        yield one
        if one.table is not None:
            yield from _all(one.table)


FIELDS = {(one.model, one.name): one for one in _all()}


def test_all_fields_of_the_schema_are_described() -> None:
    parts: dict[str, Any] = schema("site")["$defs"]  # pyright: ignore[reportAssignmentType]
    models = {model for model, _ in FIELDS}
    expected = {(m, key) for m in models for key in parts[m]["properties"]}
    assert set(FIELDS) == expected
    assert len(FIELDS) > 150


@pytest.mark.parametrize("key", sorted(FIELDS), ids=".".join)
def test_a_fact_has_a_name_and_the_help_of_its_model(key: tuple[str, str]) -> None:
    model, name = key
    one, said = FIELDS[key], catalogue("en").sentences
    if one.table is not None:
        assert f"facts.part.{one.table.__name__}" in said
        return
    assert f"facts.name.{model}.{name}" in said
    parts: dict[str, Any] = schema("site")["$defs"]  # pyright: ignore[reportAssignmentType]
    help_here = said[f"facts.help.{model}.{name}"]
    described = parts[model]["properties"][name]["description"]
    assert key in REWORDED or described.startswith(help_here)


def test_every_choice_has_a_word() -> None:
    said = catalogue("en").sentences
    choices = {choice for one in FIELDS.values() for choice in one.choices}
    assert not {one for one in choices if f"facts.choice.{one}" not in said}


@pytest.mark.parametrize(
    ("way", "kind"),
    [
        (("clear_width",), "quantity"),
        (("leaves", "kind"), "choice"),
        (("use", "public"), "flag"),
        (("modes",), "choices"),
        (("marking", "signs"), "texts"),
        (("motion", "opening_runs"), "quantities"),
        (("commissioned",), "date"),
        (("fitting",), "tables"),
        (("fitting", 3), "tables"),
        (("fitting", 0, "lens"), "table"),
        (("fitting", 0, "settings", "rows_on"), "numbers"),
        (("fitting", 0, "settings", "channel"), "number"),
    ],
)
def test_a_field_is_found_by_its_way(way: tuple[str | int, ...], kind: str) -> None:
    found = told_at(Doorway, way)
    assert found is not None
    assert found.kind == kind


@pytest.mark.parametrize(
    "way", [("nothing",), ("leaves", "nothing"), ("leaves", 0), ("fitting", 0, "unit")]
)
def test_what_is_no_field_is_not_found(way: tuple[str | int, ...]) -> None:
    assert told_at(Doorway, way) is None
