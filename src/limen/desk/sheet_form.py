"""A sensor sheet as the fields of a form, and the fields as a sheet's text."""

import re
from collections.abc import Iterator, Mapping
from itertools import pairwise
from typing import Any, cast

from limen.desk.sheet_fields import LISTS, PARTS, SENSES, Field, Rows, fields_of
from limen.store.faults import Fault

Raw = dict[str, Any]
Flat = Mapping[str, str]
"""What each field holds, as typed; nothing of those that the manual leaves out."""

SEPARATOR = ", "
_WIDTH_ONLY = ("presence.fan.at_height", "presence.fan.measured_to")


def flat_of(raw: Raw) -> dict[str, str]:
    """The fields of a sheet.

    Args:
        raw: the sheet as TOML gives it.
    """
    flat = {f"has.{sense}": "yes" for sense in SENSES if sense in raw}
    counts = {key: len(_at(raw, key) or ()) for key in LISTS}
    listed = _listed(raw)
    for part in PARTS:
        for key, _ in fields_of(part, counts):
            value = _at(listed, key)
            if value is not None:
                flat[key] = _typed(value)
    return flat


def raw_of(flat: Flat) -> Raw:
    """The sheet that fields describe, as TOML would give it.

    What is typed where a number belongs and is none stays as it is, for the reader
    of sheets to refuse.
    """
    raw: Raw = {}
    for part in PARTS:
        if part.optional and not flat.get(f"has.{part.key}"):
            continue
        if part.optional:
            raw[part.key] = {}
        for key, field in fields_of(part, counts_in(flat)):
            if flat.get(key) and not _beside(key, flat):
                _put(raw, key.split("."), _value(field, flat[key]))
    return _unlisted(raw)


def counts_in(flat: Flat) -> dict[str, int]:
    """How many each list holds: as far as anything was typed, and no more than may."""
    return {
        key: min(max(_places(flat, key), default=0), rows.most)
        for key, rows in LISTS.items()
    }


def shown_counts(flat: Flat) -> dict[str, int]:
    """How many of each list a form shows: what is there, and what was asked for."""
    return {
        key: min(max(counts_in(flat)[key], rows.least, _asked(flat, key)), rows.most)
        for key, rows in LISTS.items()
    }


def faults_by_field(faults: tuple[Fault, ...], flat: Flat) -> dict[str, Fault]:
    """Each fault at the field it is about; at an empty key if there is none."""
    found: dict[str, Fault] = {}
    known = {_said(key, flat): key for key in _every_key(flat)}
    for fault in faults:
        found.setdefault(_nearest(fault.key, known), fault)
    return found


def beyond(flat: Flat) -> tuple[str, ...]:
    """Fields in places that no list has."""
    return tuple(
        name
        for name, typed in flat.items()
        for key, rows in LISTS.items()
        if (found := re.match(rf"{re.escape(key)}\.([0-9]+)\.", name))
        and typed
        and not 1 <= int(found[1][:6]) <= rows.most
    )


def named_twice(flat: Flat) -> dict[str, str]:
    """Names that stand twice in one list, by the field of the second."""
    found: dict[str, str] = {}
    for key, rows in LISTS.items():
        seen: set[str] = set()
        for number in range(1, rows.most + 1) if rows.named else ():
            name = flat.get(f"{key}.{number}.name", "")
            if name and name in seen:
                found[f"{key}.{number}.name"] = name
            seen.add(name)
    return found


def _nearest(said: str, known: Mapping[str, str]) -> str:
    """The field of a fault, or the first of what it lies in."""
    if said in known:
        return known[said]
    inside = (key for name, key in known.items() if name.startswith(f"{said}."))
    return next(inside, "")


def _every_key(flat: Flat) -> Iterator[str]:
    counts = shown_counts(flat)
    for part in PARTS:
        for key, _ in fields_of(part, counts):
            yield key


def _said(key: str, flat: Flat) -> str:
    """A field as faults name it: places in brackets, named things by their name."""
    for rows in LISTS.values():
        found = re.fullmatch(rf"{re.escape(rows.key)}\.(\d+)\.(\w+)", key)
        if found is None:
            continue
        if not rows.named:
            return f"{rows.key}[{found[1]}].{found[2]}"
        name = flat.get(f"{rows.key}.{found[1]}.name", "")
        tail = "" if found[2] == "value" else f".{found[2]}"
        return f"{rows.key}.{name}{tail}"
    return key


# From TOML -------------------------------------------------------------------------


def _listed(raw: Raw) -> Raw:
    """Tables that go by names as lists, so that each has a place."""
    made = cast("Raw", _copied(raw))
    for key, rows in LISTS.items():
        table = _at(made, key)
        if rows.named and isinstance(table, dict):
            items = [
                {"name": name, **(one if isinstance(one, dict) else {"value": one})}
                for name, one in cast("Raw", table).items()
            ]
            _put(made, key.split("."), items)
    return made


def _copied(value: object) -> object:
    if isinstance(value, dict):
        return {key: _copied(one) for key, one in cast("Raw", value).items()}
    if isinstance(value, list):
        return [_copied(one) for one in cast("list[object]", value)]
    return value


def _at(raw: object, key: str) -> Any:  # noqa: ANN401 - TOML
    """What stands at a key; places in lists are counted from 1."""
    found: Any = raw
    for part in key.split("."):
        if isinstance(found, list) and part.isdigit():
            items = cast("list[Any]", found)
            found = items[int(part) - 1] if int(part) <= len(items) else None
        elif isinstance(found, dict):
            found = cast("Raw", found).get(part)
        else:
            return None
    return found


def _typed(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list):
        return SEPARATOR.join(str(one) for one in cast("list[object]", value))
    return str(value)


# To TOML ---------------------------------------------------------------------------


def _beside(key: str, flat: Flat) -> bool:
    """Whether a field means nothing with the form of fan that was chosen."""
    form = flat.get("presence.fan.form")
    if key.startswith("presence.fan.choices."):
        return form == "unknown"
    return key in _WIDTH_ONLY and form in ("angles", "unknown")


def _value(field: Field, typed: str) -> object:
    match field.kind:
        case "yes_no":
            return {"yes": True, "no": False}.get(typed, typed)
        case "number":
            return int(typed) if re.fullmatch(r"[0-9]{1,9}", typed) else typed
        case "several" | "words":
            return [part.strip() for part in typed.split(",") if part.strip()]
        case "text" | "quantity" | "choice":
            return typed


def _put(raw: Raw, way: list[str], value: object) -> None:
    """Put a value at the end of its way; what has a place becomes a list."""
    place: Any = raw
    for part, after in pairwise(way):
        made: Any = [] if after.isdigit() else {}
        if isinstance(place, list):
            items = cast("list[Any]", place)
            while len(items) < int(part):
                items.append({})
            place = items[int(part) - 1]
        else:
            place = place.setdefault(part, made)
    place[way[-1]] = value


def _unlisted(raw: Raw) -> Raw:
    """What goes by names as tables again; a name that is empty stays one."""
    for key, rows in LISTS.items():
        items = _at(raw, key)
        if rows.named and isinstance(items, list):
            table: Raw = {}
            for one in cast("list[Raw]", items):
                name = str(one.pop("name", ""))
                table[name] = one.get("value", one) if _single(rows) else one
            _put(raw, key.split("."), table)
    return raw


def _single(rows: Rows) -> bool:
    return any(one.key == "value" for one in rows.fields)


def _places(flat: Flat, key: str) -> Iterator[int]:
    for name in flat:
        found = re.match(rf"{re.escape(key)}\.([0-9]{{1,6}})\.", name)
        if found and flat[name]:
            yield int(found[1])


def _asked(flat: Flat, key: str) -> int:
    typed = flat.get(f"count.{key}", "")
    return int(typed) if re.fullmatch(r"[0-9]{1,2}", typed) else 0
