"""Variants of a doorway: its settings kept under a name, compared, taken.

A variant is a text of settings by key.  What is compared is the doorway as it is kept
now with these settings in place, so that like is held against like; what the settings
do not name stays as it is now.
"""

import json
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, cast

from limen.desk.library import (
    Clash,
    Desk,
    Opened,
    Stored,
    preview,
    read_stored,
    save_edits,
    study_of,
)
from limen.desk.library_edits import doorway_in
from limen.desk.refusal import Refusal
from limen.findings import Message, Study
from limen.store.database.variants import (
    KeptVariant,
    NoSuchVariantError,
    keep_variant,
    put_variant_away,
    variant_of,
    variants_of,
)
from limen.words import say

__all__ = [
    "NOW",
    "SETTINGS",
    "KeptVariant",
    "Setting",
    "Side",
    "differing",
    "keep",
    "put_away",
    "side",
    "take",
    "values_of",
    "variants",
]

SETTINGS = (
    "read.first_row",
    "settings.tilt",
    "settings.roll",
    "settings.yaw",
    "settings.fan",
    "settings.rows_on",
    "settings.channel",
    "settings.hold",
    "settings.radar_tilt",
    "settings.radar_yaw",
    "settings.reach",
    "lens.along",
    "lens.from_leaf",
    "lens.height",
)
"""What a variant keeps of each unit: all that the doorway page turns and chooses."""
LONGEST_NAME = 100
NOW = "now"
"""In place of a variant's id: the doorway as it is kept."""

Values = Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Setting:
    """A setting that differs.

    Attributes:
        key: which.
        left, right: its values as a site file takes them; empty where it has none.
    """

    key: str
    left: str
    right: str


@dataclass(frozen=True, slots=True)
class Side:
    """One of two that are compared.

    Attributes:
        id: the variant; `NOW` for the doorway as it is kept.
        name: what people call it; empty for the doorway as it is kept.
        study: its findings.
        values: its settings by key.
        gone: keys that lead nowhere any more: their unit was taken out.
    """

    id: str
    name: str
    study: Study
    values: Values
    gone: tuple[str, ...] = ()


def variants(desk: Desk, site_id: str, doorway_id: str) -> tuple[KeptVariant, ...]:
    """Every variant of a doorway, those put away among them."""
    return variants_of(desk.library, site_id, doorway_id)


def keep(desk: Desk, opened: Opened, doorway_id: str, name: str) -> KeptVariant:
    """Keep a doorway's present settings under a name.

    Args:
        desk: the desk.
        opened: the site.
        doorway_id: one of its doorways.
        name: what it is to be called; a name is made where this is empty.

    Raises:
        Refusal: there is no such doorway, it is written in the short form, or this can
            be no name.
    """
    wanted = " ".join(name.split())
    if len(wanted) > LONGEST_NAME or not wanted.isprintable():
        raise Refusal([say(Message("desk_variants.refused.name"))])
    taken = {one.name for one in variants(desk, opened.stored.id, doorway_id)}
    text = _text(_present(desk, opened, doorway_id))
    return keep_variant(
        desk.library, opened.stored.id, doorway_id, _free(wanted, taken), text
    )


def put_away(
    desk: Desk, site_id: str, doorway_id: str, variant_id: str, *, away: bool
) -> KeptVariant:
    """Put a variant away, or take it out again.

    Raises:
        Refusal: there is no such variant.
    """
    found = _variant(desk, site_id, doorway_id, variant_id)
    put_variant_away(desk.library, variant_id, away=away)
    return found


def side(desk: Desk, opened: Opened, doorway_id: str, variant_id: str) -> Side:
    """A variant with its findings, or the doorway as it is kept.

    Args:
        desk: the desk.
        opened: the site.
        doorway_id: one of its doorways.
        variant_id: the variant, or `NOW`.

    Raises:
        Refusal: there is no such doorway or variant.
        FileFaults: a value is not accepted any more, and why.
    """
    present = _present(desk, opened, doorway_id)
    if variant_id == NOW:
        return Side(NOW, "", study_of(desk, opened, doorway_id), present)
    kept = _variant(desk, opened.stored.id, doorway_id, variant_id)
    wanted = values_of(kept)
    gone = tuple(key for key in wanted if not _leads(key, opened, doorway_id))
    values = {**present, **{k: v for k, v in wanted.items() if k not in gone}}
    edits = {k: v for k, v in values.items() if present.get(k) != v}
    if not edits:
        found = study_of(desk, opened, doorway_id)
    else:
        found = preview(desk, opened.stored.id, doorway_id, edits).study
    return Side(kept.id, kept.name, found, values, gone)


def differing(left: Side, right: Side) -> tuple[Setting, ...]:
    """The settings that two sides have apart, in the order of the doorway page."""
    keys = dict.fromkeys((*left.values, *right.values))
    both = (Setting(k, left.values.get(k, ""), right.values.get(k, "")) for k in keys)
    return tuple(one for one in both if one.left != one.right)


def take(
    desk: Desk, opened: Opened, doorway_id: str, variant_id: str, base_version: int
) -> Stored | Clash:
    """Set what a variant has set: one change of the text, which can be undone.

    Args:
        desk: the desk.
        opened: the site.
        doorway_id: one of its doorways.
        variant_id: the variant.
        base_version: the version that was seen.

    Raises:
        Refusal: there is no such variant, or nothing in it differs.
        FileFaults: a value is not accepted any more; nothing is saved.
    """
    wanted = side(desk, opened, doorway_id, variant_id).values
    present = _present(desk, opened, doorway_id)
    edits = {key: one for key, one in wanted.items() if present.get(key) != one}
    if not edits:
        raise Refusal([say(Message("desk_variants.refused.same"))])
    return save_edits(desk, opened.stored.id, doorway_id, edits, base_version)


def values_of(kept: KeptVariant) -> dict[str, str]:
    """The settings of a variant by key."""
    return cast("dict[str, str]", tomllib.loads(kept.text))


def _variant(desk: Desk, site_id: str, door: str, variant_id: str) -> KeptVariant:
    try:
        return variant_of(desk.library, site_id, door, variant_id)
    except NoSuchVariantError:
        raise Refusal([say(Message("desk_variants.refused.none"))]) from None


def _present(desk: Desk, opened: Opened, doorway_id: str) -> dict[str, str]:
    """The settings of a doorway as its text has them."""
    opened.doorway(doorway_id)
    _, door = doorway_in(read_stored(desk, opened.stored)[1], doorway_id)
    found: dict[str, str] = {}
    for fitting in cast("list[dict[str, Any]]", door.get("fitting", [])):
        for setting in SETTINGS:
            part, _, name = setting.partition(".")
            value = fitting.get(part, {}).get(name)
            if value is not None:
                found[f"fitting[{fitting['id']}].{setting}"] = _as_text(value)
    return found


def _as_text(value: object) -> str:
    if isinstance(value, list):
        return " ".join(str(one) for one in cast("list[object]", value))
    return str(value)


def _text(values: Values) -> str:
    """Settings as TOML; JSON's quotes are TOML's too."""
    lines = (f"{json.dumps(k)} = {json.dumps(v)}\n" for k, v in values.items())
    return "".join(lines)


def _leads(key: str, opened: Opened, doorway_id: str) -> bool:
    fitting = key.partition("].")[0].removeprefix("fitting[")
    return fitting in {one.id for one in opened.doorway(doorway_id).fitting}


def _free(name: str, taken: set[str]) -> str:
    """The name, or one with a number where it is taken or empty."""
    number = 1
    wanted = name or say(Message("desk_variants.unnamed", {"number": number}))
    while wanted in taken:
        number += 1
        made = say(Message("desk_variants.unnamed", {"number": number}))
        wanted = f"{name} {number}" if name else made
    return wanted
