"""What the readings have shown: where units hang, what is wrong, what to turn."""

from collections.abc import Iterator
from dataclasses import replace
from math import isnan
from typing import Any

from limen.exchange import tally
from limen.findings import Lack, Message, Study, Verdict
from limen.findings.fitted import (
    DoorwayFitted,
    ReadBack,
    UnitFitted,
    Way,
)
from limen.findings.message import Measure, length
from limen.quantity import Show
from limen.web.readings_looked import Looked
from limen.web.sites_shown import counts_of
from limen.words import said_assumed, say, say_question, say_unit, unbroken
from limen.words.fitted import SHOWN, said_along, said_hangs, said_row

MOST_CHANGED = 8
Value = str | int | Measure | Message


def result_of(looked: Looked, system: Show) -> dict[str, Any]:
    """What the panel beside the form shows.

    Args:
        looked: what the form comes to.
        system: the reader's units.
    """
    units = [
        _unit(one, f"u{unit}", names, system)
        for one, unit, names in zip(
            looked.units, looked.sent.units, looked.sent.names, strict=False
        )
    ]
    shown: dict[str, Any] = {
        "fitted": units,
        "bar": [(one["slug"], one["title"], one["word"]) for one in units],
        "turnings": [],
        "also": [],
        "studied": False,
        "later": False,
        "writes": any(one.outcome == "fitted" for one in looked.units),
        "complete": looked.complete,
    }
    if looked.fitted is None:
        return shown | {"later": shown["writes"]}
    return shown | _studied(looked.fitted, system)


def _studied(fitted: DoorwayFitted, system: Show) -> dict[str, Any]:
    """What the study of the door, as it really hangs, adds."""
    return {
        "turnings": [_said(one.said, system) for one in fitted.turnings],
        "also": [_said(one, system) for one in fitted.also],
        "studied": fitted.after is not None,
        "writes": bool(fitted.changes),
        **_studies(fitted),
    }


def _unit(
    unit: UnitFitted, at: str, names: tuple[str, ...], system: Show
) -> dict[str, Any]:
    titled = Message("readings_page.unit.title", {"unit": say_unit(unit.fitting)})
    slug = unit.outcome.replace(" ", "_")
    sure = unit.outcome == "fitted" and unit.pose is not None
    return {
        "slug": slug,
        "title": say(titled),
        "word": say(Message(f"readings_page.result.outcome.{slug}")),
        "because": _said(_renumbered(unit.because, names), system),
        "rows": [_said(said_row(one), system) for one in unit.rows] if sure else [],
        "hangs": [_said(one, system) for one in said_hangs(unit.pose)]
        if sure and unit.pose
        else [],
        "misread": [
            _misread(one, at, names, system) for one in unit.readings if one.named
        ],
        "ways": [_way(one, at, names, system) for one in unit.ways],
        "lacks": [_lack(one, at, names, system) for one in unit.lacking],
        "readings": [_back(one, at, names, unit, system) for one in unit.readings],
        "assumed": [
            unbroken(say(said_assumed(one), system=system)) for one in unit.assumed
        ],
    }


# One reading ---------------------------------------------------------------------


def _name(number: int, names: tuple[str, ...]) -> str:
    """What the form calls a reading that stands at this place in the file."""
    return names[number - 1] if number <= len(names) else f"{number}"


def _renumbered(message: Message, names: tuple[str, ...]) -> Message:
    """The same with readings called as in the form, not as in the file."""
    values = {key: _called(key, value, names) for key, value in message.values.items()}
    return replace(message, values=values)


def _called(key: str, value: Value, names: tuple[str, ...]) -> Value:
    if isinstance(value, Message):
        return _renumbered(value, names)
    if key == "number" and isinstance(value, int):
        return _name(value, names)
    if key == "numbers" and isinstance(value, str):
        parts = (part.strip() for part in value.split(","))
        return ", ".join(_name(int(p), names) if p.isdigit() else p for p in parts)
    return value


def _misread(
    one: ReadBack, at: str, names: tuple[str, ...], system: Show
) -> dict[str, Any]:
    name = _name(one.number, names)
    kind = Message(f"readings_page.named.{one.kind}")
    said = {"name": name, "kind": kind, "off": _off(one, system)}
    return {
        "name": name,
        "at": f"{at}.r{name}",
        "field": _first_field(one, f"{at}.r{name}"),
        "said": say(Message("readings_page.result.misread", said)),
    }


def _first_field(one: ReadBack, at: str) -> str:
    """The field of a reading's figure that is most in doubt."""
    along = one.out is None or abs(one.off[0]) > abs(one.off[1])
    return f"{at}.{'place' if along else 'out'}"


def _kind(one: ReadBack) -> Message:
    return Message(f"readings_page.kind.{one.kind}")


def _off(one: ReadBack, system: Show) -> str:
    """How far a reading lies from what is expected, in words."""
    along, out = one.off
    told: list[str] = []
    if abs(along) >= SHOWN:
        way = Message(f"readings_page.result.way.{'right' if along > 0 else 'left'}")
        said = {"far": length(abs(along)), "way": way}
        told.append(_said(Message("readings_page.result.off_along", said), system))
    if abs(out) >= SHOWN:
        way = Message(f"readings_page.result.way.{'far' if out > 0 else 'near'}")
        said = {"far": length(abs(out)), "way": way}
        told.append(_said(Message("readings_page.result.off_out", said), system))
    return ", ".join(told) or say(Message("readings_page.result.as_expected"))


def _back(
    one: ReadBack, at: str, names: tuple[str, ...], unit: UnitFitted, system: Show
) -> dict[str, Any]:
    name = _name(one.number, names)
    off = _off(one, system) if unit.pose else ""
    if one.struck:
        off = ", ".join(
            filter(None, (say(Message("readings_page.result.left_out")), off))
        )
    out = None if one.out is None or isnan(one.out) else length(one.out)
    place = said_along(one.along)
    read = (
        _said(place, system)
        if out is None
        else _said(Message("readings.cli.off", {"along": place, "out": out}), system)
    )
    return {
        "name": name,
        "kind": say(_kind(one)),
        "read": read,
        "off": off,
        "struck": one.struck,
        "named": one.named,
        "at": f"{at}.r{name}",
    }


def _way(way: Way, at: str, names: tuple[str, ...], system: Show) -> dict[str, Any]:
    """One way to understand the readings, and the fields that would say so."""
    fill: dict[str, str] = {}
    for number, row, spot in way.numbers:
        start = f"{at}.r{_name(number, names)}"
        fill |= {f"{start}.row": f"{row}"} if row is not None else {}
        fill |= {f"{start}.spot": f"{spot}"} if spot is not None else {}
    return {"said": _said(_renumbered(way.said, names), system), "fill": fill}


def _lack(lack: Lack, at: str, names: tuple[str, ...], system: Show) -> dict[str, Any]:
    message = _renumbered(lack.message, names)
    return {"said": _said(message, system), "field": _wanted(lack.key, at, names)}


ASKED = {
    "line.left": "r1.out",
    "line.right": "r2.out",
    "end.left": "r3.place",
    "end.right": "r4.place",
    "spot.middle": "r5.out",
}
"""Which field of the form asks for each of the readings worth taking."""


def _wanted(key: str, at: str, names: tuple[str, ...]) -> str:
    """The field in which something that is lacking is typed."""
    what = key.partition("].")[2]
    if what.startswith("lens."):
        return f"{at}.{what}"
    if what.startswith("reading."):
        return f"{at}.{ASKED.get(what.removeprefix('reading.'), 'r1.out')}"
    number, _, part = what.removeprefix("reading[").partition("]")
    name = _name(int(number), names) if number.isdigit() else "1"
    return f"{at}.r{name}.{part.removeprefix('.') or 'place'}"


# The door before and after -------------------------------------------------------


def _studies(fitted: DoorwayFitted) -> dict[str, Any]:
    after = fitted.after or fitted.before
    return {
        "before": counts_of(tally(fitted.before.findings)),
        "after": counts_of(tally(after.findings)),
        "changed": list(_changed(fitted.before, after))[:MOST_CHANGED],
    }


def _changed(before: Study, after: Study) -> Iterator[tuple[Verdict, str]]:
    """Questions whose answer is another one now, worst first."""
    was = {one.key: one.verdict for one in before.findings}
    order = (Verdict.FAILS, Verdict.NOT_SHOWN, Verdict.HOLDS)
    keys = {
        Verdict.FAILS: "fails",
        Verdict.NOT_SHOWN: "unshown",
        Verdict.HOLDS: "holds",
    }
    for verdict in order:
        told = dict[str, int]()
        for one in after.of(verdict):
            if was.get(one.key, verdict) != verdict:
                told[one.question] = told.get(one.question, 0) + 1
        for question in told:
            what = {"what": say_question(question)}
            yield (
                verdict,
                say(Message(f"readings_page.result.now_{keys[verdict]}", what)),
            )


def _said(message: Message, system: Show) -> str:
    return unbroken(say(message, system=system))
