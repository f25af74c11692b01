"""Faults that were reported of doors: taken down at the desk, seen, settled.

What is said is kept as events; what a report comes to is folded when it is asked for.
"""

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Any, get_args
from uuid import uuid4

from limen.desk.library import Desk
from limen.desk.spoken import At, Said, Voice, Word, door_there, event_of, keep_word
from limen.model.telling import (
    KINDS,
    Reported,
    ReportedEvent,
    ReportSeenEvent,
    ReportSettledEvent,
)
from limen.store.database.keeping import KeepingRow, events_about, events_at

if TYPE_CHECKING:
    from limen.model.telling import Told

EVENTS = (ReportedEvent, ReportSeenEvent, ReportSettledEvent)


class NoSuchReportError(LookupError):
    """There is no such report of this doorway."""

    def __init__(self, about: str) -> None:
        """Say which."""
        super().__init__(f'no fault "{about}" was reported here')
        self.about = about


@dataclass(frozen=True, slots=True)
class Report:
    """A fault that was reported, and what it came to.

    Attributes:
        first: what was reported.
        seen: that somebody has seen it, the first time; None before.
        settled: how it ended; None before.
        seq: the highest number that was said of it.
    """

    first: ReportedEvent
    seen: ReportSeenEvent | None = None
    settled: ReportSettledEvent | None = None
    seq: int = 1

    @property
    def id(self) -> str:
        """Its own id; in its address."""
        return self.first.about

    @property
    def said(self) -> Reported:
        """What was reported."""
        return self.first.said

    @property
    def open(self) -> bool:
        """Whether it is not settled."""
        return self.settled is None


def reports(
    desk: Desk, site_id: str | None = None, doorway: str | None = None
) -> tuple[Report, ...]:
    """Faults that were reported, the newest first.

    Those that are open stand before all others, and of them those before all others
    in which somebody was struck.

    Args:
        desk: the desk.
        site_id: only of this site.
        doorway: only of this doorway of it.

    Raises:
        NoSuchSiteError: there is no such site.
    """
    if site_id is not None:
        desk.library.read(site_id)
    found = _folded(events_at(desk.library, site_id, doorway, KINDS))
    newest = sorted(found, key=lambda one: one.first.at, reverse=True)
    return tuple(sorted(newest, key=_urgency))


def _urgency(one: Report) -> tuple[bool, bool]:
    return not one.open, not (one.open and one.said.struck)


def report(desk: Desk, at: At, about: str) -> Report:
    """One report of a doorway.

    Raises:
        NoSuchSiteError: there is no such site.
        NoSuchReportError: there is no such report of this doorway.
    """
    desk.library.read(at.site)
    for one in _folded(events_about(desk.library, about)):
        if (one.first.site, one.first.doorway) == (at.site, at.doorway):
            return one
    raise NoSuchReportError(about)


def take_down(desk: Desk, at: At, said: Said, about: str | None = None) -> Report:
    """Keep that a fault was reported: what `limen.model.telling.Reported` takes.

    Args:
        desk: the desk.
        at: where, and who writes it down.
        said: what is said, as JSON has it; what is empty counts as left out.
        about: its id, where it was drawn before: the same again is kept once.

    Raises:
        NoSuchSiteError: there is no such site.
        Refusal: there is no such doorway, or a field is not accepted, and why.
    """
    door_there(desk, at)
    drawn = about or str(uuid4())
    _keep(desk, at, Word(drawn, 1, "reported", said))
    return report(desk, at, drawn)


def see(desk: Desk, at: At, about: str, note: str = "") -> Report:
    """Say that somebody has seen it.

    Raises:
        NoSuchSiteError: there is no such site.
        NoSuchReportError: there is no such report of this doorway.
        Refusal: it is settled, or somebody said something of it meanwhile.
    """
    return _go_on(desk, at, about, "report_seen", {"note": note})


def settle(
    desk: Desk, at: At, about: str, because: str, visit: str | None = None
) -> Report:
    """Say what was found and done; nothing is left to be done of it.

    Raises:
        NoSuchSiteError: there is no such site.
        NoSuchReportError: there is no such report of this doorway.
        Refusal: nothing is said, it is settled, or somebody said something meanwhile.
    """
    said = {"because": because, "visit": visit}
    return _go_on(desk, at, about, "report_settled", said)


def read_told(text: str) -> "Told":
    """An event from its text.

    Raises:
        ValidationError: it says something that such an event cannot say.
    """
    return _kinds()[json.loads(text)["kind"]].model_validate_json(text)


@cache
def _kinds() -> Mapping[str, Any]:
    return {get_args(one.model_fields["kind"].annotation)[0]: one for one in EVENTS}


VOICE = Voice(read_told, "report_page.refused", "report_page.refused")


# Folded --------------------------------------------------------------------------


def _folded(rows: Iterable[KeepingRow]) -> list[Report]:
    told: dict[str, dict[str, Any]] = {}
    for row in rows:
        if row.kind in KINDS:
            one = read_told(row.text)
            kept = told.setdefault(one.about, {"seq": 0})
            kept.setdefault(one.kind, one)
            kept["seq"] = max(kept["seq"], one.seq)
    return [_report(one) for one in told.values() if "reported" in one]


def _report(told: Mapping[str, Any]) -> Report:
    return Report(
        told["reported"],
        told.get("report_seen"),
        told.get("report_settled"),
        told["seq"],
    )


# Kept ----------------------------------------------------------------------------


def _go_on(desk: Desk, at: At, about: str, kind: str, said: Said) -> Report:
    one = report(desk, at, about)
    if not one.open:
        raise VOICE.refusal("closed")
    _keep(desk, at, Word(about, one.seq + 1, kind, said))
    return report(desk, at, about)


def _keep(desk: Desk, at: At, word: Word) -> None:
    keep_word(desk, event_of(at, word, VOICE), VOICE)
