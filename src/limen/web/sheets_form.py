"""A sheet's form: fields with their units inside, and what was typed back again."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from starlette.datastructures import FormData

from limen.desk.library import Fault
from limen.desk.sheet_fields import LISTS, PARTS, Field, Part, Rows, fields_of
from limen.desk.sheet_form import shown_counts
from limen.findings import Message
from limen.quantity import Dimension
from limen.words import reading, retold, say, unnumbered

UNITS: Mapping[Dimension, str] = {
    Dimension.ANGLE: "deg",
    Dimension.TIME: "s",
    Dimension.RATIO: "%",
    Dimension.SPEED: "m/s",
    Dimension.VOLTAGE: "V",
    Dimension.CURRENT: "A",
    Dimension.POWER: "W",
    Dimension.TEMPERATURE: "°C",
}
LENGTHS = {"metric": "mm", "feet": "in"}
MOST_LETTERS = 400
_FAN = re.compile(r"presence\.fan\.choices\.\d+\.value")
_BARE = re.compile(r"[-\N{MINUS SIGN}]?\d+(?:\.\d+)?(?:\s+\d+/\d+)?|\d+/\d+")
_COUNT = re.compile(r"(more|fewer):([\w.]+)")


@dataclass(frozen=True, slots=True)
class FormField:
    """One field as a form asks for it.

    Attributes:
        key: its name in the form.
        name: what it is called.
        help: what it means, in one line.
        field: what is written there.
        value: what stands in it.
        unit: the unit that is shown inside; empty without one.
        choices: value and words of each choice.
        fault: why it is not taken.
    """

    key: str
    name: str
    help: str
    field: Field
    value: str
    unit: str
    choices: tuple[tuple[str, str], ...]
    fault: str


@dataclass(frozen=True, slots=True)
class FormList:
    """Things of which there may be several.

    Attributes:
        key: the way to the list.
        count: how many are shown.
        groups: title and fields of each.
        more: whether there may be one more.
        fewer: whether the last may be taken away.
    """

    key: str
    count: int
    groups: tuple[tuple[str, tuple[FormField, ...]], ...]
    more: bool
    fewer: bool


@dataclass(frozen=True, slots=True)
class FormPart:
    """A part of the form.

    Attributes:
        part: which.
        title: what it is called.
        has: whether the unit has it.
        items: its fields and lists.
    """

    part: Part
    title: str
    has: bool
    items: tuple[FormField | FormList, ...]


# In --------------------------------------------------------------------------------


def typed_in(form: FormData, units: str) -> dict[str, str]:
    """What was typed, as it stands in the fields.

    Args:
        form: what was sent.
        units: of the reader, where the form does not say which it was made for.
    """
    typed: dict[str, str] = {"units": units}
    for key in dict.fromkeys(form.keys()):
        told = [one.strip() for one in form.getlist(key) if isinstance(one, str)]
        said = ", ".join(one for one in told if one)[:MOST_LETTERS]
        if said:
            typed[key] = said
    return typed


def flat_in(typed: Mapping[str, str]) -> dict[str, str]:
    """The fields with the units that a bare number has."""
    units = typed.get("units", "metric")
    return {
        key: _with_unit(value, unit)
        if (unit := _unit(key, typed, units)) is not None
        else value
        for key, value in typed.items()
    }


def stepped(typed: Mapping[str, str], act: str) -> dict[str, str]:
    """The form with one thing more in a list, or with its last one taken away."""
    found = _COUNT.fullmatch(act)
    if found is None or found[2] not in LISTS:
        return dict(typed)
    key, now = found[2], shown_counts(typed)[found[2]]
    if found[1] == "more":
        return {**typed, f"count.{key}": str(now + 1)}
    gone = f"{key}.{now}."
    kept = {name: one for name, one in typed.items() if not name.startswith(gone)}
    return {**kept, f"count.{key}": str(now - 1)}


def _with_unit(typed: str, unit: str) -> str:
    said = unnumbered(typed, reading()).replace("\N{MINUS SIGN}", "-")
    return f"{said} {unit}" if _BARE.fullmatch(said) else said


def _unit(key: str, typed: Mapping[str, str], units: str) -> str | None:
    """The unit of a field as a file writes it; None for what has none."""
    length = LENGTHS.get(units, "mm")
    if _FAN.fullmatch(key):
        angles = typed.get("presence.fan.form") == "angles"
        return UNITS[Dimension.ANGLE] if angles else length
    field = _DIMENSIONS.get(re.sub(r"\.\d+\.", ".", key))
    if field is None:
        return None
    return length if field is Dimension.LENGTH else UNITS[field]


def _dimensions() -> Iterator[tuple[str, Dimension]]:
    for part in PARTS:
        for item in part.items:
            if isinstance(item, Rows):
                for one in item.fields:
                    if one.dimension:
                        yield f"{item.key}.{one.key}", one.dimension
            elif item.dimension:
                yield item.key, item.dimension


_DIMENSIONS = dict(_dimensions())


# Out -------------------------------------------------------------------------------


def parts_of(
    typed: Mapping[str, str], faults: Mapping[str, Fault]
) -> tuple[FormPart, ...]:
    """The form, with what stands in it and what is wrong with that."""
    counts = shown_counts(typed)
    return tuple(
        FormPart(
            part,
            say(Message(f"sheet_page.part.{part.key}")),
            not part.optional or bool(typed.get(f"has.{part.key}")),
            tuple(_items(part, typed, faults, counts)),
        )
        for part in PARTS
    )


def _items(
    part: Part,
    typed: Mapping[str, str],
    faults: Mapping[str, Fault],
    counts: Mapping[str, int],
) -> Iterator[FormField | FormList]:
    for item in part.items:
        if isinstance(item, Field):
            yield _field(item.key, item.key, item, typed, faults)
            continue
        count = counts[item.key]
        groups = tuple(
            _group(item, number, typed, faults) for number in range(1, count + 1)
        )
        more, fewer = count < item.most, count > item.least
        yield FormList(item.key, count, groups, more, fewer)


def _group(
    rows: Rows, number: int, typed: Mapping[str, str], faults: Mapping[str, Fault]
) -> tuple[str, tuple[FormField, ...]]:
    title = say(Message(f"sheet_page.list.{rows.key}", {"number": number}))
    return title, tuple(
        _field(
            f"{rows.key}.{number}.{one.key}",
            f"{rows.key}.{one.key}",
            one,
            typed,
            faults,
        )
        for one in rows.fields
    )


def _field(
    key: str,
    words: str,
    field: Field,
    typed: Mapping[str, str],
    faults: Mapping[str, Fault],
) -> FormField:
    unit = _unit(key, typed, typed.get("units", "metric")) or ""
    value = typed.get(key, "")
    fault = faults.get(key)
    return FormField(
        key,
        say(Message(f"sheet_page.f.{words}.name")),
        say(Message(f"sheet_page.f.{words}.help")),
        field,
        _bare(value, unit) if unit else value,
        "°" if unit == "deg" else unit,
        tuple((one, said_choice(one)) for one in field.choices),
        said_fault(fault) if fault else "",
    )


def said_choice(choice: str) -> str:
    """A choice in words."""
    return say(Message(f"sheet_page.value.{choice}"))


def said_fault(fault: Fault) -> str:
    """Why a field is not taken, and what would be."""
    if not fault.accepted:
        return retold(fault.why)
    told = {"accepted": retold(fault.accepted)}
    return f"{retold(fault.why)}. {say(Message('sheet_page.form.accepted', told))}"


def _bare(value: str, unit: str) -> str:
    """A value without the unit that stands beside it anyway."""
    number = value.removesuffix(unit).strip()
    return number if value.endswith(unit) and _BARE.fullmatch(number) else value


def every_field(typed: Mapping[str, str]) -> Iterator[tuple[Part, str, Field]]:
    """Each field that a form shows, with its part and its key."""
    counts = shown_counts(typed)
    for part in PARTS:
        for key, field in fields_of(part, counts):
            yield part, key, field
