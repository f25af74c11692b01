"""Sheets as a page shows them: in a line, in a small drawing, field by field."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import tan
from typing import Literal

from limen.desk.sheet_fields import LISTS, PARTS, Field
from limen.desk.sheet_fields import fields_of as every_field_of
from limen.desk.sheet_form import counts_in, flat_of
from limen.desk.sheet_shelf import ShelfSheet, Use
from limen.findings import Message
from limen.model.sheet import Sheet
from limen.quantity import Dimension, Grade, Quantity, QuantityError, Show, parse
from limen.web.sheets_form import said_choice
from limen.words import say, say_count, say_quantity, unbroken

LENS, FLOOR, SCALE = (38.0, 22.0), 116.0, 94.0 / 2.2
"""Of the small drawing: where the lens and the floor are, and pixels a metre."""
HEIGHT, MOST = 2.2, 150.0


@dataclass(frozen=True, slots=True)
class Beam:
    """A line of the small drawing, from the lens to the floor.

    Attributes:
        kind: what looks there.
        x, y: its end.
    """

    kind: Literal["row", "near", "far"]
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class SheetRow:
    """A sheet in the list.

    Attributes:
        sheet: the sheet.
        title: what it calls its unit.
        can: what it can do, in words.
        beams: its small drawing.
        used: in how many sites, in words; empty if in none.
    """

    sheet: ShelfSheet
    title: str
    can: tuple[str, ...]
    beams: tuple[Beam, ...]
    used: str


@dataclass(frozen=True, slots=True)
class Said:
    """A field with its value.

    Attributes:
        name: what it is called.
        help: what it means.
        value: the value in words; empty where the manual does not say.
        grade: the grade in words, where it is another than the manual's.
        drawing: the small drawing of what is meant.
    """

    name: str
    help: str
    value: str
    grade: str
    drawing: str


@dataclass(frozen=True, slots=True)
class SaidPart:
    """A part of a sheet with what is said in it.

    Attributes:
        title: of the part.
        groups: title (empty for the part itself) and fields of each.
    """

    title: str
    groups: tuple[tuple[str, tuple[Said, ...]], ...]


def row_of(one: ShelfSheet, used: tuple[Use, ...], system: Show) -> SheetRow:
    """A sheet as a line of the list."""
    title = one.sheet.name if one.sheet else one.name
    can = tuple(what_it_can(one.sheet, system)) if one.sheet else ()
    beams = beams_of(one.sheet) if one.sheet else ()
    told = say_count("sheet_page.uses", len(used)) if used else ""
    return SheetRow(one, title, can, beams, told)


def matching(rows: list[SheetRow], wanted: str) -> list[SheetRow]:
    """The rows in which every word is found."""
    words = wanted.casefold().split()
    return [one for one in rows if all(word in _text(one) for word in words)]


def _text(row: SheetRow) -> str:
    note = row.sheet.sheet.note if row.sheet.sheet else ""
    return " ".join((row.sheet.name, row.title, note, *row.can)).casefold()


# In a line -------------------------------------------------------------------------


def what_it_can(sheet: Sheet, system: Show) -> Iterator[str]:
    """What a unit can do, each in a few words."""
    presence, motion, mounting = sheet.presence, sheet.motion, sheet.mounting
    if presence:
        yield _presence(sheet)
        least = say_quantity(presence.tilt.least, Dimension.ANGLE)
        most = say_quantity(presence.tilt.most, Dimension.ANGLE)
        yield _say("can.tilt", least=least, most=most)
    if motion:
        depth, width = motion.field_depth, motion.field_width
        yield (
            _say("can.field", depth=_long(depth, system), width=_long(width, system))
            if depth and width
            else _say("can.motion")
        )
    if sheet.barrier:
        yield _say("can.barrier")
    if sheet.outputs:
        yield say_count("sheet_page.can.outputs", len(sheet.outputs))
    if mounting.least_height and mounting.most_height:
        least = _long(mounting.least_height, system)
        yield _say("can.heights", least=least, most=_long(mounting.most_height, system))


def _presence(sheet: Sheet) -> str:
    assert sheet.presence is not None  # noqa: S101 - only such are asked for
    spots = " + ".join(str(row.spots) for row in sheet.presence.rows)
    rows = say_count("sheet_page.can.rows", len(sheet.presence.rows))
    return _say("can.presence", rows=rows, spots=_say("can.spots", spots=spots))


def _long(quantity: Quantity, system: Show) -> str:
    return say_quantity(quantity, Dimension.LENGTH, system)


def _say(key: str, **fills: str) -> str:
    return unbroken(say(Message(f"sheet_page.{key}", {**fills})))


# In a small drawing ----------------------------------------------------------------


def beams_of(sheet: Sheet) -> tuple[Beam, ...]:
    """Where a unit looks from the side, mounted at the height of the drawing."""
    return tuple(_beams(sheet))


def _beams(sheet: Sheet) -> Iterator[Beam]:
    for row in sheet.presence.rows if sheet.presence else ():
        x = LENS[0] + SCALE * HEIGHT * tan(row.angle.value)
        yield Beam("row", round(min(max(x, 0.0), MOST), 1), FLOOR)
    motion = sheet.motion
    if motion and motion.field_depth:
        far = LENS[0] + SCALE * motion.field_depth.value
        yield Beam("far", round(min(far, MOST), 1), FLOOR)


# Field by field --------------------------------------------------------------------


def parts_said(one: ShelfSheet, system: Show) -> tuple[SaidPart, ...]:
    """Every field of a sheet with its value, also those the manual does not state."""
    flat = flat_of(one.raw)
    counts = counts_in(flat)
    parts: list[SaidPart] = []
    for part in PARTS:
        if part.optional and f"has.{part.key}" not in flat:
            continue
        groups: dict[str, list[Said]] = {"": []}
        for key, field in every_field_of(part, counts):
            words, title = _words(key)
            said = _said(words, field, flat.get(key, ""), flat, system)
            groups.setdefault(title, []).append(said)
        title = _say(f"part.{part.key}")
        shown = tuple((name, tuple(own)) for name, own in groups.items() if own)
        parts.append(SaidPart(title, shown))
    return tuple(parts)


def _words(key: str) -> tuple[str, str]:
    """The words of a field, and the title of the thing in a list it belongs to."""
    for rows in LISTS.values():
        found = re.fullmatch(rf"{re.escape(rows.key)}\.(\d+)\.(\w+)", key)
        if found:
            said = Message(f"sheet_page.list.{rows.key}", {"number": int(found[1])})
            return f"{rows.key}.{found[2]}", say(said)
    return key, ""


def _said(
    words: str, field: Field, value: str, flat: Mapping[str, str], system: Show
) -> Said:
    shown, grade = _value(field, value, words, flat, system) if value else ("", "")
    return Said(
        _say(f"f.{words}.name"), _say(f"f.{words}.help"), shown, grade, field.drawing
    )


def _value(
    field: Field, value: str, words: str, flat: Mapping[str, str], system: Show
) -> tuple[str, str]:
    """A value in words, and its grade where that is another than the manual's."""
    if field.kind == "yes_no":
        return _say(value), ""
    if field.kind in ("choice", "several"):
        told = [said_choice(one) for one in value.split(", ") if one in field.choices]
        return ", ".join(told) or value, ""
    dimension = field.dimension
    if words == "presence.fan.choices.value":
        angles = flat.get("presence.fan.form") == "angles"
        dimension = Dimension.ANGLE if angles else Dimension.LENGTH
    return _quantity(value, dimension, system) if dimension else (value, "")


def _quantity(value: str, dimension: Dimension, system: Show) -> tuple[str, str]:
    try:
        found = parse(value, dimension, Grade.SHEET)
    except QuantityError:
        return value, ""
    grade = "" if found.grade is Grade.SHEET else say(Message(f"grade.{found.grade}"))
    return unbroken(say_quantity(found, dimension, system)), grade
