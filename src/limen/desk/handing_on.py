"""A call-out put together for whoever is asked next: page, print and plain text."""

from collections.abc import Iterator, Mapping
from datetime import datetime
from pathlib import Path
from typing import Any, cast

from limen.desk.callouts import LookedAt
from limen.desk.fact_words import said_change, said_key, said_value
from limen.desk.library import Desk, Opened, read_stored
from limen.desk.refusal import refusing
from limen.desk.tracing import TracedCall, ruled_out
from limen.exchange.handed_on import plain_text
from limen.quantity import Show
from limen.words import apart, named, unbroken
from limen.words.handed_on import HandedOn, Part, handed_on, title_of
from limen.words.tracing import said, said_sun, said_time

Table = Mapping[str, Any]
TOLD = (
    *("clear_width", "clear_height", "width", "height", "kind", "modes"),
    *("mode_switch", "reduced_width", "presence_ignored_below", "commissioned"),
)
"""Facts of a doorway by themselves that whoever is asked next wants first."""
PARTS = ("leaves", "operator", "motion", "power_loss")
"""Tables of it, likewise."""
OF_UNIT = ("sheet", "side", "height", "out", "along")
APART = " · "
MOST_CHANGES = 20


def told_of(call: TracedCall) -> HandedOn:
    """All that is known of a call-out that came in a file, or at the terminal."""
    table, traced = call.table or {}, call.traced
    return HandedOn(
        site=call.site,
        doorway=call.name,
        happened=tuple(_happened(call)),
        door=tuple(_door(table)),
        settings=tuple(_settings(table)),
        answers=call.answers,
        ranked=traced.ranked,
        out=() if traced.struck else ruled_out(call),
        findings=call.study.findings if call.study else (),
        struck=traced.struck,
    )


def told_of_call_out(
    desk: Desk, opened: Opened, looked: LookedAt, system: Show
) -> HandedOn:
    """All that is known of a call-out of the desk's, its last record among it.

    Args:
        desk: the desk.
        opened: the site.
        looked: the call-out, weighed.
        system: in which units values are repeated.
    """
    from dataclasses import replace

    call, since = looked.out.call, looked.since
    began = said_time(datetime.fromisoformat(looked.out.began))
    key = "told.began_by" if call.person else "told.began"
    values = {"when": began, **({"person": call.person} if call.person else {})}
    changes: tuple[str, ...] = ()
    record = said("told.no_record")
    if since is not None:
        changes = tuple(
            named(said_key(one.key), said_change(one, system))
            for one in (since.settings or ())[:MOST_CHANGES]
        )
        number, day = str(since.record.number), since.record.kept[:10]
        record = said("told.last_record", number=number, day=day)
    table = _table(read_stored(desk, opened.stored)[1], looked.out.doorway)
    return replace(
        told_of(looked.traced),
        site=opened.site.name,
        door=tuple(_door(table)),
        settings=tuple(_settings(table)),
        began=(said(key, **values),),
        changes=changes,
        record=record,
        cause=call.cause or "",
    )


def parts_of(told: HandedOn) -> tuple[str, tuple[Part, ...]]:
    """Its title and its parts, in the reader's language."""
    return title_of(told), handed_on(told)


def text_of(told: HandedOn) -> str:
    """The same as plain text."""
    title, parts = parts_of(told)
    return plain_text(title, parts, caution=said("caution"))


def write_text(told: HandedOn, path: Path) -> Path:
    """The same as a file; one that is there stays as it is.

    Raises:
        Refusal: there is such a file, or it cannot be written.
    """
    with refusing(), path.open("x", encoding="utf-8") as file:
        file.write(text_of(told))
    return path


def _happened(call: TracedCall) -> Iterator[str]:
    at, sun = call.called.at, call.sun
    if sun is not None:
        yield said_sun(sun.at, sun.height, sun.aside, low=sun.low)
    elif at is not None:
        yield said("told.at", when=said_time(at))


# The doorway as its file has it --------------------------------------------------


def _table(raw: Table, doorway: str) -> Table:
    doors = cast("list[Table]", raw.get("doorway", []))
    return next(one for one in doors if one.get("id") == doorway)


def _door(table: Table) -> Iterator[str]:
    way = ("doorway", f"[{table.get('id', '')}]")
    line = _line(table, way, TOLD)
    if line:
        yield line
    for name in PARTS:
        within = table.get(name)
        if isinstance(within, dict):
            line = _line(cast("Table", within), (*way, name))
            if line:
                yield named(_last((*way, name)), line)
    for one in _fittings(table):
        line = _line(one, _fitting(way, one), OF_UNIT)
        if line:
            yield named(_last(_fitting(way, one)), line)


def _settings(table: Table) -> Iterator[str]:
    way = ("doorway", f"[{table.get('id', '')}]")
    for one in _fittings(table):
        within = one.get("settings")
        if isinstance(within, dict) and within:
            line = _line(cast("Table", within), (*_fitting(way, one), "settings"))
            if line:
                yield named(_last(_fitting(way, one)), line)


def _fittings(table: Table) -> list[Table]:
    return cast("list[Table]", table.get("fitting", []))


def _fitting(way: tuple[str, ...], one: Table) -> tuple[str, ...]:
    return (*way, "fitting", f"[{one.get('id', '')}]")


def _line(
    table: Table, way: tuple[str, ...], names: tuple[str, ...] | None = None
) -> str:
    """What stands by itself in a table: names and values as they were typed."""
    some = names if names is not None else tuple(table)
    said_so = (
        f"{_last((*way, name))} {said_value(table[name], (*way, name))}"
        for name in some
        if name in table and _plain(table[name])
    )
    return unbroken(apart(said_so))


def _plain(value: object) -> bool:
    """Whether it is no table, and no list of tables."""
    if isinstance(value, list):
        items = cast("list[object]", value)
        return not any(isinstance(one, dict) for one in items)
    return not isinstance(value, dict)


def _last(key: tuple[str, ...]) -> str:
    return said_key(key).split(APART)[-1]
