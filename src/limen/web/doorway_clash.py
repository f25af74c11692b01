"""Two who set the same doorway: what each has set, side by side."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import cast

from limen.findings import Message
from limen.model.doorway import Doorway
from limen.quantity import Quantity, Show, parse
from limen.web.doorway_knobs import CHOSEN, DIMENSIONS
from limen.words import say, say_quantity


@dataclass(frozen=True, slots=True)
class Row:
    """One setting in both versions.

    Attributes:
        name: which.
        mine: as it was set here.
        theirs: as it is saved.
    """

    name: str
    mine: str
    theirs: str


def differing(
    theirs: Doorway, edits: Mapping[str, str], system: Show
) -> tuple[Row, ...]:
    """Each setting that was to be saved, beside what is saved.

    Args:
        theirs: the doorway as somebody else has saved it.
        edits: what was set here.
        system: in which units.
    """
    return tuple(_row(theirs, key, mine, system) for key, mine in edits.items())


def _row(theirs: Doorway, key: str, mine: str, system: Show) -> Row:
    head, _, setting = key.partition("].")
    fitting = head.removeprefix("fitting[")
    where = say(Message("doorway_page.unit", {"fitting": fitting}))
    named = {"name": say(Message(f"doorway_page.setting.{setting_key(setting)}"))}
    name = say(Message("doorway_page.apart", {**named, "where": where}))
    told = _said(_typed(setting, mine), setting, system)
    return Row(name, told, _value(theirs, fitting, setting, system))


def _typed(setting: str, text: str) -> Quantity | str:
    """What was set here; it was read once and is no fault any more."""
    return text if setting in CHOSEN else parse(text, DIMENSIONS[setting])


def setting_key(setting: str) -> str:
    """The setting's key in the catalogue."""
    return setting.removeprefix("settings.")


def _value(door: Doorway, fitting: str, setting: str, system: Show) -> str:
    part, _, name = setting.partition(".")
    for one in door.fitting:
        if one.id == fitting:
            value = getattr(getattr(one, part), name, None)
            return _said(value, setting, system)
    return ""


def _said(value: object, setting: str, system: Show) -> str:
    if isinstance(value, Quantity):
        return say_quantity(value, DIMENSIONS[setting], system)
    if isinstance(value, tuple) and setting in CHOSEN:
        return " ".join(str(one) for one in cast("tuple[object, ...]", value))
    return "" if value is None else f"{value}"
