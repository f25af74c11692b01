"""All facts of a doorway, part by part, as its text states them."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any, Protocol, cast

from limen.desk.library import Desk, Opened, read_stored
from limen.desk.library_edits import doorway_in
from limen.desk.sheets import sheets
from limen.desk.weather import weathers
from limen.model.doorway import Doorway
from limen.model.site import Site
from limen.quantity import Dimension, Quantity, QuantityError, parse
from limen.store.describing import Told, told, told_at

if TYPE_CHECKING:
    from limen.model.fields import Stated
    from limen.model.fitting import Fitting

__all__ = [
    "SITE_KEYS",
    "Data",
    "Fact",
    "Part",
    "Told",
    "Way",
    "as_texts",
    "every_fact",
    "facts_of",
    "key_of",
    "site_facts_of",
    "told_of",
    "way_of",
]

Way = tuple[str | int, ...]
"""Keys within a doorway, places in lists counted from 0."""
Data = dict[str, Any]

MODES = ("modes", "reduced_width", "mode_switch", "presence_ignored_below")
ORDER = (
    "leaves",
    "header",
    "reveal",
    "floor",
    "motion",
    "modes",
    "operator",
    "fitting",
    "use",
    "approach",
    "traffic",
    "air",
    "side_space",
    "thing",
    "facing",
    "beside",
    "spaces",
    "exposure",
    "marking",
    "power_loss",
    "mechanics",
    "impact",
    "document",
)
"""Parts in the order in which one walks through a door's papers."""
OF_SITE = ("kept", "faults")
"""Tables of a site that are set as facts: who sees to its doors, who is told."""
SITE_KEYS = tuple(
    f"{table}.{one.name}"
    for table in OF_SITE
    for one in told(cast("type[Stated]", cast("Told", told_at(Site, (table,))).table))
)
"""All facts of a site that are set so, as forms call them."""
_NAMES = ("id", "name", "side", "doorway", "output", "title", "instrument")


@dataclass(frozen=True, slots=True)
class Fact:
    """One fact, as the text states it.

    Attributes:
        way: the way to it within the doorway.
        told: what the model knows of it.
        values: what is written, as texts; empty where nothing is.
        stated: whether anything is written.
        offered: what may be typed, where that can be listed.
    """

    way: Way
    told: Told
    values: tuple[str, ...] = ()
    stated: bool = False
    offered: tuple[str, ...] = ()

    @property
    def key(self) -> str:
        """Its name in forms: ``fitting.0.lens.height``."""
        return key_of(self.way)

    @property
    def quantity(self) -> tuple[Quantity, Dimension] | None:
        """What is written, if it is one quantity."""
        dimension = self.told.dimension
        if self.told.kind != "quantity" or dimension is None or not self.stated:
            return None
        try:
            return parse(self.values[0], dimension), dimension
        except QuantityError:
            return None


@dataclass(frozen=True, slots=True)
class Part:
    """Facts that stand together.

    Attributes:
        way: the way to them within the doorway; of a list, the way to the list.
        model: the model whose facts they are, or "" of the doorway itself.
        name: what tells it apart in its list; empty if it stands in none.
        facts: its facts.
        parts: what stands within it, lists among them.
        listed: whether it is a list; its parts are its items.
        stated: whether anything of it is written.
        gone: whether it can be taken out as a whole.
        blank: of a list, the facts of one that is to be added.
    """

    way: Way
    model: str
    name: str = ""
    facts: tuple[Fact, ...] = ()
    parts: tuple["Part", ...] = ()
    listed: bool = False
    stated: bool = True
    gone: bool = False
    blank: tuple[Fact, ...] = ()

    @property
    def key(self) -> str:
        """Its name in forms."""
        return key_of(self.way)


def facts_of(desk: Desk, opened: Opened, doorway_id: str) -> tuple[Part, ...]:
    """All facts of a doorway that is written in full, part by part.

    Raises:
        Refusal: there is no such doorway, or it is written in the short form.
    """
    raw = read_stored(desk, opened.stored)[1]
    _, door = doorway_in(raw, doorway_id)
    offers = _Offers(desk, opened, opened.doorway(doorway_id))
    return tuple(_parts(door, offers))


def site_facts_of(desk: Desk, opened: Opened) -> tuple[Part, ...]:
    """The facts of a site that stand for all of its doorways, table by table."""
    raw = read_stored(desk, opened.stored)[1]
    fields = {one.name: one for one in told(Site)}
    offers = _Named(opened.site)
    return tuple(
        _part((name,), fields[name], raw.get(name), offers) for name in OF_SITE
    )


def key_of(way: Way) -> str:
    """A way as forms write it."""
    return ".".join(str(part) for part in way)


def way_of(key: str) -> Way:
    """A way as forms write it, taken apart."""
    parts = key.split(".")
    return tuple(int(one) if one.isascii() and one.isdigit() else one for one in parts)


def told_of(key: str) -> Told | None:
    """What the model knows of the fact that forms call so; None if it is none."""
    told_there = told_at(Doorway, way_of(key))
    return told_there if told_there and told_there.table is None else None


def every_fact(parts: Sequence[Part]) -> Iterator[Fact]:
    """All facts of parts, and of what stands within them."""
    for part in parts:
        yield from part.facts
        yield from every_fact(part.parts)


def as_texts(value: object) -> tuple[str, ...]:
    """A value of TOML as it is typed into a form."""
    if isinstance(value, list):
        return tuple(
            one for each in cast("list[object]", value) for one in as_texts(each)
        )
    if isinstance(value, bool):
        return ("true" if value else "false",)
    if isinstance(value, date):
        return (value.isoformat(),)
    return (str(value),)


# Walking the model ---------------------------------------------------------------


def _parts(door: Data, offers: "_Offered") -> Iterator[Part]:
    fields = {one.name: one for one in told(Doorway)}
    plain = [one for one in fields.values() if one.table is None]
    first = [one for one in plain if one.name not in MODES]
    yield Part((), "Doorway", facts=_facts((), first, door, offers))
    for name in dict.fromkeys((*ORDER, *fields)):
        if name == "modes":
            modes = [fields[key] for key in MODES]
            yield Part(("modes",), "Modes", facts=_facts((), modes, door, offers))
        elif name in fields and fields[name].table is not None:
            yield _part((name,), fields[name], door.get(name), offers)


def _part(way: Way, field: Told, value: object, offers: "_Offered") -> Part:
    model = cast("type[Stated]", field.table)
    if field.kind == "tables":
        items = cast("list[Data]", value) if isinstance(value, list) else []
        listed = tuple(
            _table((*way, number), model, item, offers, gone=True)
            for number, item in enumerate(items)
        )
        new = (*way, len(items))
        blank = _facts(new, _plain(model), {}, offers)
        return Part(
            way,
            model.__name__,
            parts=listed,
            listed=True,
            stated=bool(items),
            blank=blank,
        )
    table = cast("Data", value) if isinstance(value, dict) else None
    return _table(
        way, model, table, offers, gone=table is not None and not field.needed
    )


def _table(
    way: Way,
    model: "type[Stated]",
    value: Data | None,
    offers: "_Offered",
    *,
    gone: bool,
) -> Part:
    held = value or {}
    inner = tuple(
        _part((*way, one.name), one, held.get(one.name), offers)
        for one in told(model)
        if one.table is not None
    )
    name = next((str(held[key]) for key in _NAMES if key in held), "")
    facts = _facts(way, _plain(model), held, offers)
    in_list = isinstance(way[-1], int)
    return Part(
        way,
        model.__name__,
        name if in_list else "",
        facts,
        inner,
        stated=value is not None,
        gone=gone,
    )


def _plain(model: "type[Stated]") -> list[Told]:
    return [one for one in told(model) if one.table is None]


def _facts(
    way: Way, fields: Sequence[Told], held: Mapping[str, object], offers: "_Offered"
) -> tuple[Fact, ...]:
    return tuple(
        Fact(
            (*way, one.name),
            one,
            as_texts(held[one.name]) if one.name in held else (),
            one.name in held,
            offers.of((*way, one.name)),
        )
        for one in fields
    )


# What may be typed ---------------------------------------------------------------


class _Offered(Protocol):
    """What may be typed, where that can be listed."""

    def of(self, way: Way) -> tuple[str, ...]:
        """What may be typed at a way; empty where that cannot be listed."""
        ...


@dataclass(frozen=True, slots=True)
class _Named:
    """Names that doorways of a site have already, so that all write them alike."""

    site: Site

    def of(self, way: Way) -> tuple[str, ...]:
        """What may be typed at a way; empty where that cannot be listed."""
        if way[0] != "kept" or way[-1] not in ("by", "route"):
            return ()
        doors = (getattr(one.kept, str(way[-1])) for one in self.site.doorway)
        return tuple(sorted({one for one in doors if one}))


@dataclass(frozen=True, slots=True)
class _Offers:
    """Names that a doorway and its sheets know, where a fact is one of them."""

    desk: Desk
    opened: Opened
    door: Doorway

    def of(self, way: Way) -> tuple[str, ...]:
        """What may be typed at a way; empty where that cannot be listed."""
        match way:
            case (*_, "sheet"):
                return self._sheets()
            case ("air", "weather"):
                return weathers(self.desk)
            case ("fitting", int(place), *_, last):
                units = self.door.fitting
                return self._unit(units[place], last) if place < len(units) else ()
            case ("facing" | "beside", _, "doorway"):
                return tuple(sorted(self.opened.site.ids() - {self.door.id}))
            case ("document", _, "fitting"):
                return tuple(one.id for one in self.door.fitting)
            case _:
                return ()

    def _sheets(self) -> tuple[str, ...]:
        own = {one.stem for one in self.desk.sheets.glob("*.toml")}
        return tuple(sorted(own | {one.name for one in sheets()}))

    def _unit(self, fitting: "Fitting", last: str | int) -> tuple[str, ...]:
        sheet = fitting.unit
        if last == "to":
            return tuple(one.name for one in self.door.operator.inputs)
        if sheet is None:
            return ()
        if last == "fan" and sheet.presence is not None:
            return tuple(getattr(sheet.presence.fan, "choices", ()))
        if last == "array" and sheet.motion is not None:
            return tuple(getattr(sheet.motion, "arrays", ()) or ())
        return sheet.steadiness if last == "steadiness" else ()
