"""By when a door is to be checked again, and whether something befell it since."""

from dataclasses import dataclass, replace
from datetime import date
from typing import Literal

from limen.findings import Finding, Lack, Message, Verdict
from limen.keep.folding import Known, Said, folded
from limen.model.doorway import Doorway
from limen.model.site import Site
from limen.questions.keeping import AFTER, DAILY, due
from limen.rules import Authority, Rule, Rulebook
from limen.study.running import asked_of, facts_of

QUESTION = "keeping.due"
State = Literal["at once", "overdue", "in time", "not known"]
CONTRADICTED = "due.said.contradicted"
"""Said where a file names a check that its own record does not bear out."""
ORDER: tuple[State, ...] = ("at once", "overdue", "not known", "in time")
"""What stands first in a list: what is not known is never put off."""
_DATED = {"overdue": "keeping.overdue", "in time": "keeping.in_time"}


@dataclass(frozen=True, slots=True)
class Due:
    """One doorway and its next check.

    Attributes:
        doorway: its id.
        name: its name.
        state: whether it is due.
        day: by when, where that is known.
        left: days that are left; negative once it is overdue.
        because: what says so.
        lacking: what would settle it.
        beside: what is to be said beside: where sources differ.
        person: who answers for it; empty if nobody is named.
        route: the route on which it lies; empty if none is named.
        fixed: whether it is for the day of asking only, and not to be moved.
        last: the full check from which it is counted; None if none counts.
        pending: the last change or fault after which nobody checked.
    """

    doorway: str
    name: str
    state: State
    day: date | None
    left: int | None
    because: Message
    lacking: tuple[Lack, ...] = ()
    beside: tuple[Message, ...] = ()
    person: str = ""
    route: str = ""
    fixed: bool = False
    last: Said | None = None
    pending: Said | None = None


@dataclass(frozen=True, slots=True)
class Daily:
    """A check that the owner makes every day.

    Attributes:
        doorway: of which doorway.
        authority: who asks for it; None where only the site file names who does it.
    """

    doorway: str
    authority: Authority | None


def due_of(
    doorway: Doorway,
    rulebook: Rulebook,
    on: date,
    site: Site | None = None,
    known: Known | None = None,
) -> Due | None:
    """When a doorway is to be checked again.

    Args:
        doorway: as it is kept.
        rulebook: one edition.
        on: the day for which it is asked.
        site: its site.
        known: what its file, its records and reports come to; the file's word alone
            if not given.

    Returns:
        None where the rulebook does not ask.
    """
    known = known or folded(doorway.kept, on)
    today = doorway.model_copy(update={"kept": known.kept})
    asked = asked_of(today, rulebook, on=on, site=site).get(QUESTION)
    if asked is None:
        return None
    one = _answered(doorway, due(asked), known, on)
    charge = site.charge_of(doorway) if site else doorway.kept
    return replace(
        one,
        beside=known.beside,
        person=charge.by or "",
        route=charge.route or "",
        fixed=known.ahead,
        last=known.checked,
        pending=known.pending,
    )


def daily_of(doorway: Doorway, rulebook: Rulebook, site: Site) -> Daily | None:
    """Whether the owner is to check a doorway every day.

    Args:
        doorway: as it is kept.
        rulebook: one edition.
        site: its site; where it says who does it, it is done.
    """
    rule = rulebook.rule_for(QUESTION, facts_of(doorway))
    if isinstance(rule, Rule) and rule.has(DAILY):
        return Daily(doorway.id, rule.source(DAILY))
    return Daily(doorway.id, None) if site.kept.daily else None


def on_day(one: Due, on: date) -> Due:
    """The same check asked for another day, where nothing that is said lies ahead.

    Args:
        one: a check that is not `fixed`.
        on: the day.
    """
    if one.state == "at once":
        return replace(one, day=on, left=0)
    if one.day is None:
        return one
    left = (one.day - on).days
    state: State = "overdue" if left < 0 else "in time"
    because = Message(_DATED[state], one.because.values)
    return replace(one, state=state, left=left, because=because)


def urgency(one: Due) -> tuple[int, date, str]:
    """By what a list is ordered: at once, overdue, not known, then what is to come."""
    return ORDER.index(one.state), one.day or date.max, one.name


def _answered(
    doorway: Doorway, findings: tuple[Finding, ...], known: Known, on: date
) -> Due:
    """What befell it comes before the calendar."""
    regular, since = _parts(findings)
    at_once = _at_once(known, since)
    if at_once is not None:
        return Due(doorway.id, doorway.name, "at once", on, 0, at_once)
    dated = regular.verdict is not Verdict.NOT_SHOWN and "day" in regular.because.values
    day = date.fromisoformat(str(regular.because.values["day"])) if dated else None
    left = (day - on).days if day else None
    false = known.contradicted
    if false is not None and (left is None or left < 0):
        settle = Lack(Message("due.lack.contradicted"), "kept.checked")
        said = Message(CONTRADICTED, {"day": false.day.isoformat()})
        return Due(doorway.id, doorway.name, "not known", None, None, said, (settle,))
    if day is None or left is None:
        unknown = regular.because, regular.lacking
        return Due(doorway.id, doorway.name, "not known", None, None, *unknown)
    state: State = "overdue" if left < 0 else "in time"
    because = regular.because
    return Due(doorway.id, doorway.name, state, day, left, because, regular.lacking)


def _at_once(known: Known, since: Finding | None) -> Message | None:
    """What befell the door and was not checked since.

    Where the site file alone names a change and nobody names a check, the question
    itself says that nothing is shown.
    """
    one = known.pending
    if one is None or (one.written and known.checked is None):
        return None
    if known.unsettled is not None and not one.written:
        return _same_day(one, known.unsettled)
    if one.written and since is not None and since.verdict is Verdict.FAILS:
        return since.because
    if known.unsettled is not None:
        return _same_day(one, known.unsettled)
    said = {"day": one.day.isoformat(), "source": one.source}
    if not one.text:
        return Message(f"due.pending.{one.what}", said)
    # the sentence ends itself
    text = one.text.removesuffix(".") if isinstance(one.text, str) else one.text
    return Message(f"due.pending.{one.what}_told", {**said, "text": text})


def _same_day(one: Said, check: Said) -> Message:
    said = {"day": one.day.isoformat(), "source": one.source, "check": check.source}
    return Message(f"due.pending.{one.what}_same_day", said)


def _parts(findings: tuple[Finding, ...]) -> tuple[Finding, Finding | None]:
    regular = next(one for one in findings if one.case != AFTER)
    return regular, next((one for one in findings if one.case == AFTER), None)
