"""What the model refuses, told as faults of the file.

The model layer may raise, and its words are used as they are:

- `QuantityError`, or any `ValueError` with `why`, `accepted` and `example`;
- `PydanticCustomError(type, message, {"found": …, "accepted": …, "example": …})`,
  each of them optional; `"at": ("fitting", 1, "id")` names the place, seen from
  the table that was being validated;
- several at once, by raising
  `ValidationError.from_exception_data(title, [{"type": PydanticCustomError(…),
  "loc": (…), "input": …}, …])`.

Everything pydantic raises by itself is put in plain words here.
"""

import difflib
import re
from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any, cast, get_args

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails, core_schema

from limen.store.expected import Expected, advised, expected, keys
from limen.store.faults import Fault, printable
from limen.store.tomllines import Path

MOST_TOLD = 1000
"""Faults that are put in words; whoever has more mends these first."""

_LONGEST_ID = 40
_LONGEST_KEY = 120
_NOTHING = Expected("", "")


def explain(
    error: ValidationError,
    model: type[BaseModel],
    data: Mapping[str, Any],
    lines: Mapping[Path, int],
) -> list[Fault]:
    """Turn every error of a validation into a fault with its place and advice.

    Args:
        error: What pydantic raised.
        model: The model that was validated.
        data: The document.
        lines: The line of each key, from `locate`.
    """
    details = error.errors(include_url=False)
    told = [detail for detail in details if not _is_echo(detail)][:MOST_TOLD]
    placed = [(detail, _path(detail, data)) for detail in told]
    misspelt = {_meant(path, model) for detail, path in placed if _is_unknown(detail)}
    faults = [
        _fault(detail, path, model, data, lines)
        for detail, path in placed
        if not (detail["type"] == "missing" and path in misspelt)
    ]
    if len(details) > MOST_TOLD:
        why = f"{MOST_TOLD} faults are told; there are more"
        faults.append(Fault("", max(lines.values(), default=None), "", why))
    return faults


def _is_unknown(detail: ErrorDetails) -> bool:
    return detail["type"] == "extra_forbidden"


def _is_echo(detail: ErrorDetails) -> bool:
    """Whether pydantic counts a list short only because its elements are faulty."""
    if detail["type"] != "too_short":
        return False
    return len(detail["input"]) >= detail.get("ctx", {}).get("min_length", 0)


def _fault(
    detail: ErrorDetails,
    path: Path,
    model: type[BaseModel],
    data: Mapping[str, Any],
    lines: Mapping[Path, int],
) -> Fault:
    said = _said(detail)
    why, wanted = _words(detail, path, model)
    advice = said.get("example")
    example = (
        _in_quotes(advised(model, path, advice, detail["input"]))
        if advice
        else wanted.example
    )
    return Fault(
        key_text(path, data),
        _line(path, lines),
        printable(_found(detail, path, said.get("found", ""))),
        said.get("why") or why,
        said.get("accepted") or wanted.accepted,
        _as_line(path, example),
    )


# Where -----------------------------------------------------------------------


def key_text(path: Path, data: object) -> str:
    """Write a path as people read it.

    An element of a list goes by its `id` if it has one, else by its place, counted
    from 1: `doorway "main" · fitting[2].lens.height`.
    """
    text = ""
    for part in path:
        data = _step(data, part)
        if isinstance(part, str):
            text += part if not text or text.endswith(" · ") else f".{part}"
            continue
        name = _id(data)
        text += f"[{part + 1}]" if name is None else f' "{name}" · '
    return printable(text.removesuffix(" · "), _LONGEST_KEY)


def _id(data: object) -> str | None:
    name = _step(data, "id")
    if not isinstance(name, str) or len(name) > _LONGEST_ID:
        return None
    return name if name and name.isprintable() else None


def _is_table(data: object) -> bool:
    return isinstance(data, Mapping)


def _is_list(data: object) -> bool:
    return isinstance(data, Sequence) and not isinstance(data, str)


def _step(data: object, part: str | int) -> object:
    """Go one step into the document; None where there is nothing."""
    if isinstance(part, str):
        return cast("Mapping[str, object]", data).get(part) if _is_table(data) else None
    items = cast("Sequence[object]", data) if _is_list(data) else ()
    return items[part] if 0 <= part < len(items) else None


def _path(detail: ErrorDetails, data: object) -> Path:
    """Find the place in the file, without the names pydantic gives to unions."""
    context = detail.get("ctx", {})
    loc = (*detail["loc"], *context.get("at", ()))
    path: list[str | int] = []
    for number, part in enumerate(loc):
        last = number == len(loc) - 1
        absent = last and detail["type"] == "missing" and isinstance(part, str)
        if absent or _holds(data, part):
            path.append(part)
            data = _step(data, part)
    discriminator = str(context.get("discriminator", "")).strip("'")
    if discriminator and detail["type"].startswith("union_tag"):
        path.append(discriminator)
    return tuple(path)


def _holds(data: object, part: str | int) -> bool:
    if isinstance(part, str):
        return _is_table(data) and part in cast("Mapping[str, object]", data)
    return _is_list(data) and 0 <= part < len(cast("Sequence[object]", data))


def _line(path: Path, lines: Mapping[Path, int]) -> int | None:
    """Return the line of the key, or of the nearest table around it."""
    ways = (path[:length] for length in range(len(path), 0, -1))
    return next((lines[way] for way in ways if way in lines), None)


# What ------------------------------------------------------------------------


def _found(detail: ErrorDetails, path: Path, said: str) -> str:
    """Show the value itself; of a list or table what the model says of it."""
    value = detail["input"]
    if detail["type"] == "missing" or not path or "at" in detail.get("ctx", {}):
        return said
    if said and (_is_table(value) or _is_list(value)) and said != str(value):
        return said
    return _value_text(value)


def _value_text(value: object) -> str:
    """Write a value as it stands in the file, lists and tables in short."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return f'"{value}"'
    if isinstance(value, date):
        return value.isoformat()
    if _is_table(value):
        names = cast("Mapping[str, object]", value)
        return f"a table with {', '.join(names)}" if names else "an empty table"
    if _is_list(value):
        return f"a list of {len(cast('Sequence[object]', value))}"
    return str(value)


_HEADER = re.compile(r"\[[A-Za-z_][\w.-]*\]|\[\[[A-Za-z_][\w.-]*\]\]")


def _as_line(path: Path, example: str) -> str:
    """Put the key before the example of a value."""
    name = next((part for part in reversed(path) if isinstance(part, str)), "")
    if not example or not name or "=" in example or _HEADER.fullmatch(example):
        return printable(example)
    in_list = isinstance(path[-1], int)
    return printable(f"{name} = [{example}]" if in_list else f"{name} = {example}")


def _in_quotes(text: str) -> str:
    """Put a text in quotes, unless it is TOML already."""
    bare = text in ("true", "false") or text.replace(".", "", 1).isdigit()
    return text if bare or any(mark in text for mark in '"=[') else f'"{text}"'


# Why -------------------------------------------------------------------------


_BUILT_IN = frozenset(get_args(core_schema.ErrorType))


def _said(detail: ErrorDetails) -> dict[str, str]:
    """Collect what the model layer said in its own words."""
    context = detail.get("ctx", {})
    names = ("found", "why", "accepted", "example")
    error = context.get("error")
    if isinstance(error, Exception):
        said = {name: str(getattr(error, name, "")) for name in names}
        return {**said, "why": said["why"] or str(error)}
    said = {name: str(context[name]) for name in names if name in context}
    own = detail["type"] not in _BUILT_IN
    return {"why": detail["msg"], **said} if own else said


def _words(
    detail: ErrorDetails, path: Path, model: type[BaseModel]
) -> tuple[str, Expected]:
    """Say why pydantic refuses, and what is accepted instead."""
    wanted = expected(model, path) or _NOTHING
    kind, context = detail["type"], detail.get("ctx", {})
    match kind:
        case "missing" | "union_tag_not_found":
            return "needed, and not written", wanted
        case "extra_forbidden":
            return _unknown(path, model)
        case "literal_error" | "enum" | "union_tag_invalid":
            return _other_word(_found_word(detail), wanted), wanted
        case "string_pattern_mismatch":
            return "other characters than are accepted", wanted
        case _ if kind in _BOUNDS:
            return _BOUNDS[kind].format(**context), wanted
        case _ if kind.endswith(("_type", "_parsing", "_from_float", "_instance_of")):
            return f"{_kind_of(detail['input'])} is not accepted here", wanted
        case _:
            return detail["msg"][:1].lower() + detail["msg"][1:], wanted


_BOUNDS = {
    "greater_than": "must be more than {gt}",
    "greater_than_equal": "must be {ge} or more",
    "less_than": "must be less than {lt}",
    "less_than_equal": "must be {le} or less",
    "multiple_of": "must be a multiple of {multiple_of}",
    "too_short": "holds {actual_length}, and at least {min_length} must be there",
    "too_long": "holds more than {max_length}",
    "string_too_short": "must have {min_length} or more characters",
    "string_too_long": "must have {max_length} or fewer characters",
}


def _unknown(path: Path, model: type[BaseModel]) -> tuple[str, Expected]:
    known = ", ".join(keys(model, path[:-1]))
    meant = _meant(path, model)
    if meant is None:
        return "no such key is known here", Expected(known, "")
    if meant == path:
        return "no such key belongs to this kind", Expected("nothing here", "")
    wanted = expected(model, meant) or _NOTHING
    why = f"no such key is known here; did you mean {meant[-1]}?"
    return why, Expected(known, _as_line(meant, wanted.example))


def _meant(path: Path, model: type[BaseModel]) -> Path | None:
    """Find the key that a misspelt one most likely stands for."""
    name = str(path[-1]) if path else ""
    near = difflib.get_close_matches(name, keys(model, path[:-1]), n=1)
    return (*path[:-1], near[0]) if near else None


def _found_word(detail: ErrorDetails) -> str:
    return str(detail.get("ctx", {}).get("tag", detail["input"]))


def _other_word(found: str, wanted: Expected) -> str:
    words = wanted.accepted.replace('"', "").split(" or ")
    near = difflib.get_close_matches(found, words, n=1)
    hint = f"; did you mean {near[0]}?" if near else ""
    return f"not one of the accepted words{hint}"


def _kind_of(value: object) -> str:
    if isinstance(value, bool):
        return "true or false"
    kinds = {str: "text", int: "a whole number", float: "a number", date: "a date"}
    known = next((name for kind, name in kinds.items() if isinstance(value, kind)), "")
    return known or ("a table" if _is_table(value) else "a list")
