"""What the desk's own records, visits, reports and texts say of a site's doors."""

import json
import tomllib
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import Any, cast

from limen.desk.due_records import source_of, witness_of
from limen.desk.library import Desk
from limen.desk.merging import MISSING, Change, changed
from limen.desk.visits import folded
from limen.findings import Message
from limen.keep.folding import Said
from limen.keep.touching import Way
from limen.keep.witnessed import Witness, turned_in_text
from limen.store.database import Stored, Version
from limen.store.database.keeping import KeepingRow, events_at
from limen.store.database.witnesses import (
    Sealed,
    sealed_at,
    sealed_text,
    unsealed_at,
)
from limen.words import has

REPORTED, UNDONE = "reported", "undone"
OFF = frozenset({"called_off", "report_settled"})
"""Kinds of event by which a report, or a defect, is laid down without a check."""
KEPT_CHANGED = ("kept", "changed")
_TEXT = "text"

Table = Mapping[str, Any]
Told = dict[str, list[Witness]]


@dataclass(frozen=True, slots=True)
class _Checked:
    """The newest whole check of a doorway, and the record that says so."""

    at: datetime
    record: Table


def witnesses(desk: Desk, stored: Stored) -> Told:
    """By doorway what is said of it beside the site's text.

    Args:
        desk: the desk.
        stored: the site.
    """
    told: Told = {}
    said = _standing(events_at(desk.library, stored.id))
    off = {one.about for one in said if one.kind in OFF}
    checked = _sealed(desk, stored.id, off, told)
    _unsealed(desk, stored.id, off, told)
    for one in said:
        if one.kind == REPORTED and not {one.id, one.about} & off:
            told.setdefault(one.doorway, []).append(_reported(one))
    for doorway, last in checked.items():
        told[doorway].extend(_of_text(desk, stored, doorway, last))
    return told


# Records and visits --------------------------------------------------------------


def _sealed(
    desk: Desk, site: str, off: Collection[str], told: Told
) -> dict[str, _Checked]:
    """What records say; by doorway the newest whole check.

    The last come first.  What came in before the moment of a check happened before
    it: a device that claims a time yet to come is not believed in this.
    """
    checked: dict[str, _Checked] = {}
    for one in sealed_at(desk.library, site):
        last = checked.get(one.doorway)
        if last is not None and datetime.fromisoformat(one.kept) < last.at:
            continue
        record = json.loads(sealed_text(desk.library, one.digest))["record"]
        witness = _witness(record, one, off)
        told.setdefault(one.doorway, []).append(witness)
        for each in witness.said:
            newer = last is None or (each.at and each.at > last.at)
            if each.what == "checked" and each.at and newer:
                checked[one.doorway] = _Checked(each.at, record)
    return checked


def _witness(record: Table, one: Sealed, off: Collection[str]) -> Witness:
    try:
        told = witness_of(record, source_of(one.number, one.digest), off=off)
        return _named(told, one.digest)
    except (KeyError, TypeError, ValueError, AttributeError):
        return Witness()  # of another kind, or of a form that is yet to come


def _unsealed(desk: Desk, site: str, off: Collection[str], told: Told) -> None:
    source = Message("due.source.visit")
    for doorway, visit in unsealed_at(desk.library, site):
        table: Table = {"visit": folded(desk, site, visit).json, "tests": []}
        one = witness_of(table, source, sealed=False, off=off)
        told.setdefault(doorway, []).append(_named(one, visit))


def _named(one: Witness, of: str) -> Witness:
    """What is said, with what names the record or the visit that says it."""
    return replace(one, said=tuple(replace(each, of=of) for each in one.said))


# Reports -------------------------------------------------------------------------


def _standing(rows: Iterable[KeepingRow]) -> list[KeepingRow]:
    """What was said between visits and was not taken back."""
    every = list(rows)
    gone = {_said(one).get("event") for one in every if one.kind == UNDONE}
    return [one for one in every if one.id not in gone]


def _said(one: KeepingRow) -> Table:
    """What an event says; whoever wrote it may have said it in a form of its own."""
    with suppress(ValueError, TypeError, AttributeError):
        whole = cast("Table", json.loads(one.text))
        inner = cast("Table", whole.get("said", {}))
        return {**whole, **inner}
    return {}


def _reported(one: KeepingRow) -> Witness:
    said = _said(one)
    at = _moment(said.get("at")) or _moment(one.came)
    day = at.date() if at else date.min
    words = _words(said)
    source = Message("due.source.report")
    return Witness((Said("fault", day, source, at, words, one.about),))


def _words(said: Table) -> str | Message:
    """What was reported: in somebody's own words, else the symptom that was chosen."""
    text, symptom = said.get(_TEXT), said.get("symptom")
    if said.get("struck") is True:
        return Message("due.said.struck")
    if isinstance(text, str) and text:
        return text
    key = f"trace.answer.does.{symptom}"
    return Message(key) if has(key) else ""


def _moment(text: object) -> datetime | None:
    try:
        at = datetime.fromisoformat(str(text))
    except ValueError:
        return None
    return at if at.tzinfo else None


# Texts ---------------------------------------------------------------------------


def _of_text(
    desk: Desk, stored: Stored, doorway: str, last: _Checked
) -> Iterator[Witness]:
    """A value of the door that reads otherwise than when it was checked."""
    files = set(last.record.get("files", {}).values())
    if stored.digest in files:
        return
    after = _after(desk.library.history(stored.id), files)
    if not after:
        return
    base = desk.library.text(stored.id, after[0].number)
    visit = last.record.get("visit")
    if not _turned(base, stored.text, doorway, visit):
        return
    for one in after[1:]:
        if _turned(base, desk.library.text(stored.id, one.number), doorway, visit):
            source = Message("due.source.text", {"number": one.number})
            at = datetime.fromisoformat(one.changed)
            told = Said("changed", at.date(), source, at, of=str(one.number))
            yield Witness((told,))
            return


def _after(history: Iterable[Version], files: Collection[str]) -> list[Version]:
    """The version that was checked, and those after it, the oldest first."""
    found: list[Version] = []
    for one in history:
        found.append(one)
        if one.digest in files:
            return found[::-1]
    return []


def _turned(
    before: str, after: str, doorway: str, visit: Table | None
) -> Sequence[Way]:
    """Ways of a doorway with other values; none where the text itself says when.

    A value that was not there before is something that was found out, not changed.
    """
    try:
        own = [
            one
            for one in changed(before, after)
            if one.key[:2] == ("doorway", f"[{doorway}]")
        ]
    except tomllib.TOMLDecodeError:
        return ()
    if any(one.key[2:] == KEPT_CHANGED for one in own):
        return ()
    return turned_in_text((one.key[2:] for one in own if _both(one)), visit)


def _both(one: Change) -> bool:
    return MISSING not in (one.was, one.mine) and len(one.key) > len(KEPT_CHANGED)
