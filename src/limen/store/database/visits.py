"""Events of visits: kept once each, in whatever order and however often they come."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from hashlib import sha256
from typing import Any, Literal

from sqlalchemy import (
    ColumnElement,
    Connection,
    Row,
    Select,
    func,
    insert,
    select,
)
from sqlalchemy.dialects.sqlite import insert as insert_once

from limen.store.database.connecting import writing
from limen.store.database.library import Library
from limen.store.database.tables import VISIT_EVENT, VISIT_REFUSED

Why = Literal["number", "id", "visit"]
_Met = Why | Literal["same"] | None


@dataclass(frozen=True, slots=True)
class ToKeep:
    """An event that is to be kept.

    Attributes:
        id: its id.
        device, seq: which phone tapped it, and its number there.
        visit, site, doorway: to what it belongs.
        kind: what it is.
        text: all of it, as canonical JSON.
    """

    id: str
    device: str
    seq: int
    visit: str
    site: str
    doorway: str
    kind: str
    text: str


@dataclass(frozen=True, slots=True)
class KeptEvent:
    """An event as it is kept.

    Attributes:
        number: its place in the order in which events came in.
        text: all of it, as canonical JSON.
        came: when it was kept, ISO 8601.
    """

    number: int
    text: str
    came: str


@dataclass(frozen=True, slots=True)
class RefusedEvent:
    """An event that came under a number, an id or a visit of others.

    Attributes:
        why: whether the number or the id was taken, or its visit is of another door.
        text: all of it, as canonical JSON.
        came: when it came first, ISO 8601.
    """

    why: Why
    text: str
    came: str


@dataclass(frozen=True, slots=True)
class Clash:
    """An event that was not taken into its visit.

    Attributes:
        seq: its number on its device.
        why: what of it was taken already.
    """

    seq: int
    why: Why


@dataclass(frozen=True, slots=True)
class TakenIn:
    """What became of a batch.

    Attributes:
        new: how many events are kept that were not before.
        again: how many were kept already, the same to the letter.
        clashes: those that were refused, each kept beside its visit.
    """

    new: int
    again: int
    clashes: tuple[Clash, ...] = ()


@dataclass(frozen=True, slots=True)
class VisitKept:
    """A visit of which there are events.

    Attributes:
        visit: its id.
        doorway: at which doorway.
        first, last: numbers of the first and the last event that came in.
    """

    visit: str
    doorway: str
    first: int
    last: int


def keep_events(library: Library, batch: Sequence[ToKeep]) -> TakenIn:
    """Keep events, each once; what is said is on the disk.

    The same event again changes nothing.  One under a number or an id of another, or
    under a visit of another doorway, stays out and is kept beside, to be shown.

    Args:
        library: where; the sites of the events are in it.
        batch: the events.

    Raises:
        NotKeptError: the disk takes nothing; nothing of the batch is kept.
    """
    came = library.clock().isoformat(timespec="seconds")
    with writing(library.engine).begin() as connection:
        told: list[_Met] = [_keep(connection, one, came) for one in batch]
    clashes = tuple(
        Clash(one.seq, why)
        for one, why in zip(batch, told, strict=True)
        if why is not None and why != "same"
    )
    return TakenIn(told.count(None), told.count("same"), clashes)


def _keep(connection: Connection, one: ToKeep, came: str) -> _Met:
    found = _met(connection, one)
    if found is None:
        values = {**_values(one), "id": one.id, "kind": one.kind, "came": came}
        connection.execute(insert(VISIT_EVENT).values(values))
    elif found != "same":
        _keep_refused(connection, one, found, came)
    return found


def _met(connection: Connection, one: ToKeep) -> _Met:
    """What of an event is taken already."""
    numbered = (VISIT_EVENT.c.device == one.device) & (VISIT_EVENT.c.seq == one.seq)
    text = connection.scalar(select(VISIT_EVENT.c.text).where(numbered))
    if text is not None:
        return "same" if text == one.text else "number"
    named = VISIT_EVENT.c.id == one.id
    if connection.scalar(select(VISIT_EVENT.c.number).where(named)) is not None:
        return "id"
    columns = (VISIT_EVENT.c.site, VISIT_EVENT.c.doorway)
    rows = select(*columns).where(VISIT_EVENT.c.visit == one.visit).limit(1)
    place = connection.execute(rows).one_or_none()
    return None if place is None or tuple(place) == (one.site, one.doorway) else "visit"


def _keep_refused(connection: Connection, one: ToKeep, why: Why, came: str) -> None:
    digest = sha256(one.text.encode()).hexdigest()
    values = {**_values(one), "digest": digest, "why": why, "came": came}
    row = insert_once(VISIT_REFUSED).values(values)
    connection.execute(row.on_conflict_do_nothing())


def _values(one: ToKeep) -> dict[str, object]:
    return {
        "device": one.device,
        "seq": one.seq,
        "visit": one.visit,
        "site": one.site,
        "doorway": one.doorway,
        "text": one.text,
    }


def keep_own(library: Library, device: str, make: Callable[[int], ToKeep]) -> ToKeep:
    """Keep an event that is made here, under the next number of its device.

    Args:
        library: where.
        device: under which it is kept.
        make: the event, with this number.

    Raises:
        NotKeptError: the disk does not take it.
    """
    came = library.clock().isoformat(timespec="seconds")
    last = select(func.max(VISIT_EVENT.c.seq)).where(VISIT_EVENT.c.device == device)
    with writing(library.engine).begin() as connection:
        made = make((connection.scalar(last) or 0) + 1)
        _keep(connection, made, came)
    return made


def seqs_of(library: Library, device: str) -> tuple[int, ...]:
    """The numbers of all events that are kept of a device, upwards."""
    rows = select(VISIT_EVENT.c.seq).where(VISIT_EVENT.c.device == device)
    with library.engine.connect() as connection:
        return tuple(connection.scalars(rows.order_by(VISIT_EVENT.c.seq)))


def id_under(library: Library, device: str, seq: int) -> str | None:
    """The id of a device's event of this number, if it is kept."""
    there = (VISIT_EVENT.c.device == device) & (VISIT_EVENT.c.seq == seq)
    with library.engine.connect() as connection:
        return connection.scalar(select(VISIT_EVENT.c.id).where(there))


def events_of(library: Library, site: str, visit: str) -> tuple[KeptEvent, ...]:
    """The events of a visit in the order in which they came in."""
    there = (VISIT_EVENT.c.visit == visit) & (VISIT_EVENT.c.site == site)
    return _kept(library, there)


def events_at(library: Library, site: str, doorway: str) -> tuple[KeptEvent, ...]:
    """The events of all visits of a doorway in the order in which they came in."""
    there = (VISIT_EVENT.c.site == site) & (VISIT_EVENT.c.doorway == doorway)
    return _kept(library, there)


def refused_of(library: Library, site: str, visit: str) -> tuple[RefusedEvent, ...]:
    """What was refused of a visit, in the order in which it came."""
    there = (VISIT_REFUSED.c.visit == visit) & (VISIT_REFUSED.c.site == site)
    columns = (VISIT_REFUSED.c.why, VISIT_REFUSED.c.text, VISIT_REFUSED.c.came)
    order = (VISIT_REFUSED.c.came, VISIT_REFUSED.c.seq, VISIT_REFUSED.c.digest)
    rows = select(*columns).where(there).order_by(*order)
    return tuple(RefusedEvent(*row) for row in _all(library, rows))


def visits_at(
    library: Library, site: str, doorway: str | None = None
) -> tuple[VisitKept, ...]:
    """The visits of a doorway, or of a whole site, the last that came in first."""
    there = VISIT_EVENT.c.site == site
    if doorway is not None:
        there &= VISIT_EVENT.c.doorway == doorway
    number = VISIT_EVENT.c.number
    last = func.max(number)
    rows = (
        select(VISIT_EVENT.c.visit, VISIT_EVENT.c.doorway, func.min(number), last)
        .where(there)
        .group_by(VISIT_EVENT.c.visit, VISIT_EVENT.c.doorway)
        .order_by(last.desc())
    )
    return tuple(VisitKept(*row) for row in _all(library, rows))


def visits_with_defects(
    library: Library, site: str | None = None, doorway: str | None = None
) -> tuple[tuple[str, str], ...]:
    """Site and id of each visit that may have left its door with a defect.

    Of those a defect came in, and a hand-over in another state than in use; what they
    come to is not looked at.

    Args:
        library: where.
        site: only of this site.
        doorway: only of this doorway of it.
    """
    column = VISIT_EVENT.c
    # As it is kept: canonical JSON, without a space.
    in_use = column.text.contains('"state":"in use"', autoescape=True)
    left = select(column.visit).where(column.kind == "handed_over", ~in_use)
    there = (column.kind == "defect") & column.visit.in_(left)
    if site is not None:
        there &= column.site == site
    if doorway is not None:
        there &= column.doorway == doorway
    columns = (column.site, column.visit)
    first = func.min(column.number)
    rows = select(*columns).where(there).group_by(*columns).order_by(first)
    return tuple((row.site, row.visit) for row in _all(library, rows))


def _kept(library: Library, there: ColumnElement[bool]) -> tuple[KeptEvent, ...]:
    columns = (VISIT_EVENT.c.number, VISIT_EVENT.c.text, VISIT_EVENT.c.came)
    rows = select(*columns).where(there).order_by(VISIT_EVENT.c.number)
    return tuple(KeptEvent(*row) for row in _all(library, rows))


def _all(library: Library, rows: Select[*tuple[Any, ...]]) -> Iterable[Row[Any]]:
    with library.engine.connect() as connection:
        return connection.execute(rows).all()
