"""What the page of flows shows: figures, hours, paths, what is missing or assumed."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from limen.desk.flow_words import (
    Row,
    count,
    heat,
    money,
    percent,
    rows_of,
    said_instead,
    said_later,
    saved_rows,
)
from limen.desk.flows import HOLD, REACH, TILT, Flows, Saving
from limen.findings import Lack, Message
from limen.quantity import Quantity, Show
from limen.web.flows_picture import NARROW, WIDE, Hour, drawn, hours_of
from limen.words import said_assumed, say, say_length, say_unit

if TYPE_CHECKING:
    from limen.model.doorway import Doorway


@dataclass(frozen=True, slots=True)
class Path:
    """One path along the façade, in words."""

    name: str
    side: str
    far: str
    people: str
    share: str
    needless: str


@dataclass(frozen=True, slots=True)
class HourRow:
    """One hour in words."""

    hour: str
    through: str
    needless: str
    open: str


@dataclass(frozen=True, slots=True)
class Shown:
    """Everything that the page shows of a doorway.

    Attributes:
        big: the figures that stand first, each with what it is.
        wide, narrow: the picture of the hours; empty where there is none.
        says: the same in a sentence.
        hours: the same as a table.
        paths: where people only pass.
        rows: all figures.
        lacking, money: what is missing, and its key.
        assumed: what was taken though nobody stated it.
        place, file: of the weather.
    """

    big: tuple[tuple[str, str], ...]
    wide: str
    narrow: str
    says: str
    hours: tuple[HourRow, ...]
    paths: tuple[Path, ...]
    rows: tuple[Row, ...]
    lacking: tuple[tuple[str, str], ...]
    money: tuple[tuple[str, str], ...]
    assumed: tuple[str, ...]
    place: str
    file: str


@dataclass(frozen=True, slots=True)
class Saved:
    """What a change would save, in words."""

    what: str
    rows: tuple[Row, ...]
    later: tuple[str, ...]


def shown_of(found: Flows, system: Show) -> Shown:
    """The page's view of a doorway's flows."""
    hours = hours_of(found)
    year = found.doorway.air.year
    return Shown(
        big=tuple(_big(found)),
        wide=drawn(hours, WIDE) if hours else "",
        narrow=drawn(hours, NARROW) if hours else "",
        says=_says(found, hours) if hours else "",
        hours=tuple(_hour(one) for one in hours if one.top > 0),
        paths=tuple(_paths(found, system)),
        rows=tuple(rows_of(found)),
        lacking=_told([*found.path_lacks, *found.lacks]),
        money=_told(found.money_lacks),
        assumed=tuple(dict.fromkeys(say(said_assumed(one)) for one in found.assumed)),
        place=year.place if year else "",
        file=year.name if year else "",
    )


def saved_of(saving: Saving, system: Show) -> Saved:
    """What a change would save, in words."""
    what = said_instead(saving.instead, system)
    return Saved(what, tuple(saved_rows(saving)), tuple(said_later(saving)))


def settings_of(door: "Doorway") -> list[tuple[str, str]]:
    """What can be asked about at a doorway, each with its name."""
    named = [(HOLD, say(Message("flows_shown.change.hold_open")))]
    for fitting in door.fitting:
        if fitting.unit is None or fitting.unit.motion is None:
            continue
        said = {"fitting": say_unit(fitting.id)}
        named += [
            (f"{fitting.id}.{key}", say(Message(f"flows_shown.change.{key}", said)))
            for key in (REACH, TILT)
        ]
    return named


def _big(found: Flows) -> list[tuple[str, str]]:
    """The figures that matter most, unknown ones said to be so."""
    unknown = say(Message("flows_shown.unknown_big"))
    needless = count(found.needless) if found.needless is not None else unknown
    made = [(needless, _named("needless_big"))]
    share = next((r.value for r in rows_of(found) if r.name == _row("open_share")), "")
    made.append((share or unknown, _named("open_big")))
    let_out = heat(found.costs[0].let_out) if found.costs else unknown
    made.append((let_out, _named("heat_big")))
    paid = [one for one in found.costs if one.money is not None]
    if paid and paid[0].money is not None:
        made.append((money(paid[0].money, paid[0].currency), _named("money_big")))
    return made


def _named(key: str) -> str:
    return say(Message(f"flows_shown.{key}"))


def _row(key: str) -> str:
    return say(Message(f"flows_shown.row.{key}"))


def _says(found: Flows, hours: Sequence[Hour]) -> str:
    busiest = max(hours, key=lambda one: one.through)
    told: list[str] = []
    if found.through is not None:
        values = {"hour": str(busiest.hour), "count": f"{busiest.through:.0f}"}
        told.append(say(Message("flows_shown.hours.says", values)))
    if found.needless is not None:
        many = {"count": count(found.needless)}
        told.append(say(Message("flows_shown.hours.says_idle", many)))
    return " ".join(told)


def _hour(one: Hour) -> HourRow:
    span = Quantity((one.least + one.most) / 2, (one.most - one.least) / 2)
    share = "–" if one.open_share is None else percent(*one.open_share)
    hour = say(Message("flows_shown.hours.row", {"hour": str(one.hour)}))
    return HourRow(hour, f"{one.through:.0f}", count(span), share)


def _paths(found: Flows, system: Show) -> list[Path]:
    return [
        Path(
            path.passing.name,
            say(Message(f"side.{path.passing.side}")),
            say_length(path.passing.distance.value, system),
            f"{path.flow.a_day:.0f}",
            percent(path.least, path.most),
            count(path.a_day),
        )
        for path in found.paths or ()
    ]


def _told(lacks: Sequence[Lack]) -> tuple[tuple[str, str], ...]:
    return tuple(dict.fromkeys((say(one.message), one.key) for one in lacks))
