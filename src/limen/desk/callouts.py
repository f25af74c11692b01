"""Call-outs at the desk: what is answered of a door that misbehaves, kept as events.

Looking writes nothing.  What a call-out comes to is folded from its events when it is
asked for, so that a reload, a colleague and the doorway's time line see the same.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from limen.desk.clock import moment_kept
from limen.desk.library import Desk, Opened, study_of
from limen.desk.refusal import Refusal
from limen.desk.tracing import TracedCall, traced
from limen.desk.visits import Folded, last_record, visits
from limen.desk.visits_changes import Since, since
from limen.findings import Message
from limen.keep.calling import CAUSE, Call, call_of
from limen.model.called_out import CallAnswered, CallBegun, CalledOut, KnownOf
from limen.store.database.keeping import KeepingRow, events_about, events_at, keep_event
from limen.words import say

if TYPE_CHECKING:
    from limen.keep.causes import Causes
    from limen.keep.tracing import Door

BEGUN, ANSWERED = "called_out", "answered"
"""Kinds of event."""
KINDS = (BEGUN, ANSWERED)


class NoSuchCallError(LookupError):
    """There is no such call-out of this doorway."""


@dataclass(frozen=True, slots=True)
class CallOut:
    """A call-out of a doorway.

    Attributes:
        id: its own; in its address.
        site, doorway: of which.
        began: when it was taken up, ISO 8601.
        call: what its events come to.
    """

    id: str
    site: str
    doorway: str
    began: str
    call: Call


@dataclass(frozen=True, slots=True)
class LookedAt:
    """A call-out weighed with what is known of its doorway.

    Attributes:
        out: the call-out.
        traced: what its answers come to, with the doorway's own figures.
        since: what is not as at the last record; None if there is none.
    """

    out: CallOut
    traced: TracedCall
    since: Since | None


def begin(
    desk: Desk,
    opened: Opened,
    doorway: str,
    symptom: str,
    *,
    at: datetime | None = None,
    person: str | None = None,
) -> CallOut:
    """Take up a call-out by what the door does.

    Args:
        desk: the desk.
        opened: the site.
        doorway: id of the doorway.
        symptom: the answer to the first question.
        at: when it happened, with its offset from UTC.
        person: who takes it up.

    Raises:
        Refusal: there is no such doorway, or no such answer.
        NotKeptError: the disk does not take it.
    """
    from limen.keep.tracing import SYMPTOM

    opened.doorway(doorway)
    _checked(SYMPTOM, symptom)
    begun = CallBegun(at=at, person=person or None)
    kept = _keep(desk, opened.stored.id, doorway, desk.library.draw_id(), begun)
    answered = CallAnswered(question=SYMPTOM, answer=symptom)
    _keep(desk, kept.site, doorway, kept.about, answered)
    return call_out(desk, kept.site, doorway, kept.about)


def answer(desk: Desk, out: CallOut, question: str, given: str | None) -> CallOut:
    """Answer a question of a call-out, or take the answer back.

    Args:
        desk: the desk.
        out: the call-out.
        question: which; ``cause`` for what a person takes to be the cause.
        given: the answer; nothing takes it back.

    Raises:
        Refusal: there is no such question, or no such answer.
        NotKeptError: the disk does not take it.
    """
    if given is not None:
        _checked(question, given)
    stands = out.call.cause if question == CAUSE else out.call.answers.get(question)
    if stands != given:
        said = CallAnswered(question=question, answer=given)
        _keep(desk, out.site, out.doorway, out.id, said)
    return call_out(desk, out.site, out.doorway, out.id)


def may_ask(question: str) -> None:
    """Refuse what is no question.

    Raises:
        Refusal: there is no such question.
    """
    if question not in _causes().by_id:
        raise Refusal([say(Message("trace.page.no_answer"))])


def moment_of(text: str) -> datetime | None:
    """A moment as a form sends it, by the clock of this machine; None if it is empty.

    Raises:
        Refusal: there is no such moment.
    """
    if not text.strip():
        return None
    try:
        told = datetime.fromisoformat(text.strip())
        return told if told.tzinfo else told.astimezone()
    except (ValueError, OverflowError, OSError):
        raise Refusal([say(Message("trace.page.at_wrong"))]) from None


def call_out(desk: Desk, site: str, doorway: str, wanted: str) -> CallOut:
    """A call-out as its events stand.

    Raises:
        NoSuchCallError: there is none of this doorway.
    """
    rows = [
        one
        for one in events_about(desk.library, wanted)
        if (one.site, one.doorway) == (site, doorway) and one.kind in KINDS
    ]
    if not rows:
        raise NoSuchCallError(wanted)
    return _folded(rows)


def call_outs(desk: Desk, site: str, doorway: str) -> tuple[CallOut, ...]:
    """The call-outs of a doorway, the last taken up first."""
    about: dict[str, list[KeepingRow]] = {}
    for one in events_at(desk.library, site, doorway, KINDS):
        about.setdefault(one.about, []).append(one)
    return tuple(reversed([_folded(rows) for rows in about.values()]))


def open_call_out(desk: Desk, site: str, doorway: str) -> CallOut | None:
    """The call-out of a doorway that whoever goes there can go on with.

    It is the one taken up last, unless a visit was begun since and sealed: then the
    door was looked at.
    """
    last = next(iter(call_outs(desk, site, doorway)), None)
    if last is None:
        return None
    since = (
        one
        for one in visits(desk, site, doorway)
        if moment_kept(one.found.events[0].at) >= moment_kept(last.began)
    )
    return None if any(one.record for one in since) else last


def gone_on_with(desk: Desk, out: CallOut) -> tuple[Folded, ...]:
    """The visits at which a call-out was gone on with, the last begun first."""
    return tuple(
        one
        for one in visits(desk, out.site, out.doorway)
        if any(each.said.call == out.id for each in one.found.traced.values())
    )


def of_visit(visit: Folded) -> CallOut | None:
    """What was answered at the door as a call-out; None if nothing was.

    What this version asks no more is left out: it stands among the visit's events.

    Args:
        visit: as its events stand.
    """
    told = {one: each.said.answer for one, each in visit.found.traced.items()}
    answers = {one: given for one, given in told.items() if _known(one, given)}
    if not answers:
        return None
    cause = answers.pop(CAUSE, None)
    first, person = visit.found.events[0], next(iter(visit.found.people), "")
    call = Call(None, person, answers, cause)
    return CallOut(visit.visit, visit.site, visit.doorway, first.at, call)


def looked_at(desk: Desk, opened: Opened, out: CallOut) -> LookedAt:
    """Weigh a call-out with what is known of its doorway.

    Args:
        desk: the desk.
        opened: the site as it is kept now.
        out: the call-out.

    Raises:
        Refusal: there is no such doorway any more, or nothing settles its edition.
    """
    called = CalledOut(
        doorway=out.doorway, at=out.call.at, answers=dict(out.call.answers)
    )
    weighed, compared = _weighed(desk, opened, out.doorway, called)
    return LookedAt(out, weighed, compared)


def known_door(
    desk: Desk, opened: Opened, doorway: str, at: datetime | None = None
) -> "Door":
    """What is known of a doorway before anything is asked.

    Args:
        desk: the desk.
        opened: the site as it is kept now.
        doorway: id of the doorway.
        at: when it misbehaved; None if nobody said.

    Raises:
        Refusal: there is no such doorway, or nothing settles its edition.
    """
    weighed, _ = _weighed(desk, opened, doorway, CalledOut(doorway=doorway, at=at))
    return weighed.door


def _weighed(
    desk: Desk, opened: Opened, doorway: str, called: CalledOut
) -> tuple[TracedCall, Since | None]:
    """A call-out with the doorway's study, and what is not as at its last record."""
    door, study = opened.doorway(doorway), study_of(desk, opened, doorway)
    record = last_record(desk, opened.stored.id, doorway)
    compared = record and since(desk, opened, doorway, record, None)
    known = KnownOf(changed=("settings",) if _set_otherwise(compared) else ())
    with_it = called.model_copy(update={"door": known})
    return traced(opened.site, door, with_it, study), compared


def beginning(opened: Opened, doorway: str) -> tuple[str, ...]:
    """The answers to the first question, of whichever a call-out can begin with."""
    from limen.keep.tracing import STRUCK, SYMPTOM

    opened.doorway(doorway)
    return (*_causes().by_id[SYMPTOM].usual, STRUCK)


def _causes() -> "Causes":
    from limen.store.causes import known_causes

    return known_causes()


def _set_otherwise(compared: Since | None) -> bool:
    changes = compared.settings if compared else None
    return any("settings" in one.key for one in changes or ())


def _checked(question: str, given: str) -> None:
    """Refuse what is no question, or none of its answers."""
    if not _known(question, given):
        raise Refusal([say(Message("trace.page.no_answer"))])


def _known(question: str, given: str) -> bool:
    """Whether there is such a question and such an answer to it."""
    from limen.keep.tracing import MUTE, STRUCK, SYMPTOM

    causes = _causes()
    if question == CAUSE:
        taken = {one.id for one in causes.causes}
    else:
        asking = causes.by_id.get(question)
        taken = {*asking.usual, *MUTE} if asking else set[str]()
    if question == SYMPTOM:
        taken = (taken - MUTE) | {STRUCK}
    return given in taken


def _keep(
    desk: Desk, site: str, doorway: str, about: str, said: CallBegun | CallAnswered
) -> KeepingRow:
    return keep_event(
        desk.library,
        about=about,
        site=site,
        doorway=doorway,
        kind=BEGUN if isinstance(said, CallBegun) else ANSWERED,
        text=said.model_dump_json(exclude_none=True),
    )


def _folded(rows: Sequence[KeepingRow]) -> CallOut:
    first = rows[0]
    call = call_of(_said(rows))
    return CallOut(first.about, first.site, first.doorway, first.came, call)


def _said(rows: Sequence[KeepingRow]) -> Iterator[CallBegun | CallAnswered]:
    for one in rows:
        kind = CallBegun if one.kind == BEGUN else CallAnswered
        yield kind.model_validate_json(one.text)
