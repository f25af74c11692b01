"""The readings' form: what its fields hold, as a readings file would give it."""

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from limen.desk.fitting import FileFaults
from limen.findings import Message
from limen.model.readings import Reading, Readings, UnitRead
from limen.web.survey_form import lengthy
from limen.words import retold, say

MOST_LETTERS = 200
NOT_KNOWN = "?"
"""A row that is said to be not known."""
LENS = ("height", "from_leaf", "along")
KINDS = ("row line", "row end", "spot centre", "box edge in", "box edge out")
WAYS = ("from_left", "from_right", "along")
PARTS = ("kind", "end", "row", "spot", "from", "out", "place", "height", "struck")
_NAME = re.compile(
    r"u(?P<unit>\d{1,2})\."
    r"(?:fitting|fan|lens\.(?:height|from_leaf|along)"
    rf"|r(?P<name>\d{{1,3}})\.(?:{'|'.join(PARTS)}))"
)
_AT = re.compile(
    r"unit\[(?P<unit>\d+)\]\.(?:lens\.(?P<lens>\w+)"
    r"|reading\[(?P<place>\d+)\](?:\.(?P<part>\w+))?)"
)


@dataclass(frozen=True, slots=True)
class Filled:
    """A form as it was filled in.

    Attributes:
        fields: what each field holds, by its name; none of those that are empty.
        units: in which a bare number is meant: ``metric`` or ``feet``.
    """

    fields: Mapping[str, str] = field(default_factory=dict[str, str])
    units: str = "metric"

    def get(self, name: str) -> str:
        """What a field holds; empty where it is empty."""
        return self.fields.get(name, "")

    def names(self, unit: int) -> list[str]:
        """The readings of a unit that the form has, in their order: numbers."""
        found = (_NAME.fullmatch(key) for key in self.fields)
        numbers = {
            int(one["name"])
            for one in found
            if one and one["name"] and int(one["unit"]) == unit
        }
        return [f"{number}" for number in sorted(numbers)]


@dataclass(frozen=True, slots=True)
class Sent:
    """What of a form makes a readings file.

    Attributes:
        values: as TOML would give them; none where nothing was typed.
        units: the form's number of each unit that is in it.
        names: the readings of each of these units, as the form numbers them.
        open: fields that still want something, and what.
    """

    values: Mapping[str, object]
    units: tuple[int, ...]
    names: tuple[tuple[str, ...], ...]
    open: Mapping[str, str]

    def field_at(self, key: str) -> str:
        """The field that a fault's key stands for; empty if it is none of them."""
        found = _AT.fullmatch(key)
        if found is None or int(found["unit"]) > len(self.units):
            return ""
        place = int(found["unit"]) - 1
        unit = f"u{self.units[place]}"
        if found["lens"]:
            return f"{unit}.lens.{found['lens']}"
        names = self.names[place]
        number = int(found["place"])
        if number > len(names):
            return ""
        part = found["part"] or "place"
        return f"{unit}.r{names[number - 1]}.{'place' if part in WAYS else part}"


def filled(form: Mapping[str, object], units: str) -> Filled:
    """Read a form.

    Args:
        form: what was sent.
        units: of the reader, where the form does not say which it was made for.
    """
    texts = {
        key: one.strip()[:MOST_LETTERS]
        for key, one in form.items()
        if isinstance(one, str) and one.strip() and _NAME.fullmatch(key)
    }
    meant = form.get("units", units)
    return Filled(texts, meant if meant in ("metric", "feet") else units)


def sent(form: Filled, site: str, doorway: str, without: Iterable[str] = ()) -> Sent:
    """What of a form makes a readings file.

    Readings in which nothing was typed are left out, and those that lack something;
    what they lack is told.

    Args:
        form: as it was filled in.
        site: the site's name, for the file.
        doorway: its id.
        without: fields that are left out: those of the lens, or of readings whole.
    """
    left_out = set(without)
    open_: dict[str, str] = {}
    units: list[tuple[int, dict[str, object], tuple[str, ...]]] = []
    for unit in _units(form):
        told = _unit(form, unit, left_out, open_)
        if told is not None:
            units.append((unit, *told))
    values = {
        "site": site,
        "doorway": doorway,
        "unit": [one for _, one, _ in units],
    }
    return Sent(
        values if units else {},
        tuple(unit for unit, _, _ in units),
        tuple(names for _, _, names in units),
        open_,
    )


def _length(typed: str, units: str) -> str:
    """A length with its unit; one to the left of the middle has a minus sign."""
    minus = typed[:1] in ("-", "−", "–")
    told = lengthy(typed[1:].strip() if minus else typed, units)
    return f"-{told}" if minus else told


def _units(form: Filled) -> list[int]:
    found = (_NAME.fullmatch(key) for key in form.fields)
    return sorted({int(one["unit"]) for one in found if one})


def _unit(
    form: Filled, unit: int, left_out: set[str], open_: dict[str, str]
) -> tuple[dict[str, object], tuple[str, ...]] | None:
    at = f"u{unit}"
    lens = {
        part: _length(typed, form.units)
        for part in LENS
        if (typed := form.get(f"{at}.lens.{part}"))
        and f"{at}.lens.{part}" not in left_out
    }
    told: list[tuple[str, dict[str, object]]] = []
    for name in form.names(unit):
        if any(one.startswith(f"{at}.r{name}.") for one in left_out):
            continue
        reading = _reading(form, f"{at}.r{name}", open_)
        if reading is not None:
            told.append((name, reading))
    if not lens and not told:
        return None
    values: dict[str, object] = {"fitting": form.get(f"{at}.fitting")}
    if lens:
        values["lens"] = lens
    if form.get(f"{at}.fan") == "as read":
        values["fan"] = "as read"
    values["reading"] = [reading for _, reading in told]
    return values, tuple(name for name, _ in told)


def _reading(form: Filled, at: str, open_: dict[str, str]) -> dict[str, object] | None:
    """One reading; None where nothing was typed, or too little."""
    kind = form.get(f"{at}.kind")
    asked = _asked(kind)
    typed = {part: form.get(f"{at}.{part}") for part in asked}
    if kind not in KINDS or not any(typed.values()):
        return None
    lacking = [part for part in asked if not typed[part]]
    for part in lacking:
        open_[f"{at}.{part}"] = say(Message(f"readings_page.field.needs_{part}"))
    if lacking:
        return None
    way = form.get(f"{at}.from")
    told: dict[str, object] = {"kind": kind}
    if kind == "row end":
        told["end"] = form.get(f"{at}.end") or "left"
    told |= dict(_numbers(form, at, kind))
    told[way if way in WAYS else "along"] = _length(typed["place"], form.units)
    for part in ("out", "height"):
        if part in typed:
            told[part] = _length(typed[part], form.units)
    if form.get(f"{at}.struck"):
        told["struck"] = True
    return told


def _asked(kind: str) -> tuple[str, ...]:
    """The figures that a kind of reading has."""
    if kind == "row end":
        return ("place",)
    return ("out", "place", "height") if kind.startswith("box") else ("out", "place")


def _numbers(form: Filled, at: str, kind: str) -> Iterator[tuple[str, object]]:
    """Row and spot, where they are said; what is no number is told by the reader."""
    parts = ("row", "spot") if kind == "spot centre" else ("row",)
    for part in parts:
        typed = form.get(f"{at}.{part}")
        if typed and typed != NOT_KNOWN:
            whole = typed.isascii() and typed.isdigit()
            yield part, int(typed) if whole else typed


# Back into a form ----------------------------------------------------------------


def refilled(readings: Readings, fittings: Mapping[str, int], units: str) -> Filled:
    """A form that says what a readings file says.

    Args:
        readings: what it says.
        fittings: the form's number of each unit.
        units: of the reader.
    """
    fields: dict[str, str] = {}
    for one in readings.unit:
        if one.fitting in fittings:
            fields |= _of_unit(one, f"u{fittings[one.fitting]}")
    return Filled(fields, units)


def _of_unit(unit: UnitRead, at: str) -> dict[str, str]:
    fields = {f"{at}.fitting": unit.fitting, f"{at}.fan": unit.fan}
    lens = unit.lens.model_dump(exclude_none=True)
    fields |= {f"{at}.lens.{part}": str(value) for part, value in lens.items()}
    for number, reading in enumerate(unit.reading, 1):
        fields |= _of_reading(reading, f"{at}.r{number}")
    return fields


def _of_reading(reading: Reading, at: str) -> dict[str, str]:
    said = reading.model_dump(exclude_none=True, exclude_defaults=True)
    said["kind"] = reading.kind
    fields = {f"{at}.row": NOT_KNOWN}
    for key, value in said.items():
        if key in WAYS:
            fields |= {f"{at}.from": key, f"{at}.place": str(value)}
        elif key in PARTS:
            fields[f"{at}.{key}"] = "yes" if value is True else str(value)
    return fields


# What is wrong -------------------------------------------------------------------


def by_field(faults: FileFaults, form: Sent) -> dict[str, str]:
    """What is wrong, by the field that it stands in; empty for what has none."""
    told: dict[str, str] = {}
    for one in faults.faults:
        parts = [retold(one.why), *([retold(one.accepted)] if one.accepted else [])]
        told.setdefault(form.field_at(one.key), "; ".join(parts))
    return told
