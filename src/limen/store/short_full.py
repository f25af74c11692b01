"""From the short form to the full one: the text, with what was taken marked.

Figures stay as they were typed.  What the short form takes becomes an estimate
under a comment that says so; what is not known stands commented out.
"""

import textwrap
from collections.abc import Iterator, Mapping
from pathlib import Path as FilePath
from typing import cast

import tomlkit

from limen.findings import Message
from limen.model.doorway import Doorway, Hand
from limen.model.people import Side
from limen.quantity import Dimension, Quantity, write
from limen.store.faults import Fault, FileFaults
from limen.store.short import (
    HANDS,
    NONE,
    NOT_KNOWN,
    SIDES,
    Short,
    Written,
    doorway_of,
    hand_of,
    plumb_of,
    unit_of,
)
from limen.store.sitefile import parse_written
from limen.store.syntax import read_toml
from limen.store.tomllines import locate
from limen.words import say

WIDTH = 88
Raw = Mapping[str, object]


def full_text(text: str, path: FilePath) -> str:
    """The text of a site file with every ``[[short]]`` written in full.

    Args:
        text: the site file's text.
        path: the file, for messages and its sheets.

    Raises:
        FileFaults: the text cannot be read, or has no ``[[short]]`` of its own.
    """
    written = parse_written(text, path)
    raw = _raw(text, written, path)
    lines = text.split("\n")
    for number, (first, after) in reversed(list(enumerate(_blocks(text, lines)))):
        block = _doorway(written.short[number], raw[number])
        lines[first:after] = [*block, *([""] if after < len(lines) else [])]
    return "\n".join(lines).rstrip("\n") + "\n"


def _raw(text: str, written: Written, path: FilePath) -> list[Raw]:
    """The short forms as typed; refused where none stands under a header."""
    heads = [line for line in text.split("\n") if _is_short(line)]
    if not heads or len(heads) != len(written.short):
        line = locate(text).get(("short",))
        why = "no doorway in the short form stands under a header of its own"
        fault = Fault("short", line, "", why, "one [[short]] after the other")
        raise FileFaults(str(path), [fault])
    data = cast("Mapping[str, object]", read_toml(text).data)
    return cast("list[Raw]", data["short"])


def _is_short(line: str) -> bool:
    bare = line.partition("#")[0].replace(" ", "").replace("\t", "").strip()
    return bare == "[[short]]"


def _blocks(text: str, lines: list[str]) -> Iterator[tuple[int, int]]:
    """First line of each short form, and the line after its last, from 0."""
    where = locate(text)
    tables = {
        line - 1
        for path, line in where.items()
        if path[:1] != ("short",) and lines[line - 1].lstrip().startswith("[")
    }
    shorts = [line - 1 for path, line in where.items() if _is_element(path)]
    for first in shorts:
        following = [line for line in (*tables, *shorts) if line > first]
        yield first, min(following, default=len(lines))


def _is_element(path: tuple[str | int, ...]) -> bool:
    return len(path) == 2 and path[0] == "short" and isinstance(path[1], int)  # noqa: PLR2004 - key and place


# One doorway -------------------------------------------------------------------


def _doorway(short: Short, raw: Raw) -> list[str]:
    door = doorway_of(short)
    return [
        "[[doorway]]",
        *_plain(raw, "id", "name", "commissioned", "edition", "clear_width"),
        *_clear_height(short, raw),
        *_plain(raw, "kept"),
        *_both("header", door.header.outside, door.header.inside),
        *_both("reveal", door.reveal.outside, door.reveal.inside),
        "",
        *_leaves(door, raw),
        "",
        "[doorway.use]",
        *_stated(raw, "use", "escape_route", "many_frail_or_small"),
        *_plain(raw, "public"),
        "",
        "[doorway.motion]",
        *_stated(raw, "motion", "opening_runs", "closing_runs"),
        *_unknown("motion.hold_open"),
        *(line for hand in _hands(short) for line in _side_space(hand, raw)),
        *(line for side in SIDES for line in _fitting(short, side, raw)),
    ]


def _plain(raw: Raw, *keys: str) -> list[str]:
    return [f"{key} = {_toml(raw[key])}" for key in keys if key in raw]


def _both(table: str, outside: Quantity, inside: Quantity) -> list[str]:
    sides = f'outside = "{_text(outside)}", inside = "{_text(inside)}"'
    return _taken(table, f"{table} = {{ {sides} }}")


def _stated(raw: Raw, table: str, *keys: str) -> list[str]:
    """Each key as typed, or commented out where it is not known."""
    return [
        line
        for key in keys
        for line in (
            _unknown(f"{table}.{key}")
            if raw.get(key) in (None, [])
            else _plain(raw, key)
        )
    ]


def _clear_height(short: Short, raw: Raw) -> list[str]:
    if short.clear_height is not None:
        return _plain(raw, "clear_height")
    height = _text(doorway_of(short).clear_height)
    return _taken("clear_height", f'clear_height = "{height}"')


def _leaves(door: Doorway, raw: Raw) -> list[str]:
    hand = [f'hand = "{door.leaves.hand}"'] if door.leaves.hand else []
    thick = f'thickness = "{_text(door.leaves.thickness)}"'
    return [
        "[doorway.leaves]",
        f'kind = "{door.leaves.kind}"',
        *hand,
        *_taken("leaves.thickness", thick),
        *_mass(raw),
        *_unknown("leaves.sway"),
    ]


def _mass(raw: Raw) -> list[str]:
    if "leaf_mass" in raw:
        return [f"mass = {_toml(raw['leaf_mass'])}"]
    return _unknown("leaves.mass")


def _hands(short: Short) -> list[Hand]:
    hand = hand_of(short)
    return [one for one in HANDS if hand in (None, one)]


def _side_space(hand: Hand, raw: Raw) -> list[str]:
    behind = cast("Raw", raw.get(f"behind_{hand}", {}))
    return [
        "",
        "[[doorway.side_space]]",
        f'side = "{hand}"',
        *_stated(behind, "side_space", "clearance", "depth"),
        *_unknown("side_space.gap"),
        *_unknown("side_space.to_post"),
    ]


def _fitting(short: Short, side: Side, raw: Raw) -> list[str]:
    """A unit; commented out while the place of its lens is not known."""
    sheet = unit_of(short, side)
    if sheet == NONE:
        return []
    head = ["[[doorway.fitting]]", f'id = "{side}"']
    head += _unknown("fitting.sheet") if sheet == NOT_KNOWN else []
    head += [f'sheet = "{sheet}"', f'side = "{side}"']
    placed = plumb_of(short, side) is not None and short.lens_height is not None
    if placed:
        plumb, height = _toml(raw[f"plumb_{side}"]), _toml(raw["lens_height"])
        head += [f"lens = {{ from_leaf = {plumb}, height = {height} }}"]
    if not placed and sheet != NOT_KNOWN:
        head = [f"# {line}" for line in head]
    unknown = [] if placed else ["fitting.lens"]
    unknown += ["fitting.read", "fitting.settings", "fitting.wires"]
    return ["", *head, *(line for key in unknown for line in _unknown(key))]


# Comments ----------------------------------------------------------------------


def _taken(key: str, line: str) -> list[str]:
    """A line whose value nobody stated, under the comment that says so."""
    return [*_comment(f"assumed: {say(Message(f'full.taken.{key}'))}"), line]


def _unknown(key: str) -> list[str]:
    """A key that is not known, commented out, ready to be filled in."""
    return _comment(say(Message(f"full.unknown.{key}")))


def _comment(text: str) -> list[str]:
    return [
        f"# {line}"
        for part in text.split("\n")
        for line in textwrap.wrap(part, WIDTH - 2, break_long_words=False)
    ]


def _text(quantity: Quantity) -> str:
    return write(quantity, Dimension.LENGTH)


def _toml(value: object) -> str:
    if isinstance(value, dict):
        pairs = cast("Raw", value).items()
        inner = ", ".join(f"{key} = {_toml(one)}" for key, one in pairs)
        return f"{{ {inner} }}"
    return tomlkit.item(value).as_string()
