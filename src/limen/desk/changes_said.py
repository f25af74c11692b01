"""What changed at a door, in words: keys, readings, work, mended causes."""

from limen.desk.changes_readings import field_at
from limen.desk.fact_words import said_choice, said_key
from limen.findings import Measure, Message
from limen.keep.differing import Difference, ReadAgain
from limen.keep.touching import Way
from limen.model.doorway import Doorway
from limen.model.fields import Stated
from limen.quantity import Dimension, Quantity, Show
from limen.store.describing import told_at
from limen.words import apart, has, say, say_quantity, say_unit, say_word

BETWEEN = " · "
SETTINGS = 4
"""How many parts a way to a setting of a unit has."""


def key_of(way: Way) -> str:
    """A way as findings and forms write it: ``fitting[inside].settings.tilt``."""
    return "".join(
        part if part.startswith("[") or not place else f".{part}"
        for place, part in enumerate(way)
    )


def said_way(way: Way, doorway: str) -> str:
    """A way in words: ``Unit: inside · Settings · Row tilt``.

    Args:
        way: the way.
        doorway: id of the doorway.
    """
    said = said_key(("doorway", f"[{doorway}]", *way)).split(BETWEEN)[1:]
    return BETWEEN.join(said) or key_of(way)


def said_fact(value: object, way: Way, system: Show) -> str:
    """What stands at a way, in the reader's units; empty of a whole table."""
    if isinstance(value, Stated):
        return say(Message("change.there"))
    if isinstance(value, tuple):
        items = tuple[object, ...](value)  # pyright: ignore[reportUnknownArgumentType]
        return apart(said_fact(one, way, system) for one in items) or _none()
    counted = tuple(0 if part.startswith("[") else part for part in way)
    field = told_at(Doorway, counted)
    if isinstance(value, Quantity) and field is not None and field.dimension:
        return say_quantity(value, field.dimension, system)
    if isinstance(value, bool):
        return say(Message("facts.yes" if value else "facts.no"))
    if value is None:
        return _none()
    if isinstance(value, str) and field is not None and field.choices:
        return said_choice(value, field.model)
    return str(value)


def _none() -> str:
    return say(Message("change.none"))


def of_difference(one: Difference, doorway: str, system: Show) -> Message:
    """A fact that is not as it was, as one clause."""
    was, now = (said_fact(each, one.way, system) for each in (one.was, one.now))
    values: dict[str, str] = {"was": was, "now": now}
    own = f"change.setting.{one.way[-1]}"
    unit = one.way[1][1:-1] if len(one.way) > 1 and one.way[0] == "fitting" else ""
    if len(one.way) == SETTINGS and one.way[2] == "settings" and has(own):
        return Message(own, {**values, "fitting": say_unit(unit)})
    return Message("change.key", {**values, "what": said_way(one.way, doorway)})


def of_reading(one: ReadAgain, doorway: str, system: Show) -> Message:
    """A reading that differs by more than its ±, as one clause."""
    values: dict[str, str | Measure] = {"what": thing_of(one, doorway)}
    if not one.within:
        return Message("change.read.other", {**values, **_both(one, system)})
    return Message("change.read.moved", {**values, **_by(one, system)})


def outcome_of(one: ReadAgain, system: Show) -> Message:
    """How a reading compares: as it was within its ±, or by how much it moved."""
    if not one.moved:
        plain = Message("change.read.same")
        within = {"within": _size(one.within, one)}
        return Message("change.read.as_it_was", within) if one.within else plain
    if not one.within:
        return Message("visits.since.read", _both(one, system))
    return Message("change.read.by", _by(one, system))


def _by(one: ReadAgain, system: Show) -> dict[str, str | Measure]:
    moved = {"by": _size(abs(one.by), one), "within": _size(one.within, one)}
    return {**moved, **_both(one, system)}


def _size(value: float, one: ReadAgain) -> Measure:
    return Measure(value, one.dimension or Dimension.LENGTH)


def _both(one: ReadAgain, system: Show) -> dict[str, str]:
    """What was left and found, without its ±: that is said of both together."""
    pairs = zip((one.left, one.found), one.said, strict=True)
    said = [
        text
        if figure is None or one.dimension is None
        else say_quantity(Quantity(figure.value), one.dimension, system)
        for figure, text in pairs
    ]
    return {"left": said[0], "found": said[1]}


def thing_of(one: ReadAgain, doorway: str) -> str:
    """What was read, in words: the unit, the kind, row and end."""
    if not one.fitting:
        return value_name(one.kind, doorway)
    values = {"what": ", ".join(_which(one)), "fitting": say_unit(one.fitting)}
    return say(Message("change.read.thing", values))


def _which(one: ReadAgain) -> list[str]:
    if one.kind == "lens":
        return [say(Message(f"change.lens.{one.part}"))]
    row, spot, end = one.part.split("|")
    said = [say_word("readings_page.kind", one.kind)]
    said += [say(Message("visits.readings.row", {"row": row}))] if row else []
    said += [say(Message("visits.readings.spot", {"spot": spot}))] if spot else []
    return said + ([say(Message(f"visits.readings.end_{end}"))] if end else [])


def value_name(key: str, doorway: str) -> str:
    """A value of the doorway in words, by the key under which it was typed."""
    return key if field_at(key) is None else said_way(way_of(key), doorway)


def way_of(key: str) -> Way:
    """A key as it was typed at the door, ``fitting.inside.settings.tilt``, as a way."""
    parts = key.split(".")
    if parts[0] == "fitting" and len(parts) > 1:
        return (parts[0], f"[{parts[1]}]", *parts[2:])
    return tuple(parts)
