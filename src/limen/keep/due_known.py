"""What the question of the next check comes to once all that speaks of it is heard.

A study is of a text, and asks it of that text alone.  Here it is asked again of the
days that were folded, by the same question and under the same rule, and each answer
says on whose word it rests.
"""

from dataclasses import replace
from datetime import date

from limen.findings import Finding, Message, Verdict
from limen.keep.due import CONTRADICTED, QUESTION, Due
from limen.model.doorway import Doorway
from limen.model.keeping import Kept
from limen.model.site import Site
from limen.questions.asking import Asked
from limen.questions.keeping import AFTER, due
from limen.questions.wiring_ends import answered, fails, holds
from limen.rules import Rulebook
from limen.study.running import asked_of

CLEARED = Message("due.known.cleared")
CHECK = Message("remedy.keeping.check")
_BY = {
    "keeping.in_time": "due.known.in_time",
    "keeping.overdue": "due.known.overdue",
}


def known_findings(
    doorway: Doorway, rulebook: Rulebook, on: date, site: Site | None, one: Due
) -> tuple[Finding, ...]:
    """The answers to when a doorway is due, from all that is known of it.

    Args:
        doorway: as its text has it.
        rulebook: one edition.
        on: the day for which it is asked.
        site: its site.
        one: what all that speaks of it comes to on that day.

    Returns:
        As many as the question has on the text alone, and for the same cases; none
        where the rulebook does not ask.
    """
    counted = doorway.model_copy(update={"kept": _kept(doorway.kept, on, one)})
    asked = asked_of(counted, rulebook, on=on, site=site).get(QUESTION)
    if asked is None:
        return ()
    regular, after = due(asked)
    return _regular(regular, one), _after(asked, after, one)


def differs(own: Finding, known: Finding) -> bool:
    """Whether an answer on a text alone is another than that on all that is known.

    Who says it makes no difference, what is said does.
    """
    return _told(own) != _told(known)


def _told(one: Finding) -> tuple[object, ...]:
    days = (one.because.values.get(name) for name in ("checked", "day"))
    return (one.verdict, *days)


def _kept(kept: Kept, on: date, one: Due) -> Kept:
    """The text's days with that of the last check that counts."""
    if one.last is not None:
        return kept.model_copy(update={"checked": one.last.day})
    ahead = kept.checked is not None and kept.checked > on
    return kept if ahead else kept.model_copy(update={"checked": None})


def _regular(found: Finding, one: Due) -> Finding:
    if one.because.key == CONTRADICTED:
        return replace(
            found,
            verdict=Verdict.NOT_SHOWN,
            because=one.because,
            lacking=one.lacking,
            margin=None,
            remedy=None,
            to_confirm=False,
        )
    by = _BY.get(found.because.key)
    if by is None or one.last is None or one.last.written:
        return found
    said = {**found.because.values, "source": one.last.source}
    return replace(found, because=Message(by, said))


def _after(asked: Asked, found: Finding, one: Due) -> Finding:
    """What befell it: said by whoever said it; also that it was tested since."""
    if one.state == "at once":
        return answered(asked, fails(one.because, CHECK), fitting=None, case=AFTER)
    quiet = found.verdict in (Verdict.HOLDS, Verdict.NOT_ASKED)
    if one.pending is None and not quiet:
        return answered(asked, holds(CLEARED), fitting=None, case=AFTER)
    return found
