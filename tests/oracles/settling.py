"""Write a plausible, stated value under the key that a finding names."""

import re
from copy import deepcopy
from datetime import date
from typing import Any

from builders.doorways import built
from limen.quantity import Dimension, Grade, Quantity
from limen.questions import QUESTIONS
from limen.rules import OwnValue, Rulebook, override
from oracles.gaps import Gappy, whole

Table = dict[str, Any]
_STEP = re.compile(r"([a-z_0-9]+)(?:\[([^\]]*)\])?")
SIDES = ("outside", "inside")
_VALUES = re.compile(r"values: (\S+) (\S+)")
PLAUSIBLE: Table = {
    "settings.tilt": "-1.458 deg",
    "read.first_row": "64 mm",
    "read.left_end": "-1150 mm",
    "read.right_end": "1150 mm",
    "sheet.presence.fan": {"form": "angles", "choices": {"wide": "28 deg"}},
    "reduced_width": "1200 mm",
    "leaves.planes": ["22 mm", "-22 mm"],
    "thing.along": "1500 mm",
    "thing.out": "900 mm",
    "thing.width": "300 mm",
    "thing.depth": "300 mm",
    "thing.height": "1200 mm",
    "fitting.aim": {"across": "1 mm", "along": "1 mm", "turn": "0.02 deg"},
    "fitting.mount": {
        "place": "1 mm",
        "height": "1 mm",
        "plumb": "0.05 deg",
        "tilt_scale": "0.05 deg",
    },
    "fitting.beams": [{"height": "200 mm", "from_leaf": "30 mm"}],
    "aim.across": "1 mm",
    "aim.along": "1 mm",
    "aim.turn": "0.02 deg",
    "mount.place": "1 mm",
    "mount.height": "1 mm",
    "mount.plumb": "0.05 deg",
    "mount.tilt_scale": "0.05 deg",
}
"""Values that the whole doorway does not hold."""


class UnsettledError(Exception):
    """A key under which nothing can be written."""


def settled_by(
    gappy: Gappy, keys: list[str], fitting: str | None, case: str | None = None
) -> Gappy:
    """The same doorway with a plausible value under each key.

    Args:
        gappy: the doorway.
        keys: as a finding names them.
        fitting: the finding's: a sheet's key means the sheet of that unit.
        case: the finding's: nobody comes from the side that it speaks of.

    Raises:
        UnsettledError: a key names nothing that a file has.
        pydantic.ValidationError: what the file then says is not accepted.
    """
    door, sheets = deepcopy(gappy.door), deepcopy(gappy.sheets)
    for key in keys:
        plain = key.removeprefix("doorway.")
        if plain == "use.one_way":
            inside = (case or "").startswith("outside")
            door["use"] = {**door.get("use", {}), "one_way": SIDES[inside]}
        elif plain == "fitting":
            _add_units(door, sheets)
        else:
            _write(door, sheets, plain, fitting)
    return Gappy(gappy.seed, door, sheets, built(door, sheets))


def own_figures(book: Rulebook, keys: list[str]) -> Rulebook:
    """The rulebook with the firm's own figures under the keys that name them.

    Raises:
        UnsettledError: a key names no limit of the rulebook.
    """
    own: list[OwnValue] = []
    for key in keys:
        named = _VALUES.fullmatch(key)
        if named is None:
            raise UnsettledError(key)
        question = named[1].split(".", 2)[2]
        dimension = _dimension(question, named[2], key)
        own.append(_own(named[1], named[2], dimension))
    return override(book, own)


def _dimension(question: str, limit: str, key: str) -> Dimension:
    for name, one in QUESTIONS.items():
        if question.startswith(name) and limit in one.limits:
            return one.limits[limit]
    raise UnsettledError(key)


def _own(rule: str, limit: str, dimension: Dimension) -> OwnValue:
    figure = Quantity(0.3, grade=Grade.OWN)
    day = date(2026, 1, 2)
    return OwnValue(rule, limit, figure, dimension, "own copy", "who read", day, "v")


def _write(
    door: Table, sheets: dict[str, Table], key: str, fitting: str | None
) -> None:
    if key.startswith("sheet."):
        names = _sheets_of(door, fitting)
        for name in names & sheets.keys():
            _write_sheet(name, sheets[name], key)
        return
    if key.startswith("fitting."):
        for one in door["fitting"]:
            _put(door, f"fitting[{one['id']}]" + key.removeprefix("fitting"), key)
        return
    _put(door, key, key)


def _add_units(door: Table, sheets: dict[str, Table]) -> None:
    """One more unit of both senses on each side."""
    full, known = whole()
    sheets["unit-new"] = known["unit-a"]
    for number, side in enumerate(SIDES):
        like = next(one for one in full["fitting"] if one["side"] == side)
        settings = {**like["settings"], "channel": 3 + number}
        own = {"id": f"new-{side}", "sheet": "unit-new", "settings": settings}
        door["fitting"].append({**like, **own})


def _sheets_of(door: Table, fitting: str | None) -> set[str]:
    own = {one["sheet"] for one in door["fitting"] if one["id"] == fitting}
    return own or {one["sheet"] for one in door["fitting"]}


def _write_sheet(name: str, sheet: Table, key: str) -> None:
    """In sheets that have the sense the key speaks of."""
    way = key.split(".")[1:]
    if way[0] in ("presence", "motion", "barrier") and way[0] not in sheet:
        return
    if way == ["presence", "fan", "spacing"]:
        sheet["presence"]["fan"]["spacing"] = "equal on floor"
        return
    if way[:2] == ["presence", "fan"] and _other_form(sheet, whole()[1][name]):
        _write_angle(sheet["presence"]["fan"], way[2:])
        return
    if way[0] == "presence" and way[1] == "rows":
        for row, whole_row in zip(
            sheet["presence"]["rows"], whole()[1][name]["presence"]["rows"], strict=True
        ):
            row[way[2]] = whole_row[way[2]]
        return
    value = _value(whole()[1][name], way, key)
    for step in way[:-1]:
        sheet = _made(sheet, whole()[1][name], step, key)
    sheet[way[-1]] = value


def _other_form(sheet: Table, like: Table) -> bool:
    """Whether a sheet has its fan in another form than the whole one."""
    return sheet["presence"]["fan"]["form"] != like["presence"]["fan"]["form"]


def _write_angle(fan: Table, way: list[str]) -> None:
    """The spots' angles, where a fan has those; its other keys it has not."""
    if fan["form"] == "angles" and way[:1] in ([], ["choices"]):
        fan["choices"] = {**fan["choices"], "wide": "28 deg"}


def _value(table: Any, way: list[str], key: str) -> Any:
    for step in way:
        table = _stepped(table, step, key)
    return deepcopy(table)


def _stepped(table: Any, step: str, key: str) -> Any:
    match = _STEP.fullmatch(step)
    if match is None:
        raise UnsettledError(key)
    if not isinstance(table, dict) or match[1] not in table:
        raise UnsettledError(key)
    inner = table[match[1]]
    return inner if match[2] is None else _one_of(inner, match[2], key)


def _one_of(items: Any, name: str, key: str) -> Any:
    if name.isdigit() and int(name) <= len(items):
        return items[int(name) - 1]
    for one in items:
        if name in [str(one.get(k)) for k in ("id", "side", "name", "doorway")]:
            return one
    raise UnsettledError(key)


def _put(door: Table, key: str, told: str) -> None:
    way = re.split(r"\.(?![^\[]*\])", key)
    full = whole()[0]
    value = _plausible(door, full, way, told)
    table: Any = door
    for step in way[:-1]:
        table = _made(table, full, step, told)
    last = _STEP.fullmatch(way[-1])
    if last is None:
        raise UnsettledError(told)
    if last[2] is None:
        table[last[1]] = value
        return
    items = table.setdefault(last[1], [])
    try:
        old = _one_of(items, last[2], told)
    except UnsettledError:
        items.append(value)
        return
    items[items.index(old)] = value


def _plausible(door: Table, full: Table, way: list[str], told: str) -> Any:
    """From the whole doorway; a fitting that it does not have is like its first."""
    tail = ".".join(step.partition("[")[0] for step in way[-2:])
    if tail in PLAUSIBLE:
        return PLAUSIBLE[tail]
    first = _STEP.fullmatch(way[0])
    if first is None:
        raise UnsettledError(told)
    if first[1] == "fitting" and first[2]:
        ids = [one["id"] for one in full["fitting"]]
        if first[2] not in ids:
            way = [f"fitting[{ids[0]}]", *way[1:]]
    return _value(full, way, told)


def _made(table: Any, full: Table, step: str, told: str) -> Any:
    """One step further into the doorway, made where it is not there."""
    match = _STEP.fullmatch(step)
    if match is None:
        raise UnsettledError(told)
    if match[2] is None:
        return table.setdefault(match[1], {})
    items = table.setdefault(match[1], [])
    try:
        return _one_of(items, match[2], told)
    except UnsettledError:
        items.append(deepcopy(_one_of(full.get(match[1], []), match[2], told)))
        return items[-1]
