"""What the page of due checks shows: filters, groups by urgency, leaves, addresses."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any
from urllib.parse import urlencode

from limen.desk.due import DailyThere, DueThere, Wanted
from limen.desk.due_kept import KeptDue
from limen.findings import Verdict
from limen.words import reading, say_day
from limen.words.due import said_daily, said_state

A_LEAF = 100
"""Doorways on one leaf of the list."""
SOON = 30
"""Days within which a check is near."""
DAILIES = 50
"""Sites whose daily checks are listed; of more it says how many."""
WITHIN = (0, 7, 30, 90, 365)
"""Days for which one can ask."""
MARKS = {
    "at once": Verdict.FAILS,
    "overdue": Verdict.FAILS,
    "not known": Verdict.NOT_SHOWN,
}


@dataclass(frozen=True, slots=True)
class Asked:
    """What was asked for.

    Attributes:
        q: words.
        person, route: names; empty for all.
        within: days; None for however long.
        start: doorways on the leaves before.
    """

    q: str = ""
    person: str = ""
    route: str = ""
    within: int | None = None
    start: int = 0

    @property
    def wanted(self) -> Wanted:
        """The same as the desk takes it."""
        words = tuple(self.q.casefold().split())
        return Wanted(self.within, self.person or None, self.route or None, words)

    @property
    def chosen(self) -> dict[str, str]:
        """Person and route, as far as they were chosen."""
        both = {"person": self.person, "route": self.route}
        return {name: one for name, one in both.items() if one}

    def address(self, start: int) -> str:
        """Where the leaf begins that has so many doorways before it."""
        said: dict[str, str | int] = {"q": self.q} if self.q else {}
        said |= self.chosen
        if self.within is not None:
            said["within"] = self.within
        if start > 0:
            said["start"] = start
        return "/due?" + urlencode(said) if said else "/due"


def shown(kept: KeptDue, asked: Asked, root: str) -> dict[str, Any]:
    """What the page is filled with.

    Args:
        kept: what is due.
        asked: what was asked for.
        root: address of the desk.
    """
    every = kept.told.every
    after = asked.start + A_LEAF
    leaf = every[asked.start : after]
    calendar = "/due.ics"
    if asked.chosen:
        calendar += "?" + urlencode(asked.chosen)
    return {
        "asked": asked,
        "groups": tuple(_groups(leaf)),
        "count": len(every),
        "first": asked.start + 1,
        "last": min(after, len(every)),
        "before": asked.address(asked.start - A_LEAF) if asked.start else "",
        "after": asked.address(after) if after < len(every) else "",
        "here": asked.address(asked.start),
        "people": kept.people,
        "routes": kept.routes,
        "within": WITHIN,
        "left": kept.left,
        "unread": kept.unread,
        "unjudged": kept.unjudged,
        "unasked": kept.told.unasked,
        "daily": [_daily(one) for one in kept.told.daily[:DAILIES]],
        "dailies": max(len(kept.told.daily) - DAILIES, 0),
        "calendar": calendar,
        "feed": root + calendar,
        "on": kept.told.on.isoformat(),
    }


def _groups(rows: Sequence[DueThere]) -> Iterator[tuple[str, list[dict[str, Any]]]]:
    """By urgency, in the order in which they stand; each group once."""
    groups: dict[str, list[dict[str, Any]]] = {}
    for one in rows:
        groups.setdefault(_urgency(one), []).append(_row(one))
    yield from groups.items()


def _urgency(one: DueThere) -> str:
    """The name of the group in which a check stands."""
    state = one.due.state
    if state == "in time":
        return "soon" if (one.due.left or 0) <= SOON else "later"
    return state.replace(" ", "_")


def _row(one: DueThere) -> dict[str, Any]:
    due = one.due
    door = f"/sites/{one.file}/doorways/{due.doorway}"
    return {
        "site": one.site,
        "at": f"/sites/{one.file}",
        "name": due.name,
        "door": door,
        "plan": f"{door}/life#plan",
        "mark": MARKS.get(due.state, ""),
        "state": said_state(due.state, due.left),
        "day": say_day(due.day, reading())
        if due.day and due.state != "at once"
        else "",
        "iso": due.day.isoformat() if due.day else "",
        "says": [due.because] if due.state != "in time" else [],
        "lacking": [lack.message for lack in due.lacking] if due.left is None else [],
        "beside": due.beside,
        "person": due.person,
        "route": due.route,
    }


def _daily(one: DailyThere) -> dict[str, str]:
    return {
        "site": one.site,
        "at": f"/sites/{one.file}",
        "says": said_daily(one.doors, one.who),
        "document": one.document,
        "grade": one.grade,
    }
