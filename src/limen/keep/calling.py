"""Call-outs: what was answered of a door that misbehaves, folded from its events."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime

from limen.model.called_out import CallAnswered, CallBegun

CAUSE = "cause"
"""Not asked like the others: what a person takes to be the cause."""


@dataclass(frozen=True, slots=True)
class Call:
    """A call-out as its events stand.

    Attributes:
        at: when the door misbehaved; None if nobody said.
        person: who took it up; empty if nobody is named.
        answers: by question, in the order in which they were first given.
        cause: what a person took to be the cause; None while nobody has.
    """

    at: datetime | None
    person: str
    answers: Mapping[str, str]
    cause: str | None


def call_of(events: Iterable[CallBegun | CallAnswered]) -> Call:
    """What the events of a call-out come to.

    The last answer to a question stands; an empty one takes it back.

    Args:
        events: in the order in which they came in.
    """
    at, person, answers = None, "", dict[str, str]()
    for one in events:
        if isinstance(one, CallBegun):
            at, person = one.at, one.person or ""
        elif one.answer is None:
            answers.pop(one.question, None)
        else:
            answers[one.question] = one.answer
    cause = answers.pop(CAUSE, None)
    return Call(at, person, answers, cause)
