"""What a pydantic model accepts at a key, in words and with an example."""

import types
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from enum import Enum
from typing import (
    Annotated,
    Any,
    Literal,
    Protocol,
    TypeGuard,
    Union,
    get_args,
    get_origin,
)

import tomlkit
from pydantic import BaseModel
from pydantic.fields import FieldInfo

from limen.quantity import (
    Dimension,
    Quantity,
    QuantityError,
    accepted_text,
    parse,
    write,
)
from limen.quantity.units import KINDS
from limen.store.tomllines import Path

_USUAL_WHOLE = 3
_ID = r"^[a-z0-9][a-z0-9-]{0,39}$"
_PATTERNS = {_ID: ("small letters, digits and hyphens, at most 40", '"main-entrance"')}
"""Patterns of the model in words; any other is shown as it is."""
_NAMES = {"fan": '"medium"', "sheet": '"two-row"'}
"""Names that are no doorway's: what one may look like."""


@dataclass(frozen=True, slots=True)
class Expected:
    """What is accepted at a key.

    Attributes:
        accepted: In words.
        example: A value as it stands in TOML, or a header in brackets.
    """

    accepted: str
    example: str


@dataclass(frozen=True, slots=True)
class _Slot:
    """A place in a model: one type of a union, with what is annotated on it."""

    kind: Any
    notes: tuple[Any, ...] = ()


@dataclass(frozen=True, slots=True)
class _Example:
    """An example that the model gives with a field."""

    value: object


def expected(model: type[BaseModel], path: Path) -> Expected | None:
    """Describe what `model` accepts at `path`; None if it knows no such key."""
    found = [_described(slot, path) for slot in _at(model, path)]
    if not found:
        return None
    words = dict.fromkeys(item.accepted for item in found)
    return Expected(" or ".join(words), found[0].example)


def keys(model: type[BaseModel], path: Path) -> list[str]:
    """List the keys that the table at `path` may have, in the order of the model."""
    tables = (slot.kind for slot in _at(model, path) if _is_model(slot.kind))
    return list(dict.fromkeys(key for kind in tables for key, _ in _fields(kind)))


def advised(model: type[BaseModel], path: Path, text: str, found: object) -> str:
    """Return advice that is accepted at `path`.

    Args:
        model: The model.
        path: The way to the value at fault.
        text: What the model advises; returned as it is where no quantity stands.
        found: The value at fault. If it shows what was meant, that is advised:
            `1.8 m` for `1,8 m`.
    """
    notes = (note for slot in _at(model, path) for note in slot.notes)
    measure = next((note for note in notes if _is_measure(note)), None)
    if measure is None:
        return text
    return _fitting(measure, *_meant(measure, found), text)


# Walking the model -----------------------------------------------------------


def _at(model: type[BaseModel], path: Path) -> list[_Slot]:
    slots = [_Slot(model)]
    for part in path:
        slots = [inner for slot in slots for inner in _inside(slot, part)]
    return slots


def _inside(slot: _Slot, part: str | int) -> Iterator[_Slot]:
    """Yield the slots that stand at one key, or place, of a slot."""
    if _is_model(slot.kind):
        for key, info in _fields(slot.kind):
            if key == part:
                examples = [_Example(item) for item in info.examples or ()]
                yield from _split(info.annotation, (*info.metadata, *examples))
        return
    origin, arguments = get_origin(slot.kind), get_args(slot.kind)
    if origin in (list, tuple) and isinstance(part, int) and arguments:
        yield from _split(arguments[0], ())
    elif origin is dict and isinstance(part, str):
        yield from _split(arguments[1], ())


def _split(kind: object, notes: tuple[Any, ...]) -> Iterator[_Slot]:
    """Take annotations and unions apart."""
    origin = get_origin(kind)
    if origin is Annotated:
        inner, *more = get_args(kind)
        yield from _split(inner, (*notes, *more))
    elif origin in (Union, types.UnionType):
        for choice in get_args(kind):
            yield from _split(choice, notes)
    elif kind is not type(None):
        yield _Slot(kind, notes)


def _fields(model: type[BaseModel]) -> Iterator[tuple[str, FieldInfo]]:
    """Yield the keys that a file may hold."""
    for name, info in model.model_fields.items():
        if not info.exclude:
            yield info.alias or name, info


def _is_model(kind: object) -> TypeGuard[type[BaseModel]]:
    return isinstance(kind, type) and issubclass(kind, BaseModel)


# In words --------------------------------------------------------------------


def _described(slot: _Slot, path: Path) -> Expected:
    """Describe a slot; an example that the model gives is used before ours."""
    found = _by_type(slot, path)
    given = next((note for note in slot.notes if isinstance(note, _Example)), None)
    return found if given is None else Expected(found.accepted, _as_toml(given.value))


def _as_toml(value: object) -> str:
    return tomlkit.item(value).as_string()


def _by_type(slot: _Slot, path: Path) -> Expected:
    measured = next((note for note in slot.notes if _is_measure(note)), None)
    if measured is not None:
        return _quantity(measured)
    if _is_model(slot.kind):
        return _table(slot.kind, path)
    if get_origin(slot.kind) is Literal:
        return _words([str(word) for word in get_args(slot.kind)])
    if get_origin(slot.kind) in (list, tuple):
        return _array(slot.kind, path)
    if isinstance(slot.kind, type) and issubclass(slot.kind, Enum):
        return _words([str(member.value) for member in slot.kind])
    return _plain(slot, path)


class _Measure(Protocol):
    """What a model writes on a field that holds a quantity.

    It may also say `least` and `most`, in SI units, and `span` in words.
    """

    @property
    def dimension(self) -> Dimension: ...


def _is_measure(note: object) -> TypeGuard[_Measure]:
    return isinstance(getattr(note, "dimension", None), Dimension)


def _quantity(measure: _Measure) -> Expected:
    accepted = accepted_text(measure.dimension)
    span = getattr(measure, "span", "")
    return Expected(
        f"{accepted}; {span}" if span else accepted, f'"{_fitting(measure)}"'
    )


def _meant(measure: _Measure, found: object) -> Iterator[str]:
    """Yield how a refused text could have been written."""
    if isinstance(found, str):
        try:
            parse(found, measure.dimension)
        except QuantityError as error:
            yield error.example


def _fitting(measure: _Measure, *texts: str) -> str:
    """Return the first of some texts that lies within the span."""
    usual = KINDS[measure.dimension].example
    ours = [text for text in texts if text != usual]
    candidates = (*ours, usual, *_middle(measure))
    return next((text for text in candidates if _fits(measure, text)), usual)


def _middle(measure: _Measure) -> Iterator[str]:
    """Write a round value from the middle of the span, if it has both ends."""
    least, most = _ends(measure)
    if least is not None and most is not None:
        middle = float(f"{(least + most) / 2:.2g}")
        yield write(Quantity(middle), measure.dimension)


def _ends(measure: _Measure) -> tuple[float | None, float | None]:
    return getattr(measure, "least", None), getattr(measure, "most", None)


def _fits(measure: _Measure, text: str) -> bool:
    least, most = _ends(measure)
    try:
        value = parse(text, measure.dimension).value
    except QuantityError:
        return False
    return (least is None or value >= least) and (most is None or value <= most)


def _table(model: type[BaseModel], path: Path) -> Expected:
    needed = [key for key, info in _fields(model) if info.is_required()]
    header = ".".join(part for part in path if isinstance(part, str))
    brackets = "[[{}]]" if path and isinstance(path[-1], int) else "[{}]"
    words = f"a table with {', '.join(needed)}" if needed else "a table"
    return Expected(words, brackets.format(header))


def _array(kind: object, path: Path) -> Expected:
    inner = [_described(slot, (*path, 0)) for slot in _split(get_args(kind)[0], ())]
    example = inner[0].example
    if example.startswith("[["):
        return Expected(f"one {example} after the other", example)
    return Expected(f"a list of: {inner[0].accepted}", f"[{example}]")


def _words(words: list[str]) -> Expected:
    return Expected(
        " or ".join(f'"{word}"' for word in words),
        f'"{words[0]}"',
    )


def _plain(slot: _Slot, path: Path) -> Expected:
    patterns = (getattr(note, "pattern", None) for note in slot.notes)
    pattern = next((str(found) for found in patterns if found), None)
    if pattern is not None:
        return _patterned(pattern, path)
    if slot.kind is int:
        return _whole(slot.notes)
    return _PLAIN.get(slot.kind, Expected("", ""))


def _patterned(pattern: str, path: Path) -> Expected:
    accepted, example = _PATTERNS.get(pattern, (f"text of the form {pattern}", ""))
    key = path[-1] if path else ""
    return Expected(accepted, _NAMES.get(str(key), example) if example else "")


def _whole(notes: tuple[Any, ...]) -> Expected:
    """Describe a whole number with its bounds, where it has any."""
    least, most = _bound(notes, "ge"), _bound(notes, "le")
    bounds = "" if least is None else f" from {least}"
    bounds += "" if most is None else f" up to {most}"
    example = _USUAL_WHOLE if least is None else max(least, _USUAL_WHOLE)
    example = example if most is None else min(example, most)
    return Expected(f"a whole number{bounds}", str(example))


def _bound(notes: tuple[Any, ...], name: str) -> int | None:
    bounds = (getattr(note, name, None) for note in notes)
    return next((bound for bound in bounds if isinstance(bound, int)), None)


_PLAIN: dict[Any, Expected] = {
    str: Expected("text in quotes", '"Main entrance"'),
    bool: Expected("true or false", "true"),
    float: Expected("a number", "0.5"),
    date: Expected("a date without quotes", "2026-05-31"),
    dict: Expected("a table", ""),
}
