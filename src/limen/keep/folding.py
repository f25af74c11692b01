"""When a door was last checked, and what befell it since, from all that say so.

The site file says it, sealed records say it, people report it.  The newest that is
known counts.  Where two contradict each other, both are said, and nothing is called in
time on the word of one of them.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Literal

from limen.findings import Message
from limen.model.keeping import Kept

What = Literal["checked", "tested", "changed", "fault"]
FILE = Message("due.source.file")
"""The site file, as a source."""


@dataclass(frozen=True, slots=True)
class Said:
    """Something that is said of a door.

    Attributes:
        what: it was checked in full; tested after a repair; changed; or at fault.
        day: on which day.
        source: who says so.
        at: when on that day; None where nobody says.
        text: what exactly, in the words of whoever said it.
        of: what names that which says so where it is kept; empty where it has no name.
    """

    what: What
    day: date
    source: Message
    at: datetime | None = None
    text: str | Message = ""
    of: str = ""

    @property
    def written(self) -> bool:
        """Whether the site file says it."""
        return self.source == FILE


@dataclass(frozen=True, slots=True)
class Doubt:
    """A check that is not shown to be a whole one.

    Attributes:
        day: on which day it was.
        because: why it does not count.
        against: whether it speaks against a check of that day; a visit that was not
            sealed only says nothing for it.
    """

    day: date
    because: Message
    against: bool = True


@dataclass(frozen=True, slots=True)
class Known:
    """What all that was said comes to.

    Attributes:
        kept: the days as the newest sources have them.
        checked: the last full check that counts; None if none does.
        pending: the last change or fault after which nobody checked.
        unsettled: a check of the same day as `pending`: which came first is not known.
        contradicted: a check that the site file names and a record does not bear out.
        beside: what is to be said beside.
        ahead: whether any of it lies ahead of the day for which it was asked.
    """

    kept: Kept
    checked: Said | None = None
    pending: Said | None = None
    unsettled: Said | None = None
    contradicted: Doubt | None = None
    beside: tuple[Message, ...] = ()
    ahead: bool = False


def folded(
    kept: Kept, on: date, said: Iterable[Said] = (), doubts: Iterable[Doubt] = ()
) -> Known:
    """What is known of a door on a day.

    A check clears the changes and faults before it; on one day only where both say
    when, or the site file says both.  A check that lies ahead, or that is not shown
    to be a whole one, clears nothing.

    Args:
        kept: what the site file says.
        on: the day for which it is asked.
        said: what records and reports say.
        doubts: checks that are not shown to be whole ones.
    """
    every, open_ = (*_written(kept), *said), tuple(doubts)
    seals = [one for one in every if one.what == "checked" and one.day <= on]
    false = _contradicted(kept, seals, open_)
    sure = [one for one in seals if not (false and one.written)]
    last = max(sure, key=_when, default=None)
    clearing = (*sure, *(one for one in every if one.what == "tested"))
    pending = _pending(every, clearing)
    unsettled = pending and next(
        (one for one in clearing if _order_unknown(one, pending)), None
    )
    day = last.day if last else None if false else kept.checked
    return Known(
        _days(kept, day, pending),
        last,
        pending,
        unsettled,
        false,
        tuple(_beside(every, last, open_, on)),
        any(one.day > on for one in (*every, *open_)),
    )


def _written(kept: Kept) -> Iterator[Said]:
    days: tuple[tuple[What, date | None], ...] = (
        ("checked", kept.checked),
        ("changed", kept.changed),
        ("fault", kept.fault),
    )
    for what, day in days:
        if day is not None:
            yield Said(what, day, FILE)


def _when(one: Said) -> tuple[date, bool, str]:
    """The later day; of one day what says when, for that can be ordered."""
    return one.day, one.at is not None, one.at.isoformat() if one.at else ""


def _contradicted(
    kept: Kept, seals: Sequence[Said], doubts: Sequence[Doubt]
) -> Doubt | None:
    """Why the check that the site file names is not borne out by its own record."""
    if any(not one.written and one.day == kept.checked for one in seals):
        return None
    heard = (one for one in doubts if one.against and one.day == kept.checked)
    return next(heard, None)


def _pending(every: Iterable[Said], checks: Sequence[Said]) -> Said | None:
    befell = [one for one in every if one.what in ("changed", "fault")]
    left = [one for one in befell if not any(_clears(each, one) for each in checks)]
    return max(left, key=lambda one: (one.day, one.what == "fault"), default=None)


def _clears(check: Said, one: Said) -> bool:
    """Whether a check came after something.

    A fault with which a door is left is of the same moment as its check, and stays; a
    change is made before the check is done.
    """
    if check.day != one.day:
        return check.day > one.day
    if check.at is not None and one.at is not None:
        return check.at > one.at or (one.what == "changed" and check.at == one.at)
    return check.written and one.written


def _order_unknown(check: Said, one: Said) -> bool:
    """Whether nobody knows which of two of one day came first."""
    return check.day == one.day and None in (check.at, one.at)


def _days(kept: Kept, checked: date | None, pending: Said | None) -> Kept:
    """The days for a rulebook to count from."""
    said = {"checked": checked}
    if pending is None:
        said |= {"changed": None, "fault": None}
    return kept.model_copy(update=said)


def _beside(
    every: Sequence[Said], last: Said | None, doubts: Sequence[Doubt], on: date
) -> Iterator[Message]:
    """Where sources differ in the last check, and which checks do not count."""
    checks = [one for one in every if one.what == "checked"]
    for one in checks:
        if one.day > on and not (one.written and last is None):
            told = {"source": one.source, "day": one.day.isoformat()}
            yield Message("due.beside.ahead", told)
    yield from _differing([one for one in checks if one.day <= on])
    newest = max(doubts, key=lambda one: one.day, default=None)
    if newest is not None and (last is None or newest.day >= last.day):
        yield newest.because


def _differing(checks: Sequence[Said]) -> Iterator[Message]:
    """Where the site file names another day than the last record."""
    file = next((one for one in checks if one.written), None)
    sealed = [one for one in checks if not one.written]
    if file is None or not sealed:
        return
    record = max(sealed, key=_when)
    if record.day != file.day:
        later = "file" if file.day > record.day else "record"
        said = {
            "checked": file.day.isoformat(),
            "day": record.day.isoformat(),
            "source": record.source,
        }
        yield Message(f"due.beside.{later}_later", said)
