"""JSON Schema of the files that people write, for editors and other programs."""

import ast
from collections.abc import Iterator
from inspect import cleandoc, getsource
from itertools import pairwise
from typing import Literal, cast

from limen.model.fields import ACCEPTED, Stated
from limen.model.readings import Readings
from limen.model.sheet import Sheet
from limen.store.short import Written

Json = dict[str, object]
Kind = Literal["site", "sheet", "readings"]
KINDS: dict[Kind, type[Stated]] = {
    "site": Written,
    "sheet": Sheet,
    "readings": Readings,
}
TITLES: dict[Kind, str] = {
    "site": "limen site file",
    "sheet": "limen sensor sheet",
    "readings": "limen readings file",
}


def schema(kind: Kind) -> Json:
    """The JSON Schema (2020-12) of a file that people write, as parsed.

    What a schema cannot say (ids that differ, a fan choice the sheet has) is said
    by the reader alone.

    Args:
        kind: which of them.

    Returns:
        The schema, ready to be written as JSON.
    """
    written = _written(
        _explained(KINDS[kind].model_json_schema(mode="validation"), KINDS[kind])
    )
    head: Json = {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": TITLES[kind],
    }
    return head | {key: item for key, item in written.items() if key != "title"}


def _explained(whole: Json, root: type[Stated]) -> Json:
    """The schema with what the source says under each field.

    Read here, where it is wanted, and not whenever a model is imported.
    """
    tables = {root.__name__: whole, **cast("dict[str, Json]", whole.get("$defs", {}))}
    for model in _kinds_of(Stated):
        fields = cast(
            "dict[str, Json]", tables.get(model.__name__, {}).get("properties", {})
        )
        if model.__name__ in tables and set(model.model_fields) >= set(fields):
            for name, said in _said_under(model):
                if name in fields:
                    fields[name].setdefault("description", said)
    return whole


def _kinds_of(model: type[Stated]) -> Iterator[type[Stated]]:
    for kind in model.__subclasses__():
        yield kind
        yield from _kinds_of(kind)


def _said_under(model: type[Stated]) -> Iterator[tuple[str, str]]:
    """Each field with the text that stands under it."""
    for base in model.__bases__:
        if issubclass(base, Stated) and base is not Stated:
            yield from _said_under(base)
    (table,) = ast.parse(getsource(model)).body
    for field, below in pairwise(cast("ast.ClassDef", table).body):
        match field, below:
            case (
                ast.AnnAssign(target=ast.Name(id=name)),
                ast.Expr(value=ast.Constant(value=str() as said)),
            ):
                yield name, cleandoc(said)
            case _:
                pass


def _written(node: Json) -> Json:
    """The schema as a file can have it: TOML knows no null and needs no default."""
    kept = {key: _value(key, item) for key, item in node.items() if key != "default"}
    choices = cast("list[Json]", kept.get("anyOf", []))
    real = [choice for choice in choices if choice.get("type") != "null"]
    if len(real) == 1 < len(choices):
        del kept["anyOf"]
        kept = (
            real[0] | kept | _said(kept.get("description"), real[0].get("description"))
        )
    accepted = kept.pop(ACCEPTED, None)
    return kept | _said(kept.get("description"), accepted)


def _value(key: str, item: object) -> object:
    if isinstance(item, list):
        return [_value("", one) for one in cast("list[object]", item)]
    if not isinstance(item, dict):
        return item
    table = cast("Json", item)
    if key in ("properties", "$defs"):
        return {name: _untitled(cast("Json", one)) for name, one in table.items()}
    return _written(table)


def _untitled(node: Json) -> Json:
    """A property without the title that only repeats its name."""
    return {key: item for key, item in _written(node).items() if key != "title"}


def _said(*parts: object) -> Json:
    """What the key means, then what its kind of value accepts."""
    said = [str(part) for part in parts if part]
    return {"description": " ".join(said)} if said else {}
