"""Which column becomes what: a small TOML file, written and looked at by people."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from textwrap import fill
from typing import Annotated, Literal

import tomlkit
from pydantic import Field, StringConstraints, field_validator, model_validator
from pydantic_core import PydanticCustomError

from limen.model.fields import Stated
from limen.store.doorlist.targets import DAYS, PAIRS, TARGETS, UNITS, dimension_units
from limen.store.reading import read_document

Text = Annotated[str, StringConstraints(min_length=1, max_length=120)]
Short = Annotated[str, StringConstraints(max_length=200)]
ALL_UNITS = tuple(unit for units in UNITS.values() for unit in units)


class ColumnMap(Stated):
    """What one column becomes, or several together."""

    column: Annotated[tuple[Text, ...], Field(min_length=1, max_length=6)]
    """Header of the column; of several, whose texts are joined by a comma."""
    to: Annotated[tuple[Text, ...], Field(min_length=1, max_length=4)]
    """Key that it becomes; several for a size such as 90x210 cm."""
    unit: str | None = None
    """Unit of its bare numbers."""
    day: str | None = None
    """How its days are written."""
    values: dict[Short, Short] = {}  # noqa: RUF012 - pydantic copies it
    """What its texts mean, each by the value that is accepted."""

    @field_validator("column", "to", mode="before")
    @classmethod
    def _one_or_several(cls, value: object) -> object:
        return (value,) if isinstance(value, str) else value

    @model_validator(mode="after")
    def _fits(self) -> "ColumnMap":
        for key in self.to:
            if key not in TARGETS:
                raise _fault(("to",), key, ", ".join(TARGETS))
        units = dimension_units(self.to)
        if self.unit is not None and self.unit not in units:
            raise _fault(("unit",), self.unit, ", ".join(units) or "no unit")
        if self.day is not None and self.day not in DAYS:
            raise _fault(("day",), self.day, ", ".join(DAYS))
        return self


class DoorMap(Stated):
    """How a list of doors is read."""

    decimal: Literal[".", ","] | None = None
    """The decimal sign of its numbers; a number that may mean two is refused else."""
    short_rows: Literal["refused", "as empty"] = "refused"
    """Rows with fewer cells than columns: their ends may be taken as empty."""
    unknown: Annotated[tuple[Short, ...], Field(max_length=50)] = ()
    """Texts that mean: not known."""
    leave_out: Annotated[tuple[Text, ...], Field(max_length=200)] = ()
    """Columns that become nothing."""
    every: dict[Text, Short] = {}  # noqa: RUF012 - pydantic copies it
    """What holds for every row, where no column says it."""
    column: Annotated[tuple[ColumnMap, ...], Field(max_length=200)] = ()
    """What each column becomes."""

    @model_validator(mode="after")
    def _each_once(self) -> "DoorMap":
        seen: set[str] = set()
        for place, one in enumerate(self.column):
            for key in one.to:
                if key in seen:
                    raise _twice(("column", place, "to"), key)
                seen.add(key)
        for key in self.every:
            if key not in TARGETS or key in seen:
                accepted = ", ".join(one for one in TARGETS if one not in seen)
                raise _fault(("every", key), key, accepted)
        return self


def _fault(at: tuple[str | int, ...], found: str, accepted: str) -> PydanticCustomError:
    return PydanticCustomError(
        "mapping",
        "it is not known here",
        {"found": found[:80], "at": at, "accepted": accepted, "example": ""},
    )


def _twice(at: tuple[str | int, ...], found: str) -> PydanticCustomError:
    return PydanticCustomError(
        "mapping",
        "another column becomes the same",
        {"found": found, "at": at, "accepted": "each key once", "example": ""},
    )


def read_map(text: str, name: str) -> DoorMap:
    """Read a mapping.

    Args:
        text: a TOML text.
        name: the file's name for the message.

    Raises:
        FileFaults: everything that is wrong with it.
    """
    return read_document(text, DoorMap, name=name)


# Writing -------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Beside:
    """What stands beside a column in a written mapping, for the eye.

    Attributes:
        found: by column, a few of its texts.
        choices: whether the keys that can be chosen are listed.
    """

    found: Mapping[str, str]
    choices: bool = True


def write_map(mapping: DoorMap, beside: Beside | None = None) -> str:
    """A mapping as a text that a person can change.

    Args:
        mapping: the mapping.
        beside: what is shown beside it, as comments.
    """
    return "\n".join(_lines(mapping, beside or Beside({}, choices=False))) + "\n"


def _comment(text: str) -> str:
    """In lines that a terminal shows whole."""
    return fill(text, 79, initial_indent="# ", subsequent_indent="#   ")


def _lines(mapping: DoorMap, beside: Beside) -> Iterator[str]:
    if beside.choices:
        yield "# Which column becomes what. Look at every line before it counts."
        yield _comment(f"to: {', '.join(TARGETS)}")
        yield f"# to, of one column: {_toml(list(PAIRS['size']))}"
        yield _comment(f"unit: {', '.join(ALL_UNITS)}; day: {', '.join(DAYS)}")
    if mapping.decimal:
        yield f"decimal = {_toml(mapping.decimal)}"
    if mapping.short_rows != "refused":
        yield f"short_rows = {_toml(mapping.short_rows)}"
    if mapping.unknown:
        yield f"unknown = {_toml(list(mapping.unknown))}"
    for name in mapping.leave_out:
        yield from _seen(name, beside)
    if mapping.leave_out:
        yield f"leave_out = {_toml(list(mapping.leave_out))}"
    if mapping.every:
        yield "\n[every]"
        yield from (f"{_toml(key)} = {_toml(v)}" for key, v in mapping.every.items())
    for one in mapping.column:
        yield from _column(one, beside)


def _column(one: ColumnMap, beside: Beside) -> Iterator[str]:
    yield "\n[[column]]"
    for name in one.column:
        yield from _seen(name, beside)
    yield f"column = {_toml(_single(one.column))}"
    yield f"to = {_toml(_single(one.to))}"
    if one.unit:
        yield f"unit = {_toml(one.unit)}"
    if one.day:
        yield f"day = {_toml(one.day)}"
    if one.values:
        yield "[column.values]"
        yield from (f"{_toml(key)} = {_toml(v)}" for key, v in one.values.items())


def _single(many: tuple[str, ...]) -> object:
    return many[0] if len(many) == 1 else list(many)


def _seen(name: str, beside: Beside) -> Iterator[str]:
    if beside.found.get(name):
        yield f"# {_printed(name)}: {_printed(beside.found[name])}"


def _printed(text: str) -> str:
    return "".join(sign if sign.isprintable() else "�" for sign in text)


def _toml(value: object) -> str:
    return tomlkit.item(value).as_string()
