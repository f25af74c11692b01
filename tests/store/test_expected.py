"""What a model accepts, told from the model itself."""

import tomllib
from enum import Enum

import pytest
from pydantic import BaseModel, Field

from limen.model.fitting import Fitting
from limen.quantity import Dimension, parse
from limen.store.expected import advised, expected, keys
from limen.store.tomllines import Path
from store.small_site import Site

FITTING: Path = ("doorway", 0, "fitting", 0)


@pytest.mark.parametrize(
    ("path", "accepted", "example"),
    [
        (("name",), "text in quotes", '"Main entrance"'),
        (("doorway",), "one [[doorway]] after the other", "[[doorway]]"),
        (
            ("doorway", 3, "leaves"),
            "a table with kind, thickness",
            "[doorway.leaves]",
        ),
        (("doorway", 0, "leaves", "kind"), '"single" or "bi-parting"', '"single"'),
        (("doorway", 0, "commissioned"), "a date without quotes", "2026-05-31"),
        ((*FITTING, "channel"), "a whole number from 1 up to 8", "3"),
        ((*FITTING, "tested"), "true or false", "true"),
        ((*FITTING, "sheet"), "text in quotes", '"generic-curtain"'),
        ((*FITTING, "fan", "form"), '"angles" or "width"', '"angles"'),
    ],
)
def test_each_kind_of_key_is_described(path: Path, accepted: str, example: str) -> None:
    found = expected(Site, path)
    assert found is not None
    assert (found.accepted, found.example) == (accepted, example)


def test_a_quantity_is_described_with_its_units_and_its_span() -> None:
    found = expected(Site, ("doorway", 0, "leaves", "thickness"))
    assert found is not None
    assert found.accepted.endswith("; 10 to 300 mm")
    assert 0.01 <= parse(found.example.strip('"'), Dimension.LENGTH).value <= 0.3


def test_a_list_of_quantities_has_an_example_that_is_toml() -> None:
    found = expected(Site, (*FITTING, "rows"))
    assert found is not None
    assert tomllib.loads(f"rows = {found.example}") == {"rows": ["12.5°"]}


def test_a_value_of_a_table_of_choices_is_described() -> None:
    found = expected(Site, ("doorway", 0, "choices", "anything"))
    assert found is not None
    assert found.example == '"1800 mm"'


@pytest.mark.parametrize("path", [("nothing",), ("name", "x"), ("doorway", "x")])
def test_what_the_model_does_not_know_is_not_described(path: Path) -> None:
    assert expected(Site, path) is None


def test_the_keys_of_a_table_are_those_of_the_file() -> None:
    assert keys(Site, ()) == ["name", "doorway"]
    assert keys(Site, (*FITTING, "fan")) == ["form", "half", "width"]

    class Other(BaseModel):
        inside: int = Field(alias="in")
        hung_on: int = Field(default=0, exclude=True)

    assert keys(Other, ()) == ["in"]


def test_advice_lies_within_the_span() -> None:
    path = ("doorway", 0, "leaves", "thickness")
    assert advised(Site, path, "45 mm", None) == "45 mm"
    assert advised(Site, path, "45 m", None) != "45 m"
    assert advised(Site, ("name",), "anything", None) == "anything"


def test_advice_is_what_was_meant_where_that_shows() -> None:
    path = ("doorway", 0, "clear_width")
    assert advised(Site, path, "1800 mm", "2,2 m") == "2.2 m"
    assert advised(Site, path, "1800 mm", "2200") == "1800 mm"
    assert advised(Site, path, "1800 mm", "220,5 m") == "1800 mm"


def test_words_of_an_enumeration_are_told() -> None:
    class Side(Enum):
        OUT = "outside"
        IN = "inside"

    class Other(BaseModel):
        side: Side
        ratio: float
        code: str = Field(pattern="^x$")
        many: int = Field(ge=10)
        few: int = Field(le=2)

    for key, accepted in (
        ("side", '"outside" or "inside"'),
        ("ratio", "a number"),
        ("many", "a whole number from 10"),
        ("few", "a whole number up to 2"),
        ("code", "text of the form ^x$"),
    ):
        found = expected(Other, (key,))
        assert found is not None
        assert found.accepted == accepted


def test_a_name_is_shown_by_one_of_its_own_kind() -> None:
    for key, example in (("sheet", '"two-row"'), ("id", '"main-entrance"')):
        found = expected(Fitting, (key,))
        assert found is not None
        assert found.example == example
