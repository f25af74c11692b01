"""What was read at a door, then and again, thing by thing and within its ±."""

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

from pydantic import TypeAdapter

from limen.keep.differing import ReadAgain
from limen.model.doorway import Doorway
from limen.model.readings import Reading, RowEnd, TapedLens
from limen.model.visit import OfLens, OfRow, OfValue, ReadingSaid
from limen.quantity import Dimension, Quantity, QuantityError, parse, write
from limen.questions.settled import ASSUMED
from limen.store.describing import Told, told_at
from limen.tune.fitting_given import KINDS, WITHIN

Row = Mapping[str, Any]
NEAR = 0.15
"""Readings of one row this close to each other along it are of one place (m)."""
FIRST = "1"


@dataclass(frozen=True, slots=True)
class Thing:
    """One thing that was read.

    Attributes:
        fitting: whose; empty for a value of the doorway.
        kind: a kind of reading, ``lens``, or the key of a value.
        part: which of it: row, spot and end, or what of a lens.
        figure: what was read; None where it is no figure.
        dimension: of the figure.
        said: what was said.
        place: where along the opening (m), where that tells readings apart.
    """

    fitting: str
    kind: str
    part: str
    figure: Quantity | None
    dimension: Dimension | None
    said: str
    place: float | None = None

    def same(self, other: "Thing") -> bool:
        """Whether two readings are of one thing."""
        one = (self.fitting, self.kind, self.part)
        if one != (other.fitting, other.kind, other.part):
            return False
        if self.place is None or other.place is None:
            return True
        return abs(self.place - other.place) <= NEAR


def left_in(visit: Row | None, door: Doorway) -> tuple[Thing, ...]:
    """How things were left, by the last that was said of each.

    Args:
        visit: a visit, folded; None if nobody was there.
        door: the doorway, for its width.
    """
    read: list[Thing] = []
    for section in ("as_found", "readings"):
        for one in things_in(visit, section, door):
            read = [*(each for each in read if not each.same(one)), one]
    return tuple(read)


def stated_in(door: Doorway) -> tuple[Thing, ...]:
    """Where rows and lenses stand by a doorway's own text."""
    return tuple(_stated(door))


def things_in(visit: Row | None, section: str, door: Doorway) -> Iterator[Thing]:
    """What was read, in order; what was struck out is left out.

    Args:
        visit: a visit, folded.
        section: ``as_found`` or ``readings``.
        door: the doorway, for its width.
    """
    for entry in (visit or {}).get(section, ()):
        if entry.get("counts", True):
            yield from _things(entry["said"], door)


def again(
    left: Sequence[Thing], found: Iterable[Thing], door: Doorway | None = None
) -> tuple[ReadAgain, ...]:
    """What was read again, with how it was left; what nobody had read is left out.

    Args:
        left: how things were left.
        found: what was found, in order; of one thing the first counts.
        door: the doorway of the day on which they were left, if it is at hand: its
            settings are known though nobody read them.
    """
    first: list[Thing] = []
    for one in found:
        if not any(map(one.same, first)):
            first.append(one)
    pairs = ((_left(one, left, door), one) for one in first)
    return tuple(_again(was, one) for was, one in pairs if was is not None)


def _again(left: Thing, found: Thing) -> ReadAgain:
    said = (left.said, found.said)
    dimension = found.dimension
    return ReadAgain(
        found.fitting,
        found.kind,
        found.part,
        left.figure,
        found.figure,
        dimension,
        said,
        found.place,
    )


def _left(one: Thing, left: Sequence[Thing], door: Doorway | None) -> Thing | None:
    read = next((each for each in left if each.same(one)), None)
    if read is not None or one.fitting or door is None:
        return read
    return _value(one.kind, door)


# One reading ---------------------------------------------------------------------


@cache
def _reader() -> "TypeAdapter[OfRow | OfLens | OfValue]":
    return TypeAdapter(ReadingSaid)


def _things(said: Row, door: Doorway) -> Iterator[Thing]:
    read = _reader().validate_json(json.dumps(said))
    match read:
        case OfRow():
            if not read.reading.struck:
                yield _row(read.fitting, read.reading, door)
        case OfLens():
            yield from _lens(read.fitting, read.lens)
        case OfValue():
            yield _typed(read.key, read.value)


def _row(fitting: str, one: Reading, door: Doorway) -> Thing:
    place = one.place(door.clear_width)
    parts = (one.row, getattr(one, "spot", None), getattr(one, "end", None))
    part = "|".join(str(each or "") for each in parts)
    if isinstance(one, RowEnd):
        figure, along = _known(place, one.kind), None
    else:
        figure, along = _known(one.out, one.kind), place.value
    said = write(replace(figure, u=0.0), Dimension.LENGTH)
    return Thing(fitting, one.kind, part, figure, Dimension.LENGTH, said, along)


def _known(figure: Quantity, kind: str) -> Quantity:
    """A figure with the ± of its kind, where nobody said how closely it was read."""
    taken = WITHIN[KINDS[kind]]
    if figure.u > 0:
        return figure
    return Quantity(figure.value, taken.value, taken.grade)


def _lens(fitting: str, lens: TapedLens) -> Iterator[Thing]:
    taped = ASSUMED["lens.taped"][0]
    for name in ("along", "from_leaf", "height"):
        figure: Quantity | None = getattr(lens, name)
        if figure is not None:
            said = write(figure, Dimension.LENGTH)
            if not figure.u:
                figure = Quantity(figure.value, taped.value, taped.grade)
            yield Thing(fitting, "lens", name, figure, Dimension.LENGTH, said)


def _typed(key: str, value: str) -> Thing:
    field = field_at(key)
    dimension = field.dimension if field and field.kind == "quantity" else None
    figure: Quantity | None = None
    if dimension is not None:
        try:
            figure = parse(value, dimension)
        except QuantityError:
            figure = None  # what was typed at the door stays what was typed
    return Thing("", key, "", figure, dimension, value)


def field_at(key: str) -> Told | None:
    """What the model knows of a key, ``fitting.inside.settings.tilt``."""
    parts = key.split(".")
    if parts[0] == "fitting" and len(parts) > 1:
        return told_at(Doorway, (parts[0], 0, *parts[2:]))
    return told_at(Doorway, tuple(parts))


# What is stated -------------------------------------------------------------------


def _value(key: str, door: Doorway) -> Thing | None:
    """A value as the doorway's text had it."""
    field, parts = field_at(key), key.split(".")
    at: object = door
    if parts[0] == "fitting" and len(parts) > 1:
        units = (one for one in door.fitting if one.id == parts[1])
        at, parts = next(units, None), parts[2:]
    for part in parts:
        at = getattr(at, part, None)
    if at is None or field is None:
        return None
    if isinstance(at, Quantity) and field.dimension is not None:
        text = write(at, field.dimension)
        return Thing("", key, "", at, field.dimension, text)
    return Thing("", key, "", None, None, _text(at))


def _text(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    return str(value)


def _stated(door: Doorway) -> Iterator[Thing]:
    """Where rows and lenses stand by the doorway's own text."""
    for fitting in door.fitting:
        if fitting.lens is not None:
            lens = fitting.lens
            taped = TapedLens(
                along=lens.along, from_leaf=lens.from_leaf, height=lens.height
            )
            yield from _lens(fitting.id, taped)
        row = fitting.read.first_row
        if row is not None:
            figure = _known(row, "row line")
            said = write(replace(row, u=0.0), Dimension.LENGTH)
            part = f"{FIRST}||"
            yield Thing(
                fitting.id, "row line", part, figure, Dimension.LENGTH, said, None
            )
