"""What the fault finder says: questions, answers, causes, what to do."""

from collections.abc import Iterable

from limen.findings import Measure, Message
from limen.keep.tracing import SAID_BY
from limen.words.saying import say

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
    key = "unknown" if answer == "unknown" else f"answer.{question}.{answer}"
    return said(key, language=language)


def said_cause(cause: str, *, language: str | None = None) -> str:
    """A cause, as it stands in a list."""
    return said(f"cause.{cause}", language=language)


def said_likely(p: float, *, language: str | None = None) -> str:
    """How likely a cause is, in words."""
    key = next(key for least, key in LIKELY if p >= least)
    return said(f"likely.{key}", language=language)


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
