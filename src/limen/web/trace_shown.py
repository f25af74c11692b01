"""The fault finder's page in words: what to ask, what it may be, what weighs in."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from limen.desk.callouts import CallOut, LookedAt
from limen.desk.tracing import (
    asking_of,
    left_of,
    others_of,
    owed_after,
    weighs,
)
from limen.findings import Message
from limen.quantity import Show
from limen.web.doorway_lines import id_of
from limen.words import said_where, say, say_question
from limen.words.tracing import (
    LIKELY,
    SYMPTOM,
    likely_of,
    said,
    said_answer,
    said_ask,
    said_cause,
    said_minutes,
    said_sun,
    said_why,
)

if TYPE_CHECKING:
    from limen.desk.tracing import TracedCall

STRUCK, NONE = "struck", "none_of_these"
NOT_SURE = ("unknown", "neither")
HARDLY = "hardly"
TWO = 2


@dataclass(frozen=True, slots=True)
class Ask:
    """A question as it is put.

    Attributes:
        question: its key.
        says: its words.
        why: why it is asked now, and how long it takes.
        warns: what comes before it: a ladder, a barrier.
        answers: its answers, each with its words.
        given: what was answered; empty if nothing was.
    """

    question: str
    says: str
    why: str
    warns: tuple[str, ...]
    answers: tuple[tuple[str, str], ...]
    given: str


@dataclass(frozen=True, slots=True)
class Given:
    """An answer that stands: the question's key, its words, the answer's words."""

    question: str
    says: str
    answer: str


@dataclass(frozen=True, slots=True)
class Band:
    """Causes that are about as likely as each other.

    Attributes:
        key: how likely, for its look.
        word: the same in words.
        causes: the likeliest first.
    """

    key: str
    word: str
    causes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Weighs:
    """A finding of the doorway that makes a cause likelier.

    Attributes:
        verdict: its mark.
        name: the question.
        because: the reason.
        finding: its name in addresses.
    """

    verdict: str
    name: str
    because: str
    finding: str


@dataclass(frozen=True, slots=True)
class End:
    """A cause that can be acted on.

    Attributes:
        cause: its key.
        heading: what it is, and how sure.
        do: what to do.
        owed: the tests that are owed then.
        taken: whether a person took it as the cause.
    """

    cause: str
    heading: str
    do: str
    owed: str
    taken: bool


@dataclass(frozen=True, slots=True)
class Shown:
    """All that the page of a call-out says.

    Attributes:
        ask: the question that is put; None where nothing is worth asking.
        end: the cause that was found or taken; None while there is none.
        given: what was answered, in order.
        bands: what it may be, by how likely; what is hardly so apart.
        hardly: that.
        weighs: what the doorway's own figures say.
        sun: where it stood; empty where that is not known.
        two: that two causes are left; empty where it is not so.
        act: the likelier of these two.
        others: what else can be asked.
        struck: whether somebody was struck.
    """

    ask: Ask | None
    end: End | None
    given: tuple[Given, ...]
    bands: tuple[Band, ...]
    hardly: tuple[str, ...]
    weighs: tuple[Weighs, ...]
    sun: str
    two: str
    act: tuple[str, str] | None
    others: tuple[tuple[str, str], ...]
    struck: bool


def shown(one: LookedAt, wanted: str, system: Show) -> Shown:
    """What the page of a call-out says.

    Args:
        one: the call-out, weighed.
        wanted: a question that a person chose; empty for the next one.
        system: in which units lengths are said.
    """
    call, taken = one.traced, one.out.call.cause
    bands = tuple(_bands(call))
    left = () if taken or call.traced.struck or call.traced.found else left_of(call)
    two = left if len(left) == TWO and NONE not in left else ()
    return Shown(
        ask=_ask(call, wanted, taken),
        end=_end(call, taken),
        given=tuple(_given(call.answers)),
        bands=tuple(band for band in bands if band.key != HARDLY),
        hardly=tuple(c for band in bands if band.key == HARDLY for c in band.causes),
        weighs=tuple(_weighs(call, system)),
        sun=_sun(call),
        two=_two(two, over=call.traced.next is None),
        act=(two[0], said_cause(two[0])) if two else None,
        others=tuple(_others(call)),
        struck=call.traced.struck,
    )


def beginnings(answers: tuple[str, ...]) -> list[tuple[str, str]]:
    """The symptoms in words; that somebody was struck stands apart."""
    return [
        (one, _capital(said_answer(SYMPTOM, one))) for one in answers if one != STRUCK
    ]


def earlier(some: tuple[CallOut, ...]) -> list[tuple[str, str]]:
    """Call-outs of a doorway, each with its line."""
    return [(one.id, _line(one)) for one in some]


def _line(one: CallOut) -> str:
    symptom = one.call.answers.get(SYMPTOM)
    told = said_answer(SYMPTOM, symptom) if symptom else ""
    cause = f" · {said_cause(one.call.cause)}" if one.call.cause else ""
    return said("page.earlier_line", when=one.began[:10], symptom=told) + cause


def _ask(call: "TracedCall", wanted: str, taken: str | None) -> Ask | None:
    following = call.traced.next
    if wanted:
        return _asked(call, wanted, said("page.takes", minutes=_takes(wanted)))
    if following is None or taken:
        return None
    minutes = said_minutes(following.minutes)
    why = said_why(following.parts, first=following.first)
    return _asked(
        call, following.question, f"{said('page.takes', minutes=minutes)} {why}"
    )


def _asked(call: "TracedCall", question: str, why: str) -> Ask:
    asking = asking_of(question)
    warns = [said("barrier")] if asking.barrier else []
    warns += [said("ladder")] if asking.ladder else []
    answers = [*asking.usual, *([STRUCK] if question == SYMPTOM else [])]
    return Ask(
        question,
        said_ask(question),
        _capital(why),
        tuple(warns),
        tuple((one, _capital(said_answer(question, one))) for one in answers),
        call.answers.get(question, ""),
    )


def _capital(text: str) -> str:
    """As it stands by itself, on a button or above a list."""
    return text[:1].upper() + text[1:]


def _takes(question: str) -> str:
    return said_minutes(asking_of(question).minutes)


def _end(call: "TracedCall", taken: str | None) -> End | None:
    cause = taken or call.traced.found
    if cause is None or call.traced.struck:
        return None
    named = said_cause(cause)
    heading = said("page.taken" if taken else "found", cause=named)
    owed = _capital(said(f"owed.{owed_after(cause)}"))
    return End(cause, heading, said(f"do.{cause}"), owed, taken is not None)


def _given(answers: Mapping[str, str]) -> Iterator[Given]:
    for question, answer in answers.items():
        yield Given(question, said_ask(question), said_answer(question, answer))


def _bands(call: "TracedCall") -> Iterator[Band]:
    for _, key in LIKELY:
        here = [one.cause for one in call.traced.ranked if likely_of(one.p) == key]
        if here:
            named = tuple(said_cause(one) for one in here)
            yield Band(key, _capital(said(f"likely.{key}")), named)


def _weighs(call: "TracedCall", system: Show) -> Iterator[Weighs]:
    for one in weighs(call):
        where = said_where(one)
        name = say_question(one.question)
        yield Weighs(
            one.verdict,
            f"{name}, {where}" if where else name,
            say(one.because, system=system),
            id_of(one),
        )


def _sun(call: "TracedCall") -> str:
    sun = call.sun
    return said_sun(sun.at, sun.height, sun.aside, low=sun.low) if sun else ""


def _two(two: tuple[str, ...], *, over: bool) -> str:
    if not two:
        return ""
    one, other = (said_cause(each) for each in two)
    return said("page.two_over" if over else "page.two", one=one, other=other)


def _others(call: "TracedCall") -> Iterator[tuple[str, str]]:
    for one in others_of(call):
        minutes = said("page.takes", minutes=said_minutes(one.minutes))
        line = Message(
            "trace.page.other_line", {"question": said_ask(one.id), "minutes": minutes}
        )
        yield one.id, say(line)
