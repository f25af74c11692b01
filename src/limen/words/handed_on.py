"""A call-out told for whoever is asked next: what was seen, answered and ruled out."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from limen.findings import Finding, Message, Verdict
from limen.keep.calling import CAUSE
from limen.keep.causes import NONE
from limen.keep.tracing import SYMPTOM, Ranked
from limen.words.joining import apart, named
from limen.words.places import said_where
from limen.words.saying import say, say_question
from limen.words.tracing import (
    likely_of,
    said,
    said_answer,
    said_ask,
    said_cause,
    said_likely,
)

DID = (
    "leaf_held",
    "presence_off",
    "motion_off",
    "shaded",
    "blower",
    "other_door",
    "contacts_off",
)
"""Questions that are answered by doing something to the door."""
HARDLY = "hardly"


@dataclass(frozen=True, slots=True)
class HandedOn:
    """All that is known of a call-out.

    Attributes:
        site, doorway: their names; empty where none is named.
        began: when it was taken up, and by whom, in words.
        happened: when it happened and where the sun stood then, in words.
        door: facts of the doorway as its file has them, in words.
        settings: what is set at each unit, in words.
        answers: by question, in order.
        ranked: causes, the likeliest first.
        out: causes that are ruled out, each with the question that speaks against it.
        findings: of the doorway's study.
        changes: what is not as at the last record, in words.
        record: the last record, in words.
        cause: what a person took to be the cause; empty while nobody has.
        struck: whether somebody was struck.
    """

    site: str = ""
    doorway: str = ""
    began: Sequence[str] = ()
    happened: Sequence[str] = ()
    door: Sequence[str] = ()
    settings: Sequence[str] = ()
    answers: Mapping[str, str] = field(default_factory=dict[str, str])
    ranked: Sequence[Ranked] = ()
    out: Sequence[tuple[str, str]] = ()
    findings: Sequence[Finding] = ()
    changes: Sequence[str] = ()
    record: str = ""
    cause: str = ""
    struck: bool = False


@dataclass(frozen=True, slots=True)
class Part:
    """A heading and what stands beneath it.

    Attributes:
        key: by which it is known.
        title: the heading.
        lines: what is said.
    """

    key: str
    title: str
    lines: tuple[str, ...]


def handed_on(told: HandedOn, *, language: str | None = None) -> tuple[Part, ...]:
    """The description of a call-out, part by part; what is not known is left out.

    Args:
        told: all that is known.
        language: of the sentences that are put together here; the reader's if None.
    """
    every = (
        ("does", _does(told, language)),
        ("door", told.door),
        ("settings", told.settings),
        ("answers", _answers(told, language)),
        ("tried", _tried(told, language)),
        ("likely", _likely(told, language)),
        ("out", _out(told, language)),
        ("fails", _fails(told, language)),
        ("not_shown", _not_shown(told, language)),
        ("changes", told.changes),
        ("record", [told.record] if told.record else []),
    )
    return tuple(
        Part(key, said(f"told.{key}", language=language), lines)
        for key, lines in ((key, tuple(some)) for key, some in every)
        if lines
    )


def title_of(told: HandedOn, *, language: str | None = None) -> str:
    """What stands above it: the doorway and its building."""
    door = ", ".join(one for one in (told.doorway, told.site) if one)
    if not door:
        return said("told.nowhere", language=language)
    return said("told.title", language=language, door=door)


def _does(told: HandedOn, language: str | None) -> Iterator[str]:
    symptom = told.answers.get(SYMPTOM)
    if symptom is not None:
        yield _sentence(said_answer(SYMPTOM, symptom, language=language))
    if told.struck:
        yield said("struck", language=language)
    yield from told.happened
    yield from told.began
    if told.cause:
        cause = said_cause(told.cause, language=language)
        yield said("told.taken", language=language, cause=cause)


def _answers(told: HandedOn, language: str | None) -> Iterator[str]:
    for question, answer in told.answers.items():
        if question not in (SYMPTOM, CAUSE):
            yield _asked(question, answer, language)


def _tried(told: HandedOn, language: str | None) -> Iterator[str]:
    """What was done to the door: it stands among the answers too, but is looked for."""
    for question in DID:
        if told.answers.get(question) in ("gone", "stays"):
            yield _asked(question, told.answers[question], language)


def _asked(question: str, answer: str, language: str | None) -> str:
    asks = said_ask(question, language=language)
    tells = said_answer(question, answer, language=language)
    return said("as_known", language=language, question=asks, answer=tells)


def _likely(told: HandedOn, language: str | None) -> Iterator[str]:
    if told.struck:
        return
    for one in told.ranked:
        if likely_of(one.p) == HARDLY:
            return
        word = said_likely(one.p, language=language)
        cause = said_cause(one.cause, language=language)
        yield said("told.likely_line", language=language, likely=word, cause=cause)


def _out(told: HandedOn, language: str | None) -> Iterator[str]:
    """What is ruled out, by the answer that speaks most against it."""
    by: dict[str, list[str]] = {}
    for cause, question in told.out:
        if cause != NONE:
            by.setdefault(question, []).append(said_cause(cause, language=language))
    for question, causes in by.items():
        why = _asked(question, told.answers[question], language)
        every = apart(causes, language=language)
        yield said("told.out_line", language=language, causes=every, why=why)


def _fails(told: HandedOn, language: str | None) -> Iterator[str]:
    """The first, and so the worst, case of each question."""
    for one in _of(told, Verdict.FAILS).values():
        asks = say_question(one.question, language=language)
        where = said_where(one, language=language)
        because = say(one.because, language=language)
        name = f"{asks}, {where}" if where else asks
        yield named(name, because, language=language)


def _not_shown(told: HandedOn, language: str | None) -> Iterator[str]:
    asked = _of(told, Verdict.NOT_SHOWN)
    names = [say_question(one, language=language) for one in asked]
    if names:
        yield apart(names, language=language)


def _of(told: HandedOn, verdict: Verdict) -> dict[str, Finding]:
    some = [one for one in told.findings if one.verdict is verdict]
    first: dict[str, Finding] = {}
    for one in some:
        first.setdefault(one.question, one)
    return first


def _sentence(text: str) -> str:
    """With a capital and an end, as it stands by itself."""
    return say(Message("trace.told.sentence", {"text": text[:1].upper() + text[1:]}))
