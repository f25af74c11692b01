"""What a record, or a visit that is not sealed yet, says of checks, changes, faults."""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from limen.findings import Message
from limen.keep.folding import Doubt, Said
from limen.keep.touching import BESIDES, DONE, UNIT, Way, meets

Table = Mapping[str, Any]
FULL = frozenset({"yearly", "acceptance"})
"""Visits that are full checks; those after a repair test what was repaired."""
LEFT_WITH = frozenset({"in use with defects", "out of use"})
BAD = "touched"
_TOLD = frozenset({"step", "handed_over"})
_RESULTS = frozenset({"mechanics", "power_loss", "impact"})
"""Tables that say what a check found, not what the door is."""


@dataclass(frozen=True, slots=True)
class Witness:
    """What one record or visit says.

    Attributes:
        said: checks, changes, faults.
        doubts: a full check that was begun and is not shown to be whole.
    """

    said: tuple[Said, ...] = ()
    doubts: tuple[Doubt, ...] = ()


def witnessed(
    visit: Table | None,
    tests: Sequence[Table],
    source: Message,
    *,
    sealed: bool = True,
    off: Collection[str] = (),
) -> Witness:
    """What a visit, folded as records hold it, says of a door.

    A full check is one for which somebody came, whose every test that may not be
    skipped has an answer, after which the door was handed over, and in whose tests
    and hand-over no two devices contradict each other.  It is of the moment of the
    hand-over, as the device claims it.

    Args:
        visit: as `folded_json` makes it; None if nobody was there.
        tests: the tests of the record, with those that may not be skipped.
        source: what it is called.
        sealed: whether it was sealed; what was not is no check, yet tells of faults.
        off: ids of defects that were called off since.

    Raises:
        KeyError, TypeError, ValueError: it is no folded visit.
    """
    if visit is None:
        return Witness()
    begun, handed = (_last(visit, one) for one in ("started", "handed_over"))
    told = (*_changes(visit, source), *_faults(visit, tests, source, off))
    budget = begun["said"]["budget"] if begun else ""
    why = _lacks(visit, tests, handed) if sealed else "unsealed"
    if handed is not None and not why:
        what = "checked" if budget in FULL else "tested"
        at = _moment(handed)
        return Witness((Said(what, at.date(), source, at), *told))
    ends = handed or begun
    if ends is None or budget not in FULL:
        return Witness(told)
    day = _moment(ends).date()
    values = {"source": source, "day": day.isoformat()}
    doubt = Doubt(day, Message(f"due.doubt.{why}", values), against=sealed)
    return Witness(told, (doubt,))


def turned_in_text(ways: Iterable[Way], visit: Table | None) -> tuple[Way, ...]:
    """Which ways of a doorway, said otherwise than before, make a check due.

    Args:
        ways: values that stood in the text and read otherwise now.
        visit: the visit before; what it speaks of itself is no change since.
    """
    spoken = {str(one["said"].get("key", "")) for one in _readings(visit)}
    return tuple(
        way
        for way in ways
        if way[0] not in _RESULTS
        and not way[-1].endswith("_runs")
        and way[:1] + way[2:3] != ("fitting", "read")
        and any(meets(way, pattern) for pattern, _ in BESIDES)
        and _key(way) not in spoken
    )


def _key(way: Way) -> str:
    return ".".join(part.strip("[]") for part in way)


def _readings(visit: Table | None) -> Iterator[Table]:
    if visit is not None:
        for section in ("as_found", "readings"):
            yield from visit.get(section, ())


def _counting(visit: Table, section: str) -> list[Table]:
    every: Sequence[Table] = visit.get(section, ())
    return [one for one in every if one.get("counts", True)]


def _last(visit: Table, section: str) -> Table | None:
    return next(reversed(_counting(visit, section)), None)


def _moment(one: Table) -> datetime:
    return datetime.fromisoformat(str(one["at"]))


def _lacks(visit: Table, tests: Sequence[Table], handed: Table | None) -> str:
    """Why a check is not a whole one; empty if it is."""
    if any(one["about"] in _TOLD for one in visit.get("conflicts", ())):
        return "conflict"
    least = {str(one["id"]) for one in tests if one.get("minimum")}
    answered = {str(one["said"]["step"]) for one in _counting(visit, "tests")}
    if handed is None:
        return "not_handed"
    return "" if least and least <= answered else "unanswered"


def _changes(visit: Table, source: Message) -> Iterator[Said]:
    """The last work that changed the door, and the last setting that was turned."""
    done = [one for one in _counting(visit, "work") if _changing(one["said"]["step"])]
    found = {
        one["said"]["key"]: one["said"]["value"]
        for one in _counting(visit, "as_found")
        if "key" in one["said"]
    }
    turned = [
        one
        for one in _counting(visit, "readings")
        if ".settings." in str(one["said"].get("key", ""))
        and found.get(one["said"]["key"]) != one["said"]["value"]
    ]
    last = max((*done, *turned), key=_moment, default=None)
    if last is not None:
        at = _moment(last)
        yield Said("changed", at.date(), source, at)


def _changing(step: str) -> bool:
    """Whether work changes the door; of work that is not known it is taken to."""
    return bool(DONE.get(step, (UNIT,)))


def _faults(
    visit: Table, tests: Sequence[Table], source: Message, off: Collection[str]
) -> Iterator[Said]:
    """Defects with which the door was left, or a test that ended badly.

    Where devices contradict each other in how it was left, each of them is heard.
    """
    over = _last(visit, "handed_over")
    heard: Sequence[Table] = [over] if over else visit.get("handed_over", ())
    states = {one["said"]["state"] for one in heard}
    defects = _counting(visit, "defects")
    open_ = [one for one in defects if one["id"] not in off]
    left = bool(states & LEFT_WITH) and bool(
        open_ or not defects or "out of use" in states
    )
    bad = _ended_badly(visit, tests)
    ends = max((*heard, *bad), key=_moment, default=None)
    if ends is not None and (left or bad):
        at = _moment(ends)
        text = "; ".join(str(one["said"]["text"]) for one in open_)
        yield Said("fault", at.date(), source, at, text)


def _ended_badly(visit: Table, tests: Sequence[Table]) -> list[Table]:
    """Tests that may not be skipped and in which the leaf touched at the end."""
    least = {str(one["id"]) for one in tests if one.get("minimum")}
    return [
        one
        for one in _counting(visit, "tests")
        if one["said"]["answer"] == BAD and (not least or one["said"]["step"] in least)
    ]
