"""What the fault finder says: questions, answers, causes, what to do."""

from collections.abc import Iterable
from datetime import datetime
from math import degrees, radians

from limen.findings import Measure, Message
from limen.findings.message import turn
from limen.keep.calling import CAUSE
from limen.keep.tracing import MUTE, SAID_BY
from limen.words.saying import has, say
from limen.words.visits import said_moment

SYMPTOM = "does"
LIKELY = ((0.5, "most"), (0.2, "quite"), (0.05, "maybe"), (0.0, "hardly"))
"""Probabilities from which a cause is called so; the figures are for programs."""


def said(key: str, *, language: str | None = None, **values: str) -> str:
    """A sentence of the fault finder, by the end of its key."""
    return say(Message(f"trace.{key}", values), language=language)


def said_ask(question: str, *, language: str | None = None) -> str:
    """A question as it is put to a person."""
    return said(f"ask.{question}", language=language)


def said_answer(question: str, answer: str, *, language: str | None = None) -> str:
    """One of its answers."""
    key = answer if answer in MUTE else f"answer.{question}.{answer}"
    return said(key, language=language)


def said_told(question: str, answer: str) -> dict[str, str]:
    """A question and its answer as a phone kept them; what is not known stays as it is.

    Args:
        question: which; ``cause`` for what was taken to be the cause.
        answer: what was answered.
    """
    table = "cause" if question == CAUSE else f"answer.{question}"
    key = answer if answer in MUTE else f"{table}.{answer}"
    asks, tells = f"trace.ask.{question}", f"trace.{key}"
    return {
        "question": say(Message(asks)) if has(asks) else question,
        "answer": say(Message(tells)) if has(tells) else answer,
    }


def said_cause(cause: str, *, language: str | None = None) -> str:
    """A cause, as it stands in a list."""
    return said(f"cause.{cause}", language=language)


def said_likely(p: float, *, language: str | None = None) -> str:
    """How likely a cause is, in words."""
    return said(f"likely.{likely_of(p)}", language=language)


def likely_of(p: float) -> str:
    """How likely a cause is, by the key of its word."""
    return next(key for least, key in LIKELY if p >= least)


def said_minutes(minutes: float, *, language: str | None = None) -> str:
    """What an answer takes."""
    if minutes < 1:
        return said("seconds", language=language, seconds=f"{minutes * 60:.0f}")
    return say(Message("trace.minutes", {"minutes": round(minutes)}), language=language)


def said_sun(
    at: datetime, height: float, aside: float, *, low: bool, language: str | None = None
) -> str:
    """Where the sun stood when it happened.

    Args:
        at: when, with its offset from UTC.
        height: above the horizon (rad).
        aside: off straight before the door (rad).
        low: whether it may dazzle the units outside.
        language: of the sentence; the reader's if None.
    """
    when = said_time(at, language=language)
    if height <= 0:
        return said("sun.down", language=language, when=when)
    values: dict[str, str | int | Measure | Message] = {
        "when": when,
        "height": turn(_whole(height)),
        "aside": turn(_whole(aside)),
    }
    key = "trace.sun.low" if low else "trace.sun.other"
    return say(Message(key, values), language=language)


def _whole(angle: float) -> float:
    """To whole degrees: nobody at a door tells the sun's place more closely."""
    return radians(round(degrees(angle)))


def said_time(at: datetime, *, language: str | None = None) -> str:
    """A moment as a clock there showed it, with its offset from UTC."""
    offset = at.strftime("%z")
    clock = f"{at:%H:%M}"
    day = at.date().isoformat()
    if not offset:
        return said("moment", language=language, day=day, time=clock)
    zone = f"UTC{offset[:3]}:{offset[3:5]}"
    return said("moment_there", language=language, day=day, time=clock, zone=zone)


def said_call(began: str, person: str) -> str:
    """When the desk was told of a door that misbehaves (ISO 8601), and who noted it."""
    when = said_moment(began)
    if not person:
        return said("noted.nobody", when=when)
    return said("noted.person", when=when, person=person)


def said_why(
    parts: tuple[str, str], *, first: bool, language: str | None = None
) -> str:
    """Why a question is the next one."""
    if first:
        return said("why_first", language=language)
    one, other = (said_cause(part, language=language) for part in parts)
    return said("why", language=language, one=one, other=other)


def said_facts(facts: Iterable[str], *, language: str | None = None) -> list[str]:
    """Facts of the doorway that a study gave, worst first by name."""
    told: list[str] = []
    for fact in sorted(facts):
        name, _, verdict = fact.partition("=")
        if name in SAID_BY and verdict in ("fails", "not shown"):
            title = Message(f"question.{SAID_BY[name][0]}")
            values: dict[str, str | int | Measure | Message] = {
                "question": title,
                "answer": Message(f"verdict.{verdict}"),
            }
            told.append(say(Message("trace.as_studied", values), language=language))
    return told
