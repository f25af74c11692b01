"""Facts of a doorway set, added and taken out, as somebody types them."""

import re
import tomllib
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import pairwise
from typing import TYPE_CHECKING, Any, cast

from limen.desk.facts import SITE_KEYS, Data, Way, as_texts, key_of, way_of
from limen.desk.library import Clash, Desk, Fault, FileFaults, Stored
from limen.desk.library_edits import doorway_in
from limen.desk.library_merging import save_beside
from limen.desk.refusal import Refusal
from limen.findings import Message
from limen.model.doorway import Doorway
from limen.model.site import Site
from limen.store.describing import Told, told_at
from limen.store.editing import EditError
from limen.store.editing_whole import rewrite
from limen.store.explaining import key_text
from limen.words import retold, say

if TYPE_CHECKING:
    from limen.model.fields import Stated

UNKNOWN = "?"
"""What a choice among several sends where the fact is not known."""
_PARTED = {
    "texts": re.compile(r"\n"),
    "quantities": re.compile(r"[;\n]"),
    "numbers": re.compile(r"[;,\s]"),
}
"""Where what was typed for several is parted."""
Saved = tuple[Stored, bool]
"""The site as it is kept now, and whether others had saved something else."""
Typed = Mapping[str, Sequence[str]]
"""What was typed, by key: one text, or one for each that was ticked."""


class FactFaults(Exception):  # noqa: N818 - it refuses; nothing went wrong
    """What was typed is not accepted; nothing is changed.

    Attributes:
        by_key: why, by the key under which it was typed.
        others: what is refused elsewhere in the text because of it.
    """

    def __init__(self, by_key: Mapping[str, str], others: Sequence[str] = ()) -> None:
        """Keep them."""
        self.by_key, self.others = dict(by_key), tuple(others)
        super().__init__("\n".join((*self.by_key.values(), *self.others)))


def set_facts(
    desk: Desk, site_id: str, doorway_id: str, typed: Typed, base_version: int
) -> Saved | Clash:
    """Write facts into a site's text, its comments and order kept.

    What was typed as it stands there already changes nothing; a fact whose field is
    empty is not known any more.

    Args:
        desk: the desk.
        site_id: the site.
        doorway_id: one of its doorways.
        typed: by key, what was typed.
        base_version: the version that was shown.

    Returns:
        The site as it is kept now, and whether others had saved something else in
        the meantime; a `Clash` where they changed the same.

    Raises:
        NoSuchSiteError: there is no such site or version.
        Refusal: there is no such doorway or fact.
        FactFaults: a value is not accepted, and what would be.
    """

    def changed(raw: Data) -> _Root:
        root = _door(raw, doorway_id)
        _set_all(root, typed)
        return root

    return _save(desk, site_id, base_version, changed, tuple(typed))


def set_site_facts(
    desk: Desk, site_id: str, typed: Typed, base_version: int
) -> Saved | Clash:
    """Write what stands for all doorways of a site, as `set_facts` does for one.

    Args:
        desk: the desk.
        site_id: the site.
        typed: by key, what was typed; `SITE_KEYS` alone.
        base_version: the version that was shown.

    Raises:
        NoSuchSiteError: there is no such site or version.
        Refusal: there is no such fact.
        FactFaults: a value is not accepted, and what would be.
    """

    def changed(raw: Data) -> _Root:
        root = _Root(Site, (), raw)
        if strangers := [key for key in typed if key not in SITE_KEYS]:
            said = {"key": strangers[0][:80], "accepted": ", ".join(SITE_KEYS)}
            raise Refusal([say(Message("site_facts.no_key", said))])
        _set_all(root, typed)
        return root

    return _save(desk, site_id, base_version, changed, tuple(typed))


def take_out(
    desk: Desk, site_id: str, doorway_id: str, key: str, base_version: int
) -> Saved | Clash:
    """Take a part of a doorway out of its text: a unit, a thing, a table.

    Raises:
        NoSuchSiteError: there is no such site or version.
        Refusal: there is no such doorway or part.
        FactFaults: the doorway cannot do without it.
    """

    def changed(raw: Data) -> _Root:
        root, way = _door(raw, doorway_id), way_of(key)
        above = _place(root.table, way[:-1], key)
        if isinstance(above, list):
            items = cast("list[object]", above)
            if not isinstance(way[-1], int) or way[-1] >= len(items):
                raise _no_key(key)
            del items[way[-1]]
            if not items:
                _place(root.table, way[:-2], key).pop(way[-2])
        elif above.pop(way[-1], None) is None:
            raise _no_key(key)
        return root

    return _save(desk, site_id, base_version, changed, ())


# One fact ------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Root:
    """In what facts are set.

    Attributes:
        model: what is known of them.
        way: the way to it within the site.
        table: what the text says of it.
    """

    model: "type[Stated]"
    way: Way
    table: Data


def _door(raw: Data, doorway_id: str) -> _Root:
    number, door = doorway_in(raw, doorway_id)
    return _Root(Doorway, ("doorway", number), door)


def _set_all(root: _Root, typed: Typed) -> None:
    faults: dict[str, str] = {}
    for key, texts in typed.items():
        try:
            _set(root, way_of(key), texts)
        except ValueError as error:
            faults[key] = str(error)
    if faults:
        raise FactFaults(faults)


def _set(root: _Root, way: Way, texts: Sequence[str]) -> None:
    """Set one fact, tables and places at the end of lists made on the way to it.

    Raises:
        ValueError: what was typed can be no value of this kind.
    """
    told = told_at(root.model, way)
    if told is None or told.table is not None or not isinstance(way[-1], str):
        raise _no_key(key_of(way))
    value = _value(told, texts)
    there = _there(root.table, way)
    if value is None:
        if there is not None:
            _clear(root, way)
    elif there is None or as_texts(there) != as_texts(value):
        _put(root.table, way, value)


def _value(told: Told, texts: Sequence[str]) -> object:
    """What was typed as TOML has it; None where it is not known any more."""
    if told.kind in ("choices", "texts", "quantities", "numbers"):
        return _several(told, texts)
    text = texts[0].strip() if texts else ""
    if not text:
        return None
    if told.kind == "flag" and text in ("true", "false"):
        return text == "true"
    if told.kind == "date":
        return _day(text)
    if told.kind == "number":
        return _whole(text)
    return text


def _several(told: Told, texts: Sequence[str]) -> object:
    if UNKNOWN in texts:
        return None
    parted = _PARTED.get(told.kind)
    split = parted.split("\n".join(texts)) if parted else texts
    found = [one.strip() for one in split if one.strip()]
    if not found and (told.default is None and not told.unknown):
        return None
    return [_whole(one) for one in found] if told.kind == "numbers" else found


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise ValueError(
            say(Message("facts.refused.date", {"found": text[:40]}))
        ) from None


def _whole(text: str) -> int:
    if text.isascii() and text.lstrip("-").isdigit():
        return int(text)
    raise ValueError(say(Message("facts.refused.number", {"found": text[:40]})))


def _there(door: Data, way: Way) -> object:
    place: Any = door
    for part in way:
        try:
            place = place[part]
        except (KeyError, IndexError, TypeError):
            return None
    return place


def _put(door: Data, way: Way, value: object) -> None:
    place: Any = door
    for part, following in pairwise(way):
        if isinstance(part, int):
            if part == len(place):
                place.append({})
            elif part > len(place):
                raise _no_key(key_of(way))
            place = place[part]
        else:
            place = place.setdefault(part, [] if isinstance(following, int) else {})
    place[way[-1]] = value


def _clear(root: _Root, way: Way) -> None:
    """Take a fact out, and the table that it leaves empty, unless it is needed."""
    *above, last = way
    whole = root.table
    table = cast("Data", _there(whole, tuple(above)) if above else whole)
    del table[str(last)]
    named = told_at(root.model, way[:-1])
    if not table and named and named.kind == "table" and not named.needed:
        _clear(root, way[:-1])


def _place(door: Data, way: Way, key: str) -> Any:  # noqa: ANN401 - of TOML
    place = _there(door, way) if way else door
    if not isinstance(place, dict | list):
        raise _no_key(key)
    return cast("Any", place)


# The text ------------------------------------------------------------------------


def _save(
    desk: Desk,
    site_id: str,
    base_version: int,
    change: Callable[[Data], _Root],
    keys: Sequence[str],
) -> Saved | Clash:
    base = desk.library.text(site_id, base_version)
    wanted = tomllib.loads(base)
    root = change(wanted)
    try:
        text = rewrite(base, wanted)
    except EditError as error:
        raise Refusal([say(Message("facts.refused.text")), str(error)]) from error
    if text == base:
        return desk.library.read(site_id), False
    try:
        return save_beside(desk, site_id, text, base_version)
    except FileFaults as faults:
        raise _by_key(faults, wanted, root.way, keys) from faults


def _by_key(
    faults: FileFaults, wanted: Data, above: Way, keys: Sequence[str]
) -> FactFaults:
    """Each fault at the field in which it was typed."""
    named = {
        key_text((*above, *way_of(key)[:length]), wanted): key
        for key in keys
        for length in range(len(way_of(key)) + 1, len(way_of(key)) - 1, -1)
    }
    by_key: dict[str, str] = {}
    others: list[str] = []
    for one in faults.faults:
        key = next((k for place, k in named.items() if _within(one.key, place)), None)
        said = _told(one, at_its_field=key is not None)
        if key is None:
            others.append(said)
        else:
            by_key.setdefault(key, said)
    return FactFaults(by_key, others)


def _told(fault: Fault, *, at_its_field: bool) -> str:
    """A fault in one paragraph: why, and what is accepted."""
    why = retold(fault.why)
    alone = f"{why[:1].upper()}{why[1:]}."
    said = alone if at_its_field or not fault.key else f"{fault.key}: {why}."
    example = fault.example
    if at_its_field:
        example = example.rpartition(" = ")[2].strip('"[]')
    missing = at_its_field and not fault.found
    accepted = "" if missing and example else retold(fault.accepted)
    rest = [
        say(Message(f"desk.fault.{name}", {"what": text}))
        for name, text in (("accepted", accepted), ("example", example))
        if text
    ]
    return " ".join((said, *rest))


def _within(place: str, named: str) -> bool:
    """Whether a fault is told of this key, or of a place in its list."""
    return place == named or place.startswith(f"{named}[")


def _no_key(key: str) -> Refusal:
    return Refusal([say(Message("desk.refused.no_key", {"key": key[:80]}))])
