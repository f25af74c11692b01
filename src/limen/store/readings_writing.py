"""Readings out: a readings file with what was read, one line a figure."""

import json
from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from typing import cast

from limen.model.readings import Readings

Values = Mapping[str, object]
TABLES = ("unit", "reading")
"""Keys that hold a list of tables, each under its own header."""


def readings_text(readings: Readings) -> str:
    """A readings file that says this; it reads back the same.

    Args:
        readings: what was read.
    """
    data = readings.model_dump(exclude_defaults=True, exclude_none=True)
    return written(data)


def written(values: Values) -> str:
    """The text of a readings file with these values, accepted or not.

    Args:
        values: as TOML would give them, those of a form that may be wrong too.
    """
    return "\n".join(_table(values, "")).lstrip("\n") + "\n"


def _table(values: Values, header: str) -> Iterator[str]:
    for key, value in values.items():
        if key not in TABLES:
            yield f"{key} = {_value(value)}"
    for key in TABLES:
        for one in cast("Sequence[Values]", values.get(key, ())):
            name = f"{header}.{key}" if header else key
            yield ""
            yield f"[[{name}]]"
            yield from _table(one, name)


def _value(value: object) -> str:
    match value:
        case bool():
            return "true" if value else "false"
        case int() | float():
            return str(value)
        case date():
            return value.isoformat()
        case Mapping():
            inner = cast("Values", value).items()
            return "{ " + ", ".join(f"{k} = {_value(v)}" for k, v in inner) + " }"
        case _:
            # what JSON escapes, TOML reads alike; JSON leaves one sign unescaped
            text = json.dumps(str(value), ensure_ascii=False)
            return text.replace("\x7f", "\\u007f")
