"""What a model can be told: every field, its kind, and what it accepts.

Pages that ask for all facts of a doorway are made from this, so that a field which
is added to the model is asked for at once.
"""

import types
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from functools import cache
from typing import Annotated, Any, Literal, Union, cast, get_args, get_origin

from pydantic.fields import FieldInfo
from pydantic_core import PydanticUndefined

from limen.model.fields import InUnits, Stated
from limen.quantity import Dimension, Quantity, accepted_text, write
from limen.store.expected import expected
from limen.store.tomllines import Path

Kind = Literal[
    "quantity",
    "quantities",
    "choice",
    "choices",
    "flag",
    "date",
    "text",
    "texts",
    "number",
    "numbers",
    "table",
    "tables",
]
Plain = str | int | bool | date | tuple[str | int, ...]

_ONE: dict[object, Kind] = {
    bool: "flag",
    date: "date",
    int: "number",
    str: "text",
    Quantity: "quantity",
}
_MANY: dict[Kind, Kind] = {
    "quantity": "quantities",
    "choice": "choices",
    "text": "texts",
    "number": "numbers",
    "table": "tables",
}


@dataclass(frozen=True, slots=True)
class Told:
    """One field of a model.

    Attributes:
        model: the name of the model.
        name: the key.
        kind: what stands there; the plural where a list does.
        needed: whether it must be written.
        unknown: whether leaving it out says that it is not known.
        default: what counts where it is left out, as a file has it.
        dimension: of a quantity.
        choices: of a choice.
        accepted, example: what is accepted, in words, and such a value in TOML.
        table: what stands in a table.
    """

    model: str
    name: str
    kind: Kind
    needed: bool
    unknown: bool
    default: Plain | None = None
    dimension: Dimension | None = None
    choices: tuple[str, ...] = ()
    accepted: str = ""
    example: str = ""
    table: type[Stated] | None = None


@cache
def told(model: type[Stated]) -> tuple[Told, ...]:
    """Every field of a model that a file may hold, in the model's order."""
    fields = model.model_fields.items()
    return tuple(_told(model, name, info) for name, info in fields if not info.exclude)


def told_at(model: type[Stated], way: Path) -> Told | None:
    """The field at a way, places in lists counted; None if there is none."""
    found: Told | None = None
    table: type[Stated] | None = model
    for part in way:
        if isinstance(part, int):
            if found is None or found.kind != "tables":
                return None
            continue
        fields = told(table) if table else ()
        found = next((one for one in fields if one.name == part), None)
        table = found.table if found else None
    return found


# One field ---------------------------------------------------------------------


def _told(model: type[Stated], name: str, info: FieldInfo) -> Told:
    kind, inner, notes = _kind(info.annotation, tuple(info.metadata))
    dimension = next((n.dimension for n in notes if isinstance(n, InUnits)), None)
    wanted = expected(model, (name,))
    return Told(
        model.__name__,
        name,
        kind,
        info.is_required(),
        info.default is None or kind in ("table", "tables"),
        _default(info, dimension),
        dimension,
        tuple(str(one) for one in get_args(inner)) if kind.startswith("choice") else (),
        _accepted(notes, dimension) or (wanted.accepted if wanted else ""),
        wanted.example if wanted else "",
        cast("type[Stated]", inner) if kind in ("table", "tables") else None,
    )


def _accepted(notes: tuple[Any, ...], dimension: Dimension | None) -> str:
    """Units and span of a quantity, of one in a list too."""
    if dimension is None:
        return ""
    span = next((n.span for n in notes if isinstance(n, InUnits)), "")
    accepted = accepted_text(dimension)
    return f"{accepted}; {span}" if span else accepted


def _default(info: FieldInfo, dimension: Dimension | None) -> Plain | None:
    value: object = info.default
    if value is None or value is PydanticUndefined or isinstance(value, Stated):
        return None
    if isinstance(value, Quantity) and dimension:
        return write(value, dimension)
    if value == ():
        return None
    return cast("Plain", value)


def _kind(
    annotation: object, notes: tuple[Any, ...]
) -> tuple[Kind, object, tuple[Any, ...]]:
    """Kind of a field, the type of what stands there, and all that is noted on it."""
    inner, more = _bare(annotation)
    notes = (*notes, *more)
    if get_origin(inner) is tuple:
        kind, item, within = _kind(get_args(inner)[0], ())
        return _MANY[kind], item, (*notes, *within)
    if get_origin(inner) is Literal:
        return "choice", inner, notes
    if isinstance(inner, type) and issubclass(cast("type[object]", inner), Stated):
        return "table", cast("type[Stated]", inner), notes
    return _ONE[inner], inner, notes


def _bare(annotation: object) -> tuple[object, tuple[Any, ...]]:
    """An annotation without None and without what is noted on it."""
    notes: list[Any] = []
    for _ in range(4):
        origin = get_origin(annotation)
        if origin is Annotated:
            annotation, *more = get_args(annotation)
            notes += more
        elif origin in (Union, types.UnionType):
            (annotation,) = _real(annotation)
    return annotation, tuple(notes)


def _real(union: object) -> Iterator[object]:
    return (one for one in get_args(union) if one is not type(None))
