"""JSON Schema of the files that people write, for editors and other programs."""

from typing import Literal, cast

from limen.model.fields import ACCEPTED, Stated
from limen.model.sheet import Sheet
from limen.store.short import Written

Json = dict[str, object]
Kind = Literal["site", "sheet"]
KINDS: dict[Kind, type[Stated]] = {"site": Written, "sheet": Sheet}
TITLES: dict[Kind, str] = {"site": "limen site file", "sheet": "limen sensor sheet"}


def schema(kind: Kind) -> Json:
    """The JSON Schema (2020-12) of a site file or a sensor sheet, as parsed.

    What a schema cannot say (ids that differ, a fan choice the sheet has) is said
    by the reader alone.

    Args:
        kind: which of the two.

    Returns:
        The schema, ready to be written as JSON.
    """
    written = _written(KINDS[kind].model_json_schema(mode="validation"))
    head: Json = {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": TITLES[kind],
    }
    return head | {key: item for key, item in written.items() if key != "title"}


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
