"""By when a door is to be checked again, and whether something befell it since."""

from dataclasses import dataclass
from datetime import date
from typing import Literal

from limen.findings import Finding, Verdict
from limen.model.doorway import Doorway
from limen.model.site import Site
from limen.questions.keeping import AFTER, due
from limen.rules import Rulebook
from limen.study.running import asked_of

QUESTION = "keeping.due"
State = Literal["at once", "overdue", "in time", "not known"]
ORDER: tuple[State, ...] = ("at once", "overdue", "not known", "in time")
"""What stands first in a list: what is not known is never put off."""


@dataclass(frozen=True, slots=True)
class Due:
    """One doorway and its next check.

    Attributes:
        doorway: its id.
        name: its name.
        state: whether it is due.
        day: by when, where that is known.
        left: days that are left; negative once it is overdue.
        finding: what says so.
    """

    doorway: str
    name: str
    state: State
    day: date | None
    left: int | None
    finding: Finding


def due_of(
    doorway: Doorway, rulebook: Rulebook, on: date, site: Site | None = None
) -> Due | None:
    """When a doorway is to be checked again.

    Args:
        doorway: as it is kept.
        rulebook: one edition.
        on: the day for which it is asked.
        site: its site.

    Returns:
        None where the rulebook does not ask.
    """
    asked = asked_of(doorway, rulebook, on=on, site=site).get(QUESTION)
    if asked is None:
        return None
    regular, since = _parts(due(asked))
    if since is not None and since.verdict is Verdict.FAILS:
        return Due(doorway.id, doorway.name, "at once", on, 0, since)
    if regular.verdict is Verdict.NOT_SHOWN or "day" not in regular.because.values:
        return Due(doorway.id, doorway.name, "not known", None, None, regular)
    day = date.fromisoformat(str(regular.because.values["day"]))
    left = (day - on).days
    state: State = "overdue" if left < 0 else "in time"
    return Due(doorway.id, doorway.name, state, day, left, regular)


def urgency(one: Due) -> tuple[int, date, str]:
    """By what a list is ordered: at once, overdue, not known, then what is to come."""
    return ORDER.index(one.state), one.day or date.max, one.name


def _parts(findings: tuple[Finding, ...]) -> tuple[Finding, Finding | None]:
    regular = next(one for one in findings if one.case != AFTER)
    return regular, next((one for one in findings if one.case == AFTER), None)
