"""Keys of a doorway as pages say them, and a doorway with some of them changed."""

import copy
import re
from collections.abc import Iterator, Mapping
from typing import Any, cast

from pydantic import ValidationError

from limen.desk.refusal import Refusal
from limen.findings import Message
from limen.model.doorway import Doorway
from limen.model.site import Site
from limen.quantity import Grade
from limen.store.agreeing import clashes
from limen.store.editing import EditError, Value, Way, set_values
from limen.store.sitefile import SiteFile
from limen.words import say

Edits = Mapping[str, str]
"""What is changed: values by key, ``fitting[outside].settings.tilt`` → ``-2.4 deg``.

Numbers of rows stand side by side: ``fitting[outside].settings.rows_on`` → ``1 2``.
"""

Raw = dict[str, Any]

_PART = re.compile(r"(?P<name>\w{1,60})(?:\[(?P<which>[\w-]{1,40})\])?")
_NAMES = ("id", "side")
_DEEPEST = 8
_NUMBERS, _NUMBER = frozenset({"rows_on"}), frozenset({"channel"})


def edited_text(text: str, raw: Raw, doorway_id: str, edits: Edits) -> str:
    """The text of a site file with values of one doorway changed.

    Args:
        text: the text.
        raw: what it says, as TOML gives it.
        doorway_id: the doorway.
        edits: what is changed.

    Raises:
        Refusal: a key leads nowhere.
    """
    number, door = doorway_in(raw, doorway_id)
    values: dict[Way, Value] = {
        ("doorway", number, *way_to(door, key)): typed(key, value)
        for key, value in edits.items()
    }
    try:
        return set_values(text, values, new_tables=True) if values else text
    except EditError as error:
        raise Refusal([str(error)]) from error


def edited_site(file: SiteFile, raw: Raw, doorway_id: str, edits: Edits) -> Site | None:
    """The site with values of one doorway changed, without going through its text.

    Args:
        file: the site as it is kept.
        raw: what its text says, as TOML gives it.
        doorway_id: the doorway.
        edits: what is changed.

    Returns:
        The site; None where a value is not accepted: the text can say why.

    Raises:
        Refusal: a key leads nowhere.
    """
    number, door = doorway_in(edited_raw(raw, doorway_id, edits), doorway_id)
    try:
        changed = Doorway.model_validate(
            _frozen(door), context={"grade": Grade.MEASURED}
        )
    except ValidationError:
        return None
    sheets = {one.sheet: one.unit for d in file.site.doorway for one in d.fitting}
    if any(one.sheet not in sheets for one in changed.fitting):
        return None
    hung = tuple(
        one.model_copy(update={"unit": sheets[one.sheet]}) for one in changed.fitting
    )
    weather = {one.air.weather: one.air.hung for one in file.site.doorway}
    if changed.air.weather not in {*weather, None}:
        return None
    air = changed.air.model_copy(update={"hung": weather.get(changed.air.weather)})
    doors = list(file.site.doorway)
    doors[number] = changed.model_copy(update={"fitting": hung, "air": air})
    site = file.site.model_copy(update={"doorway": tuple(doors)})
    return None if any(clashes(site)) else site


def edited_raw(raw: Raw, doorway_id: str, edits: Edits) -> Raw:
    """What a text would say with values of one doorway changed.

    Raises:
        Refusal: a key leads nowhere.
    """
    number, door = doorway_in(raw, doorway_id)
    changed = copy.deepcopy(door)
    for key, value in edits.items():
        _put(changed, way_to(door, key), typed(key, value))
    doors = [*raw["doorway"]]
    doors[number] = changed
    return {**raw, "doorway": doors}


def _put(door: Raw, way: Way, value: Value) -> None:
    place: Any = door
    for part in way[:-1]:
        place = place.setdefault(part, {}) if isinstance(part, str) else place[part]
    place[way[-1]] = list(value) if isinstance(value, tuple) else value


def doorway_in(raw: Raw, doorway_id: str) -> tuple[int, Raw]:
    """Place and contents of a doorway that is written in full.

    Raises:
        Refusal: there is none, or it is written in the short form.
    """
    doors = cast("list[Raw]", raw.get("doorway", []))
    for number, door in enumerate(doors):
        if door.get("id") == doorway_id:
            return number, door
    shorts = cast("list[Raw]", raw.get("short", []))
    short = any(one.get("id") == doorway_id for one in shorts)
    key = "short" if short else "no_doorway"
    raise Refusal([say(Message(f"desk.refused.{key}", {"doorway": doorway_id}))])


def way_to(door: Raw, key: str) -> Way:
    """The way to a value within a doorway, places in lists counted.

    Raises:
        Refusal: the key is none, or names something that is not there.
    """
    way: list[str | int] = []
    place: object = door
    for name, which in _parts(key):
        table = _table(place)
        if table is None:
            raise _no_key(key)
        way.append(name)
        place = table.get(name, {})
        if which is not None:
            number, place = _named(place, which) or (None, None)
            if number is None:
                raise _no_key(key)
            way.append(number)
    return tuple(way)


def typed(key: str, value: str) -> Value:
    """A value as TOML has it; what is none stays a text, for the model to refuse."""
    last = key.rpartition(".")[2]
    try:
        if last in _NUMBERS:
            return tuple(int(one) for one in value.split())
        return int(value) if last in _NUMBER else value
    except ValueError:
        return value


def _parts(key: str) -> Iterator[tuple[str, str | None]]:
    parts = key.split(".")
    if len(parts) > _DEEPEST:
        raise _no_key(key)
    for part in parts:
        found = _PART.fullmatch(part)
        if found is None:
            raise _no_key(key)
        yield found["name"], found["which"]


def _named(items: object, which: str) -> tuple[int, Raw] | None:
    """What has this id or stands on this side, and its place in the list."""
    listed = cast("list[object]", items) if isinstance(items, list) else []
    for number, item in enumerate(listed):
        table = _table(item) or {}
        if any(table.get(name) == which for name in _NAMES):
            return number, table
    return None


def _table(value: object) -> Raw | None:
    return cast("Raw", value) if isinstance(value, dict) else None


def _no_key(key: str) -> Refusal:
    return Refusal([say(Message("desk.refused.no_key", {"key": key[:80]}))])


def _frozen(value: object) -> object:
    """Lists as tuples, all the way down: a frozen model holds nothing that changes."""
    if isinstance(value, dict):
        return {key: _frozen(one) for key, one in cast("Raw", value).items()}
    if isinstance(value, list):
        return tuple(_frozen(one) for one in cast("list[object]", value))
    return value
