"""Seeded doorways of which only some is known, and plausible values for the rest.

A doorway with everything stated is drawn, its figures scattered, graded, given an
uncertainty; then what may be left out is left out, more of it in some than in
others.  `settled_by` writes a plausible value under the key that a finding names.
"""

from collections.abc import Iterator, Mapping
from copy import deepcopy
from dataclasses import dataclass
from functools import cache
from typing import Any

import numpy as np
from pydantic import ValidationError

from builders.doorways import built, tables
from limen.model.doorway import Doorway
from oracles.whole import DOOR, FITTING, SHEET, VARIETY

Table = dict[str, Any]
Way = tuple[str | int, ...]
Rng = np.random.Generator
GRADES = ("estimate", "unsure", "memory", "practice")
SHEETS = ("unit-a", "unit-b", "barrier", "radar")
LATCHED = {"edition", "commissioned", "id", "name", "sheet", "side", "fitting"}
"""Never left out: they name things or choose the edition."""


@dataclass(frozen=True)
class Gappy:
    """A doorway with gaps, as tables and as built."""

    seed: int
    door: Table
    sheets: dict[str, Table]
    doorway: Doorway


def gappy(seed: int) -> Gappy:
    """The doorway with this number: the same for ever."""
    for attempt in range(60):
        rng = np.random.default_rng([seed, attempt, 4711])
        door, sheets = whole()
        _varied(rng, door, sheets)
        _scattered(rng, door, sheets)
        _left_out(rng, door, sheets)
        try:
            return Gappy(seed, door, sheets, built(door, sheets))
        except ValidationError:
            continue
    raise ValueError(f"no doorway of seed {seed} is accepted")


def estimated(door: Gappy) -> Gappy:
    """The same doorway, every figure of it and of its sheets only estimated."""
    table, sheets = deepcopy(door.door), deepcopy(door.sheets)
    for one in (table, *sheets.values()):
        for way in list(_figures(one)):
            first = str(_get(one, way)).split(",")[0]
            _get(one, way[:-1])[way[-1]] = f"{first}, estimate"
    return Gappy(door.seed, table, sheets, built(table, sheets))


def whole() -> tuple[Table, dict[str, Table]]:
    """A doorway of which everything is stated, and the sheets of its units."""
    door, sheets = _whole()
    return deepcopy(door), deepcopy(sheets)


@cache
def _whole() -> tuple[Table, dict[str, Table]]:
    door, read = tables("reference-two-row", "edge-barrier", "radar-only")
    del door["document"]  # the reference doorway has no paper on escape
    _filled(door, DOOR)
    for fitting, name in zip(door["fitting"], SHEETS, strict=False):
        fitting["sheet"] = name
        _filled(fitting, FITTING)
    unit = read["reference-two-row"]
    _filled(unit, SHEET)
    radar = read["radar-only"]
    radar["motion"] = deepcopy(unit["motion"])
    for part in ("supply", "environment"):
        radar[part] = deepcopy(unit[part])
        read["edge-barrier"][part] = deepcopy(unit[part])
    each = (unit, deepcopy(unit), read["edge-barrier"], radar)
    return door, dict(zip(SHEETS, each, strict=True))


def _filled(table: Table, more: Mapping[str, Any]) -> None:
    """Add what the table does not say yet."""
    for key, value in more.items():
        if isinstance(value, Mapping) and isinstance(table.get(key), dict):
            _filled(table[key], value)
        else:
            table.setdefault(key, deepcopy(value))


def _varied(rng: Rng, door: Table, sheets: dict[str, Table]) -> None:
    for share, change in VARIETY:
        if rng.random() < share:
            change(door, sheets)


def _figures(table: Any, at: Way = ()) -> Iterator[Way]:
    """Every quantity of a table by its way."""
    items = table.items() if isinstance(table, dict) else enumerate(table)
    for key, value in items:
        if isinstance(value, dict | list):
            yield from _figures(value, (*at, key))
        elif isinstance(value, str) and _number(value) is not None:
            yield (*at, key)


def _number(text: str) -> float | None:
    number, _, unit = text.split(" ± ", maxsplit=1)[0].partition(" ")
    try:
        return float(number) if unit else None
    except ValueError:
        return None


def _scattered(rng: Rng, door: Table, sheets: dict[str, Table]) -> None:
    """Move figures, doubt them, weaken their grades: more in some doorways."""
    move, doubt, weak = rng.choice([0.0, 0.02, 0.15], 3)
    for table in (door, *sheets.values()):
        for way in list(_figures(table)):
            text = str(_get(table, way))
            first, _, unit = text.split(" ± ", maxsplit=1)[0].partition(" ")
            value = float(first)
            if rng.random() < move:
                value = float(f"{value * rng.uniform(0.75, 1.3):.6g}")
                text = f"{value:.6g} {unit}"
            if rng.random() < doubt:
                text = f"{value:.6g} {unit} ± {abs(value) * 0.05:.3g} {unit}"
            if rng.random() < weak:
                text += f", {rng.choice(GRADES)}"
            _get(table, way[:-1])[way[-1]] = text


def _left_out(rng: Rng, door: Table, sheets: dict[str, Table]) -> None:
    share = float(rng.choice([0.01, 0.05, 0.2, 0.5]))
    for name, table in (("", door), *sheets.items()):
        for way in optional(name):
            there = _find(table, way[:-1])
            if there is not None and way[-1] in there and rng.random() < share:
                del there[way[-1]]


@cache
def optional(sheet: str) -> tuple[Way, ...]:
    """What may be left out of the whole doorway, or of one of its sheets."""
    door, sheets = whole()
    table = sheets[sheet] if sheet else door
    return tuple(way for way in _keys(table) if _spared(way, sheet))


def _keys(table: Any, at: Way = ()) -> Iterator[Way]:
    for key, value in table.items():
        if key not in LATCHED:
            yield (*at, key)
        if isinstance(value, dict):
            yield from _keys(value, (*at, key))
        elif isinstance(value, list):
            for number, one in enumerate(value):
                if isinstance(one, dict):
                    yield from _keys(one, (*at, key, number))


def _spared(way: Way, sheet: str) -> bool:
    """Whether the doorway is accepted without it."""
    door, sheets = whole()
    del _get(sheets[sheet] if sheet else door, way[:-1])[way[-1]]
    try:
        built(door, sheets)
    except ValidationError:
        return False
    return True


def _get(table: Any, way: Way) -> Any:
    for step in way:
        table = table[step]
    return table


def _find(table: Any, way: Way) -> Any:
    try:
        return _get(table, way)
    except (KeyError, IndexError, TypeError):
        return None
