"""New tables of a list, put in as lines: where a person would write them.

A table under a header goes behind the last line of the one it belongs to, so that a
comment which stands above the next one stays there.
"""

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any, cast

import tomlkit

from limen.store.editing import line_ends
from limen.store.tomllines import Path, locate

Data = dict[str, Any]
Names = Callable[..., list[str] | None]

_BARE = re.compile(r"[A-Za-z0-9_-]+")
_EMPTY = re.compile(r"\s*(#.*)?$")


def with_tables(text: str, now: Data, wanted: Data, names: Names) -> str:
    """Add the tables that a text lacks at the end of its lists.

    Only those that can stand under a header of their own; all else is left as it is.

    Args:
        text: A TOML text.
        now: What it says.
        wanted: What it is to say.
        names: What tells the tables of a list apart.
    """
    for way, table in list(_new(now, wanted, names)):
        text = _put(text, way, table)
    return text


def written(value: object) -> str:
    """A value as TOML has it on one line, with the spaces that people write."""
    if isinstance(value, Mapping):
        items = cast("Data", value).items()
        inside = ", ".join(f"{_key(key)} = {written(one)}" for key, one in items)
        return f"{{ {inside} }}" if inside else "{}"
    if isinstance(value, Sequence) and not isinstance(value, str):
        return f"[{', '.join(map(written, cast('Sequence[object]', value)))}]"
    if isinstance(value, str):
        return tomlkit.string(value).as_string()
    return tomlkit.item(value).as_string()


def _new(
    now: Data, wanted: Data, names: Names, above: Path = ()
) -> Iterator[tuple[Path, Data]]:
    """Way to a list and each table that is new at its end."""
    for key in wanted:
        value: object = wanted[key]
        old: object = now.get(key)
        way = (*above, key)
        if isinstance(value, dict):
            if isinstance(old, dict):
                yield from _new(cast("Data", old), cast("Data", value), names, way)
        elif _of_tables(value) and (old is None or _of_tables(old)):
            tables = cast("list[Data]", value)
            yield from _new_in(cast("list[Data]", old or []), tables, names, way)


def _new_in(
    now: list[Data], wanted: list[Data], names: Names, way: Path
) -> Iterator[tuple[Path, Data]]:
    before, after = names(now, wanted), names(wanted, now)
    if before is None or after is None:
        before, after = ([str(n) for n in range(len(one))] for one in (now, wanted))
    for name, table in zip(after, wanted, strict=True):
        if name in before:
            place = before.index(name)
            yield from _new(now[place], table, names, (*way, place))
    kept = sum(name in before for name in after)
    if all(name in before for name in after[:kept]):
        for table in wanted[kept:]:
            yield way, table


def _put(text: str, way: Path, table: Data) -> str:
    """Put a table in; the text as it is where it cannot stand under a header."""
    lines, found = text.split("\n"), locate(text)
    keys = [part for part in way if isinstance(part, str)]
    there = found.get((*way, 0))
    owner = found.get(way[:-1])
    begun = there if there is not None else owner
    headed = begun is None or lines[begun - 1].lstrip().startswith("[")
    if not headed or not all(_BARE.fullmatch(key) for key in keys):
        return text
    at = _end(lines, found, way if there is not None else way[:-1])
    header = f"[[{'.'.join(keys)}]]"
    block = [header, *(f"{_key(key)} = {written(one)}" for key, one in table.items())]
    before, after = lines[:at], lines[at:]
    above = [""] if before and before[-1].strip() else []
    below = [""] if not after or after[0].strip() else []
    return line_ends("\n".join([*before, *above, *block, *below, *after]), text)


def _end(lines: list[str], found: Mapping[Path, int], way: Path) -> int:
    """How many lines there are up to the last one of a table or list."""
    inside = [line for path, line in found.items() if path[: len(way)] == way]
    last = max(inside, default=0)
    beyond = [line for line in found.values() if line > last]
    at = min(beyond) - 1 if beyond else len(lines)
    while at > last and _EMPTY.fullmatch(lines[at - 1]):
        at -= 1
    return at


def _key(key: str) -> str:
    return key if _BARE.fullmatch(key) else tomlkit.string(key).as_string()


def _of_tables(value: object) -> bool:
    items = cast("list[object]", value) if isinstance(value, list) else []
    return bool(items) and all(isinstance(one, dict) for one in items)
