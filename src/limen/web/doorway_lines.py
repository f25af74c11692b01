"""What the doorway page says: the next thing to do, and findings as quiet lines."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import assert_never

from limen.exchange.groups import Group, groups
from limen.exchange.tally import MUST, for_office
from limen.findings import Finding, Message, Remedy, Study, Verdict
from limen.quantity import Show
from limen.words import (
    said_clause,
    said_room,
    said_where,
    say_count,
    say_question,
    unbroken,
)
from limen.words import say as say_plainly

CAVEAT = "owed.geometry_only"
SEPARATOR = "~"
ORDER = (Verdict.FAILS, Verdict.NOT_SHOWN, Verdict.HOLDS, Verdict.NOT_ASKED)


@dataclass(frozen=True, slots=True)
class Line:
    """One finding as a line.

    Attributes:
        id: the finding's name in addresses.
        verdict: the verdict's own word, for its mark.
        name: the question in plain words.
        where: fitting and case.
        word: the verdict in the reader's language.
        because: the reason.
        room: what is to spare or short, if that is known.
        drawn: whether it has a place or figures to draw.
        confirm: whether it rests on a figure to be confirmed.
        clause: where the rule stands.
        others: the further cases of the question.
        remedy: what to do about it; empty where there is nothing to be done.
        edits: settings that can be tried on this page at once, by key.
    """

    id: str
    verdict: str
    name: str
    where: str
    word: str
    because: str
    room: str
    drawn: bool
    confirm: bool
    clause: str
    others: "tuple[Line, ...]" = ()
    remedy: str = ""
    edits: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Section:
    """The lines of one verdict.

    Attributes:
        verdict: which.
        heading: how many questions, in words.
        lines: worst first.
        note: what stands beneath, if anything must.
        open: whether it is open from the start.
    """

    verdict: str
    heading: str
    lines: tuple[Line, ...]
    note: str = ""
    open: bool = True


@dataclass(frozen=True, slots=True)
class Next:
    """The one thing to do.

    Attributes:
        verdict: of the finding that asks for it; empty where nothing does.
        do: what to do.
        why: the reason.
        finding: the finding's name in addresses; empty where there is none.
        edits: settings that can be tried on this page at once, by key.
        drawn: whether the finding has a place or figures to draw.
    """

    verdict: str
    do: str
    why: str
    finding: str = ""
    edits: tuple[tuple[str, str], ...] = ()
    drawn: bool = False


def say(message: Message, *, system: Show = Show.METRIC) -> str:
    """A sentence with no line broken between a number and its unit."""
    return unbroken(say_plainly(message, system=system))


def id_of(finding: Finding) -> str:
    """A finding's name in addresses: question, fitting and case."""
    return SEPARATOR.join(part or "" for part in finding.key)


def looked_at(wanted: str | None) -> tuple[str, str] | None:
    """Question and case in a finding's name."""
    parts = (wanted or "").split(SEPARATOR)
    return (parts[0], parts[2]) if len(parts) == 3 else None  # noqa: PLR2004 - as `id_of`


def found(study: Study, wanted: str | None) -> Finding | None:
    """The finding of this name."""
    return next((one for one in study.findings if id_of(one) == wanted), None)


def next_thing(study: Study, system: Show) -> Next:
    """The first failing must's remedy, else what the first open must lacks.

    Of two musts the one with a remedy comes first: it can be done.
    """
    ranked = [group.worst for group in groups(study.findings, every=False)]
    for verdict in (Verdict.FAILS, Verdict.NOT_SHOWN):
        asked = [f for f in ranked if f.verdict is verdict and f.weight == MUST]
        asked.sort(key=lambda one: one.remedy is None and not one.lacking)
        asked.sort(key=_at_the_desk)
        if asked:
            return _next(asked[0], system)
    return Next("", say(Message("doorway_page.next.none")), _tests_owed())


def _at_the_desk(finding: Finding) -> bool:
    """Whether all that it lacks is a paper: a reading at the door comes first."""
    lacking = finding.lacking
    return bool(lacking) and all(for_office(one.key) for one in lacking)


def _tests_owed() -> str:
    return say(Message("doorway_page.next.tests"))


def _next(finding: Finding, system: Show) -> Next:
    why = say(finding.because, system=system)
    if finding.remedy:
        do = say(finding.remedy.message, system=system)
    elif finding.lacking:
        wanted = Message("doorway_page.next.lack", {"what": finding.lacking[0].message})
        do = say(wanted, system=system)
    else:
        do, why = why, say_question(finding.question)
    edits = tuple(edits_of(finding.remedy)) if finding.remedy else ()
    drawn = bool(finding.witness or finding.figures)
    return Next(finding.verdict.value, do, why, id_of(finding), edits, drawn)


def edits_of(remedy: Remedy) -> Iterator[tuple[str, str]]:
    """A remedy's changes as edits of this page; none if one is no unit's setting."""
    if all(change.fitting for change in remedy.changes):
        for change in remedy.changes:
            yield f"fitting[{change.fitting}].{change.setting}", change.value


def sections(study: Study, system: Show) -> tuple[Section, ...]:
    """The findings, grouped by verdict, what is to be done first."""
    every = groups(study.findings, every=False)
    return tuple(
        _section(verdict, own, system)
        for verdict in ORDER
        if (own := [group for group in every if group.worst.verdict is verdict])
    )


def _section(verdict: Verdict, own: list[Group], system: Show) -> Section:
    key = f"doorway_page.group.{verdict.key}"
    lines = tuple(_grouped(group, system) for group in own)
    return Section(
        verdict.value,
        say_count(key, len(own)),
        lines,
        _note(verdict, own, system),
        _opened(verdict),
    )


def _opened(verdict: Verdict) -> bool:
    match verdict:
        case Verdict.FAILS | Verdict.NOT_SHOWN:
            return True
        case Verdict.HOLDS | Verdict.NOT_ASKED:
            return False
        case _:
            assert_never(verdict)


def _note(verdict: Verdict, own: list[Group], system: Show) -> str:
    """What a proof of geometry does not cover, said wherever presence holds."""
    if verdict is not Verdict.HOLDS:
        return ""
    owed = [
        message
        for group in own
        for finding in group.all
        for message in finding.owed
        if message.key == CAVEAT
    ]
    return say(owed[0], system=system) if owed else ""


def _grouped(group: Group, system: Show) -> Line:
    others = tuple(line(one, system) for one in group.others)
    return line(group.worst, system, others)


def line(finding: Finding, system: Show, others: tuple[Line, ...] = ()) -> Line:
    """One finding as a line."""
    room = said_room(finding)
    return Line(
        id=id_of(finding),
        verdict=finding.verdict.value,
        name=say_question(finding.question),
        where=unbroken(said_where(finding)),
        word=_word(finding),
        because=say(finding.because, system=system),
        room=say(room, system=system) if room else "",
        drawn=bool(finding.witness or finding.figures),
        confirm=finding.verdict is Verdict.HOLDS and finding.to_confirm,
        clause=_clause(finding),
        others=others,
        remedy=say(finding.remedy.message, system=system) if finding.remedy else "",
        edits=tuple(edits_of(finding.remedy)) if finding.remedy else (),
    )


def _word(finding: Finding) -> str:
    """The verdict; with the weight where it is not a must and asks for something."""
    word = say(Message(f"verdict.{finding.verdict.value}"))
    plain = finding.verdict in (Verdict.HOLDS, Verdict.NOT_ASKED)
    if plain or finding.weight == MUST:
        return word
    weight = Message(f"weight.{finding.weight.value}")
    return say(Message("doorway_page.weighed", {"word": word, "weight": weight}))


def _clause(finding: Finding) -> str:
    """Where the rule stands: document and clause of the first authority."""
    for one in finding.authority[:1]:
        clause = one.clause if one.clause_known else None
        return say(said_clause(one.document, clause))
    return ""
