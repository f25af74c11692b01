"""What is not as it was when a door's last record was sealed."""

import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, cast

from limen.desk.library import Desk, Opened, study_of
from limen.desk.merging import Change, changed
from limen.desk.visits import Folded, record_of_bytes
from limen.exchange.recorded import recorded
from limen.findings import Verdict
from limen.keep.differing import ReadAgain
from limen.store.database.records import KeptRecord, records_at

if TYPE_CHECKING:
    from limen.model.doorway import Doorway

Key = tuple[str, str, str]
"""A finding's question, fitting and case."""
Row = Mapping[str, Any]

_WORST = (Verdict.FAILS, Verdict.NOT_SHOWN, Verdict.HOLDS, Verdict.NOT_ASKED)
_RANK = {one.value: place for place, one in enumerate(_WORST)}


@dataclass(frozen=True, slots=True)
class Turned:
    """A question that is answered otherwise than in the record.

    Attributes:
        question, fitting, case: which; empty where it has none.
        was, now: the verdicts; empty where it was or is not asked at all.
        reopened: whether it held and does no longer.
        must: whether it is, or was, among what must hold.
    """

    question: str
    fitting: str
    case: str
    was: str
    now: str
    reopened: bool
    must: bool


@dataclass(frozen=True, slots=True)
class Since:
    """What is not as it was.

    Attributes:
        record: the record that it is compared with.
        settings: keys of this doorway's text with other values; None if the text of
            that day is not kept here.
        findings: questions with another verdict, what was reopened first.
        readings: what was found otherwise than it was left, by more than its ±.
    """

    record: KeptRecord
    settings: tuple[Change, ...] | None
    findings: tuple[Turned, ...]
    readings: tuple[ReadAgain, ...]


def record_before(desk: Desk, visit: Folded) -> KeptRecord | None:
    """The last record of the doorway that is not of this visit, nor came after its own.

    Args:
        desk: the desk.
        visit: the visit.
    """
    own = visit.record
    for one in records_at(desk.library, visit.site, visit.doorway):
        if one.visit != visit.visit and (own is None or one.number < own.number):
            return one
    return None


def since(
    desk: Desk, opened: Opened, doorway: str, record: KeptRecord, visit: Folded | None
) -> Since:
    """What is not as it was when a record was sealed.

    Args:
        desk: the desk.
        opened: the site as it is kept now.
        doorway: which doorway of it.
        record: what it is compared with.
        visit: what was read since; None if nobody was there since.

    Raises:
        Refusal: there is no such doorway any more, or nothing settles its edition.
    """
    said = record_of_bytes(record.sealed)
    now, _ = recorded(study_of(desk, opened, doorway), site=opened.site.name)
    rows = cast("list[Row]", now["findings"])
    return Since(
        record,
        _settings(desk, opened, doorway, said),
        turned(said["study"]["findings"], rows),
        read_again(said.get("visit"), visit, opened.doorway(doorway)),
    )


def turned(was: Iterable[Row], now: Iterable[Row]) -> tuple[Turned, ...]:
    """Questions that two studies answer with different verdicts.

    Args:
        was: findings as a record carries them.
        now: the same of another study.

    Returns:
        Those that were reopened first, musts before the others, the worst first.
    """
    before, after = _by_key(was), _by_key(now)
    keys = dict.fromkeys((*before, *after))
    found = (_turned(key, before.get(key), after.get(key)) for key in keys)
    return tuple(sorted((one for one in found if one), key=_standing))


def read_again(
    before: Row | None, visit: Folded | None, door: "Doorway"
) -> tuple[ReadAgain, ...]:
    """What was found otherwise than it was left, by more than both readings' ±.

    Args:
        before: the visit that left it, as JSON; None if there was none.
        visit: the one that found it; None if there is none.
        door: the doorway, for its width.
    """
    from limen.desk.changes_readings import again, left_in, things_in

    if before is None or visit is None:
        return ()
    found = things_in(visit.json, "as_found", door)
    read = again(left_in(before, door), found)
    return tuple(one for one in read if one.moved)


# Settings ------------------------------------------------------------------------


def _settings(
    desk: Desk, opened: Opened, doorway: str, said: Row
) -> tuple[Change, ...] | None:
    files = set(said.get("files", {}).values())
    stored = opened.stored
    for version in desk.library.history(stored.id):
        if version.digest in files:
            text = desk.library.text(stored.id, version.number)
            return _of_door(text, stored.text, doorway)
    return None


def _of_door(before: str, after: str, doorway: str) -> tuple[Change, ...] | None:
    try:
        every = changed(before, after)
    except tomllib.TOMLDecodeError:
        return None
    own = ("doorway", f"[{doorway}]")
    return tuple(one for one in every if one.key[:2] == own or one.key[0] != "doorway")


# Findings ------------------------------------------------------------------------


def _by_key(rows: Iterable[Row]) -> dict[Key, Row]:
    return {
        (row["question"], case.get("fitting") or "", case.get("case") or ""): row
        for row in rows
        for case in row["cases"]
    }


def _turned(key: Key, was: Row | None, now: Row | None) -> Turned | None:
    before, after = (one["verdict"] if one else "" for one in (was, now))
    if before == after:
        return None
    held = before == Verdict.HOLDS.value
    opened = after in {Verdict.FAILS.value, Verdict.NOT_SHOWN.value}
    must = any(one["weight"] == "must" for one in (was, now) if one)
    return Turned(*key, before, after, held and opened, must)


def _standing(one: Turned) -> tuple[bool, bool, int, str, str, str]:
    rank = _RANK.get(one.now, len(_RANK))
    return not one.reopened, not one.must, rank, one.question, one.fitting, one.case
