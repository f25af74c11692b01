"""A sensor sheet written: anew, or into the text that is there, its comments kept."""

import tomllib
from collections.abc import Iterable, Mapping, MutableMapping, MutableSequence
from typing import Any, cast

import tomlkit

from limen.store.editing import line_ends

Raw = Mapping[str, Any]
_INLINE = ("mounting.holes", "mounting.cable_hole")


def sheet_text(raw: Raw, begun: Iterable[str] = ()) -> str:
    """The text of a sheet.

    Args:
        raw: what it says, as TOML would give it.
        begun: comments to begin with, a line each.
    """
    lines = [f"# {line}" for line in begun]
    lines += [*([""] if lines else []), *_table((), raw)]
    return "\n".join(lines).strip("\n") + "\n"


def changed_text(text: str, raw: Raw) -> str:
    """A sheet's text made to say something else; what stays the same is not touched.

    Args:
        text: the text as it is, free of faults.
        raw: what it is to say.

    Returns:
        The text, with the comments that it had; written anew where the old one
        cannot be made to say it.
    """
    document = tomlkit.parse(text)
    _merge(document, raw)
    changed = line_ends(tomlkit.dumps(document), text)
    try:
        same = tomllib.loads(changed) == raw
    except tomllib.TOMLDecodeError:
        same = False
    return changed if same else sheet_text(raw, _comments(text))


def _comments(text: str) -> list[str]:
    """Comments on top of a text."""
    lines: list[str] = []
    for line in text.split("\n"):
        if not line.startswith("#"):
            break
        lines.append(line.lstrip("# ").rstrip())
    return lines


# Anew ------------------------------------------------------------------------------


def _table(way: tuple[str, ...], raw: Raw) -> list[str]:
    """A table: its values, then the tables in it under headers of their own."""
    values = {key: one for key, one in raw.items() if not _is_table((*way, key), one)}
    tables = {key: one for key, one in raw.items() if key not in values}
    lines = [f"{_key(key)} = {_written(one)}" for key, one in values.items()]
    for key, one in tables.items():
        below = (*way, key)
        if isinstance(one, list):
            for item in cast("list[Raw]", one):
                lines += ["", f"[[{_header(below)}]]", *_table(below, item)]
        else:
            table = cast("Raw", one)
            inner = _table(below, table)
            bare = not table or any(
                not _is_table((*below, k), v) for k, v in table.items()
            )
            lines += ["", *([f"[{_header(below)}]"] if bare else []), *inner]
    return lines


def _is_table(way: tuple[str, ...], value: object) -> bool:
    if ".".join(way) in _INLINE:
        return False
    if isinstance(value, list):
        items = cast("list[object]", value)
        return bool(items) and all(isinstance(one, dict) for one in items)
    return isinstance(value, dict)


def _header(way: tuple[str, ...]) -> str:
    return ".".join(_key(part) for part in way)


def _key(name: str) -> str:
    return tomlkit.key(name).as_string()


def _written(value: object) -> str:
    if isinstance(value, dict):
        pairs = cast("Raw", value).items()
        return "{ " + ", ".join(f"{_key(k)} = {_written(v)}" for k, v in pairs) + " }"
    if isinstance(value, list):
        items = [_written(one) for one in cast("list[object]", value)]
        if any(one.startswith("{") for one in items):
            return "[\n" + "".join(f"  {one},\n" for one in items) + "]"
        return "[" + ", ".join(items) + "]"
    return tomlkit.item(value).as_string()


# Into what is there ----------------------------------------------------------------


def _merge(place: MutableMapping[str, Any], raw: Raw) -> None:
    for gone in [key for key in place if key not in raw]:
        del place[gone]
    for key, value in raw.items():
        old: object = place.get(key)
        table, items = _mapping(old), _tables(old)
        if table is not None and isinstance(value, dict):
            _merge(table, cast("Raw", value))
        elif items is not None and _tables(value) is not None:
            _merge_list(items, cast("list[Raw]", value))
        elif old is None or tomlkit.item(old).unwrap() != value:
            place[key] = value


def _merge_list(old: MutableSequence[Any], new: list[Raw]) -> None:
    while len(old) > len(new):
        del old[-1]
    for item, wanted in zip(old, new, strict=False):
        _merge(item, wanted)
    for wanted in new[len(old) :]:
        old.append(tomlkit.item(dict(wanted)))


def _mapping(value: object) -> MutableMapping[str, Any] | None:
    known = isinstance(value, MutableMapping)
    return cast("MutableMapping[str, Any]", value) if known else None


def _tables(value: object) -> MutableSequence[Any] | None:
    if not isinstance(value, MutableSequence):
        return None
    items = cast("MutableSequence[Any]", value)
    tables = len(items) > 0 and all(_mapping(one) is not None for one in items)
    return items if tables else None
