"""What the owner's page says: the daily check, what to do, whom to tell."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

from limen.findings import Message
from limen.keep.daily import PARTS, Asked, From
from limen.words.numbers import say_day
from limen.words.saying import say

Due = Literal["by", "over", "at_once", "unknown"]
GROUP = 4
"""Digits of a digest that one reads out in a breath."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """What an owner's page is made of.

    Attributes:
        site, door: as people say them.
        steps: the steps of the door's daily check.
        behind: what was found behind an opening leaf; empty if nothing was.
        escape: whether the door lies on an escape route; None if nobody knows.
        record: number of its last record; None if it has none.
        recorded: the day of that.
        heads: digests of the records that no later one names.
        due: whether the next full check is due; None where none is asked for.
        due_day: by when.
        by, daily: who answers for its checks, and who does the daily one.
        mail, phone, web: where faults are told.
        on: the day on which the page is made.
        version: of the site's text.
    """

    site: str
    door: str
    steps: Sequence[Asked]
    on: date
    version: int
    behind: str = ""
    escape: bool | None = None
    record: int | None = None
    recorded: date | None = None
    heads: Sequence[str] = ()
    due: Due | None = None
    due_day: date | None = None
    by: str = ""
    daily: str = ""
    mail: str = ""
    phone: str = ""
    web: str = ""


@dataclass(frozen=True, slots=True)
class SaidStep:
    """A step in words.

    Attributes:
        id: its key, also that of its picture.
        number: its place on the page.
        title: what is looked at.
        says: how.
    """

    id: str
    number: int
    title: str
    says: str


@dataclass(frozen=True, slots=True)
class SaidPage:
    """An owner's page in words, for paper and phone.

    Attributes:
        language: of all words.
        title: of the page.
        site, door: as people say them.
        parts: the steps under their headings.
        wrong: what to do when something is not as it should be.
        call: whom to tell, line by line; empty if nobody is stated.
        people: who answers for it.
        kept: record, digest and next check, line by line.
        digest: digests of the last records, in groups; empty without a record.
        digest_says: what stands before them.
        sources: where the steps come from.
        made: of which day and text it is.
    """

    language: str
    title: str
    site: str
    door: str
    parts: tuple[tuple[str, tuple[SaidStep, ...]], ...]
    wrong: tuple[str, ...]
    call: tuple[str, ...]
    people: tuple[str, ...]
    kept: tuple[str, ...]
    digest: str
    digest_says: str
    sources: tuple[str, ...]
    made: str

    @property
    def steps(self) -> tuple[SaidStep, ...]:
        """All steps, in their order."""
        return tuple(one for _, steps in self.parts for one in steps)


def said_page(told: Told, *, language: str) -> SaidPage:
    """The page of a door in words.

    Args:
        told: what it is made of.
        language: of all words.
    """
    return SaidPage(
        language,
        said("title", language),
        told.site,
        told.door,
        tuple(_parts(told, language)),
        tuple(_wrong(told, language)),
        tuple(_call(told, language)),
        tuple(_people(told, language)),
        tuple(_kept(told, language)),
        grouped(told.heads),
        _before(told, language),
        tuple(_sources(told.steps, language)),
        _made(told, language),
    )


def said(key: str, language: str, **values: str | int) -> str:
    """A sentence of the owner's page, by the end of its key."""
    return say(Message(f"owner.{key}", values), language=language)


def grouped(digests: Iterable[str]) -> str:
    """Digests as one reads them out."""
    return ", ".join(
        " ".join(one[at : at + GROUP] for at in range(0, len(one), GROUP))
        for one in digests
    )


# The steps -----------------------------------------------------------------------


def _parts(told: Told, language: str) -> Iterator[tuple[str, tuple[SaidStep, ...]]]:
    number = 0
    for part in PARTS:
        steps: list[SaidStep] = []
        for one in told.steps:
            if one.part == part:
                number += 1
                steps.append(_step(one, number, told, language))
        if steps:
            yield said(part, language), tuple(steps)


def _step(one: Asked, number: int, told: Told, language: str) -> SaidStep:
    more = (said(f"also.{fact}", language, **_gap(fact, told)) for fact in one.also)
    says = " ".join([said(f"how.{one.id}", language), *more])
    return SaidStep(one.id, number, said(f"step.{one.id}", language), says)


def _gap(fact: str, told: Told) -> dict[str, str]:
    return {"thing": told.behind} if fact == "behind" else {}


def _sources(steps: Sequence[Asked], language: str) -> Iterator[str]:
    """Each source once, with the numbers of its steps."""
    named: dict[From, list[str]] = {}
    ordered = (one for part in PARTS for one in steps if one.part == part)
    for number, one in enumerate(ordered, 1):
        named.setdefault(one.source, []).append(f"{number}")
    for source, numbers in named.items():
        document = said(f"source.{source.document}", language)
        if source.document != source.grade:
            grade = say(Message(f"grade.{source.grade}"), language=language)
            document = said("source.graded", language, document=document, grade=grade)
        listed = ", ".join(numbers)
        yield said("source.one", language, steps=listed, source=document)


# What to do, whom to tell --------------------------------------------------------


def _wrong(told: Told, language: str) -> Iterator[str]:
    yield said("wrong.out", language)
    known = {True: "escape", False: "lockable", None: "unknown"}[told.escape]
    yield said(f"wrong.out_{known}", language)
    yield said("wrong.tell", language)


def _call(told: Told, language: str) -> Iterator[str]:
    for key in ("phone", "mail", "web"):
        address: str = getattr(told, key)
        if address:
            yield said(f"call.{key}", language, **{key: address})


def _people(told: Told, language: str) -> Iterator[str]:
    if told.by:
        yield said("call.by", language, person=told.by)
    if told.daily:
        yield said("call.daily", language, person=told.daily)


def _kept(told: Told, language: str) -> Iterator[str]:
    if told.due:
        key = "due" if told.due == "by" else f"due_{told.due}"
        day = say_day(told.due_day, language) if told.due_day else ""
        yield said(f"kept.{key}", language, **({"day": day} if day else {}))
    if told.record is None:
        yield said("kept.no_record", language)
        return
    day = say_day(told.recorded, language) if told.recorded else "–"
    yield said("kept.record", language, number=told.record, day=day)


def _before(told: Told, language: str) -> str:
    """What stands before the digests of the last records."""
    key = "digests" if len(told.heads) > 1 else "digest"
    return said(f"kept.{key}", language, digest="").rstrip()


def _made(told: Told, language: str) -> str:
    made = said("kept.printed", language, day=say_day(told.on, language))
    version = said("kept.version", language, version=told.version)
    return f"{made} · {version}"
