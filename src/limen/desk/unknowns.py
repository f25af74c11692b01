"""What is assumed or not known of a doorway, by what it holds open.

A finding names what it lacks and what it assumed; here the same is told the other way
round: each such thing once, with the findings that hang on it, the weightiest first.
"""

import re
from dataclasses import dataclass, field
from typing import Any, Literal, cast

from limen.desk.facts import Way
from limen.desk.library import Desk, Opened, read_stored, study_of
from limen.desk.library_edits import doorway_in
from limen.desk.refusal import Refusal
from limen.findings import Assumed, Finding, Message, Study, Verdict
from limen.model.doorway import Doorway
from limen.store.describing import Told, told_at

Where = Literal["door", "part", "list", "sheet", "values", "elsewhere"]
Data = dict[str, Any]

_VALUES = re.compile(r"values: (?P<rule>\S+) (?P<limit>\S+)")
_SHEET = re.compile(r"(?:fitting\[(?P<fitting>[^\]]+)\]\.)?sheet(?:\.(?P<key>.+))?")
_IN_SHEET = {"angle_error": "presence.angle_error"}
"""Keys of a sheet that findings name more briefly."""
_LENS = {"lens.taped": "lens", "lens.housing": "sheet.mounting.lens_known"}
"""What is assumed of a lens, and what would say it instead."""
_WEIGHTS = ("must", "should", "advice")


@dataclass(slots=True)
class Unknown:
    """One thing that nobody stated.

    Attributes:
        key: what it is, as findings name it.
        where: where it would be stated: as a fact of the doorway, a part or a list of
            it, in the sensor's sheet, in the values file of a firm; or elsewhere.
        way: the way to it within the doorway.
        told: what the model knows of it.
        sheets: the sheets of which one would say it, and `sheet_key` in it.
        rule, limit: the figure of the rulebook.
        fitting: the unit that it is about.
        lacks: what is lacking, in words.
        assumed: what was taken in its place.
        opens: findings that are not shown for want of it.
        rests: findings that rest on what was taken in its place.
    """

    key: str
    where: Where = "elsewhere"
    way: Way = ()
    told: Told | None = None
    sheets: tuple[str, ...] = ()
    sheet_key: str = ""
    rule: str = ""
    limit: str = ""
    fitting: str = ""
    lacks: list[Message] = field(default_factory=list[Message])
    assumed: list[Assumed] = field(default_factory=list[Assumed])
    opens: list[Finding] = field(default_factory=list[Finding])
    rests: list[Finding] = field(default_factory=list[Finding])

    @property
    def musts(self) -> int:
        """How many questions of a must it holds open."""
        return len({one.question for one in self.opens if one.weight == "must"})


def unknowns_of(desk: Desk, opened: Opened, doorway_id: str) -> tuple[Unknown, ...]:
    """All that is assumed or not known of a doorway, what holds most open first.

    Raises:
        Refusal: there is no such doorway, or nothing settles its edition.
    """
    study = study_of(desk, opened, doorway_id)
    raw = read_stored(desk, opened.stored)[1]
    try:
        door = doorway_in(raw, doorway_id)[1]
    except Refusal:
        door = None  # a short form has no keys of a doorway
    found = list(_gathered(study, door).values())
    return tuple(sorted(found, key=_rank))


def _rank(one: Unknown) -> tuple[object, ...]:
    weights = [_WEIGHTS.index(f.weight.value) for f in (*one.opens, *one.rests)]
    questions = {finding.question for finding in one.opens}
    open_first = not one.opens
    rests = -len({finding.question for finding in one.rests})
    return open_first, min(weights, default=9), -one.musts, -len(questions), rests


# Gathering -----------------------------------------------------------------------


def _gathered(study: Study, door: Data | None) -> dict[tuple[str, str], Unknown]:
    found: dict[tuple[str, str], Unknown] = {}
    for finding in study.findings:
        for lack in finding.lacking:
            one = _of(found, lack.key, finding, study, door)
            if lack.message not in one.lacks:
                one.lacks.append(lack.message)
            if finding.verdict is Verdict.NOT_SHOWN:
                one.opens.append(finding)
        for taken in finding.assumed:
            one = _of(found, taken.key, finding, study, door)
            if taken not in one.assumed:
                one.assumed.append(taken)
            one.rests.append(finding)
    return found


def _of(
    found: dict[tuple[str, str], Unknown],
    key: str,
    finding: Finding,
    study: Study,
    door: Data | None,
) -> Unknown:
    """The thing of this key; what a sheet lacks is one thing a sheet."""
    made = located(key, finding.fitting, study.doorway, door)
    if made.where != "sheet":
        return found.setdefault((key, ""), made)
    return found.setdefault((made.sheet_key, " ".join(made.sheets)), made)


def located(
    key: str, fitting: str | None, doorway: Doorway, door: Data | None
) -> Unknown:
    """Where a key would be stated.

    Args:
        key: as findings name it.
        fitting: the unit of the finding that names it.
        doorway: the doorway.
        door: the same as its text says it; None where that is a short form.
    """
    for short, long in _LENS.items():
        if key.endswith(f".{short}"):
            unit = key.removesuffix(short).removeprefix("fitting[").removesuffix("].")
            moved = long if long.startswith("sheet") else f"fitting[{unit}].{long}"
            return _named(key, located(moved, unit, doorway, door))
    figure = _VALUES.fullmatch(key)
    if figure:
        return Unknown(key, "values", rule=figure["rule"], limit=figure["limit"])
    sheet = _SHEET.fullmatch(key)
    if sheet:
        return _in_sheet(key, sheet["key"] or "", sheet["fitting"] or fitting, doorway)
    return _in_door(key, door)


def _named(key: str, one: Unknown) -> Unknown:
    one.key = key
    return one


def _in_sheet(key: str, inner: str, fitting: str | None, doorway: Doorway) -> Unknown:
    units = [one for one in doorway.fitting if fitting in (None, one.id)]
    names = tuple(dict.fromkeys(one.sheet for one in units))
    inner = _IN_SHEET.get(inner, inner)
    return Unknown(key, "sheet", sheets=names, sheet_key=inner, fitting=fitting or "")


def _in_door(key: str, door: Data | None) -> Unknown:
    if door is None:
        return Unknown(key)
    way = _counted(door, key)
    told = told_at(Doorway, way)
    if told is None:
        return Unknown(key)
    where: Where = "door"
    if told.kind == "tables":
        where = "part" if way and isinstance(way[-1], int) else "list"
    elif told.kind == "table":
        where = "part"
    return Unknown(key, where, way=way, told=told)


_PART = re.compile(r"(?P<name>\w+)(?:\[(?P<which>[^\]]*)\])?(?:\.|$)")
_NAMES = ("id", "side", "name", "doorway", "output")


def _counted(door: Data, key: str) -> Way:
    """The way to a key, up to the list in which what it names is not written yet."""
    way: list[str | int] = []
    place: object = door
    for part in _PART.finditer(key):
        name, which = part["name"], part["which"]
        way.append(name)
        place = _get(place, name)
        if which is None:
            continue
        items = cast("list[Data]", place) if isinstance(place, list) else []
        number = _number(items, which)
        if number is None:
            break
        way.append(number)
        place = items[number]
    return tuple(way)


def _get(place: object, name: str) -> object:
    return cast("Data", place).get(name) if isinstance(place, dict) else None


def _number(items: list[Data], which: str) -> int | None:
    """Place of what has this name; findings count from 1 what has none."""
    for name in _NAMES:
        for number, item in enumerate(items):
            if item.get(name) == which:
                return number
    counted = int(which) - 1 if which.isascii() and which.isdigit() else -1
    return counted if 0 <= counted < len(items) else None
