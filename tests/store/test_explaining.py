"""Keys and reasons in the words of the person who wrote the file."""

from typing import Any

import pytest
from pydantic import BaseModel, Field, ValidationError, model_validator
from pydantic_core import PydanticCustomError

from limen.quantity import Dimension, parse
from limen.store.explaining import explain, key_text
from limen.store.faults import Fault

DATA = {
    "doorway": [
        {"id": "main", "leaves": {"thickness": "1 m"}},
        {"fitting": [{"id": "out"}, {"id": "\x1b"}, {"id": "x" * 41}, {"id": ""}]},
    ]
}


@pytest.mark.parametrize(
    ("path", "text"),
    [
        (("doorway",), "doorway"),
        (("doorway", 0), 'doorway "main"'),
        (("doorway", 0, "leaves", "thickness"), 'doorway "main" · leaves.thickness'),
        (("doorway", 1, "id"), "doorway[2].id"),
        (("doorway", 1, "fitting", 0, "id"), 'doorway[2].fitting "out" · id'),
        (("doorway", 1, "fitting", 1), "doorway[2].fitting[2]"),
        (("doorway", 1, "fitting", 2), "doorway[2].fitting[3]"),
        (("doorway", 1, "fitting", 3), "doorway[2].fitting[4]"),
        (("doorway", 9, "x"), "doorway[10].x"),
        ((), ""),
    ],
)
def test_a_key_is_written_as_people_read_it(
    path: tuple[str | int, ...], text: str
) -> None:
    assert key_text(path, DATA) == text


def explained(model: type[BaseModel], data: dict[str, Any]) -> list[Fault]:
    with pytest.raises(ValidationError) as caught:
        model.model_validate(data)
    lines: dict[tuple[str | int, ...], int] = {
        (key,): number for number, key in enumerate(data, 1)
    }
    return explain(caught.value, model, data, lines)


class Bounded(BaseModel):
    more: int = Field(default=1, gt=0)
    less: int = Field(default=1, lt=5)
    even: int = Field(default=2, multiple_of=2)
    long: str = Field(default="xx", min_length=2, max_length=3)
    many: list[int] = Field(default=[1], max_length=2)


@pytest.mark.parametrize(
    ("data", "why", "found"),
    [
        ({"more": 0}, "must be more than 0", "0"),
        ({"less": 5}, "must be less than 5", "5"),
        ({"even": 3}, "must be a multiple of 2", "3"),
        ({"long": "x"}, "must have 2 or more characters", '"x"'),
        ({"long": "xxxx"}, "must have 3 or fewer characters", '"xxxx"'),
        ({"many": [1, 2, 3]}, "holds more than 2", "a list of 3"),
        ({"many": {"a": 1}}, "a table is not accepted here", "a table with a"),
        ({"many": {}}, "a table is not accepted here", "an empty table"),
        ({"more": "x"}, "text is not accepted here", '"x"'),
        ({"more": 1.5}, "a number is not accepted here", "1.5"),
    ],
)
def test_bounds_are_told_in_words(data: dict[str, Any], why: str, found: str) -> None:
    (fault,) = explained(Bounded, data)
    assert (fault.why, fault.found, fault.line) == (why, found, 1)


class Own(BaseModel):
    a: Any = None
    b: Any = None

    @model_validator(mode="after")
    def _judge(self) -> "Own":
        if self.a == "plain":
            raise ValueError("these two do not go together")
        if self.a == "placed":
            said = {"at": ("b",), "found": "this", "example": "3"}
            raise PydanticCustomError("own", "b is {found}", said)
        if self.a == "length":
            parse(self.b, Dimension.LENGTH)
        return self


def test_the_models_own_words_are_used() -> None:
    (fault,) = explained(Own, {"a": "plain"})
    assert (fault.key, fault.why) == ("", "these two do not go together")


def test_the_model_may_name_the_place() -> None:
    (fault,) = explained(Own, {"a": "placed", "b": 1})
    assert (fault.key, fault.line, fault.found) == ("b", 2, "this")
    assert (fault.why, fault.example) == ("b is this", "b = 3")


def test_what_a_quantity_says_of_itself_is_kept() -> None:
    (fault,) = explained(Own, {"a": "length", "b": "1,8 m"})
    assert "write 1.8 m" in fault.why
    assert fault.found == "1,8 m"
