"""Where a figure comes from, how well it is known, and what rests on it."""

from collections.abc import Iterator
from dataclasses import dataclass

from limen.desk.due_known import known_study_of
from limen.desk.facts import Fact, every_fact, facts_of
from limen.desk.library import Desk, Opened, book_of, read_stored
from limen.desk.library_edits import doorway_in
from limen.desk.reading_facts import Way, reads_of
from limen.desk.refusal import Refusal
from limen.desk.unknowns import Unknown, located, unknowns_of
from limen.findings import Finding, Message, Verdict
from limen.quantity import Dimension, Grade, Quantity
from limen.rules import Rule, Rulebook
from limen.words import say

_ORDER = (Verdict.FAILS, Verdict.NOT_SHOWN, Verdict.HOLDS, Verdict.NOT_ASKED)


@dataclass(frozen=True, slots=True)
class LimitOrigin:
    """A figure of the rulebook that a finding was held against.

    Attributes:
        name: the limit's name.
        value, dimension: the figure; None where none ships.
        document, clause: where it stands; clause None where it is open.
        edition: rulebook and edition.
        grade: how well it is known.
        own: whether it stands in the firm's own values file.
        note: what a reader should know about it.
        rule: the rule's id, to be named in a values file.
    """

    name: str
    value: Quantity | None
    dimension: Dimension | None
    document: str
    clause: str | None
    edition: str
    grade: Grade
    own: bool
    note: str
    rule: str

    @property
    def to_confirm(self) -> bool:
        """Whether figure or clause is to be confirmed."""
        return self.grade.to_confirm or self.clause is None


@dataclass(frozen=True, slots=True)
class SheetFact:
    """A figure of a unit's sheet: which unit, which sheet, its key there."""

    fitting: str
    sheet: str
    key: str


@dataclass(frozen=True, slots=True)
class FindingOrigin:
    """What a finding rests on.

    Attributes:
        finding: the finding.
        limits: the figures of the rulebook it was held against.
        facts: the facts of the doorway that its question looks at and that are stated.
        sheets: what it looks at in the sheets of the units.
    """

    finding: Finding
    limits: tuple[LimitOrigin, ...]
    facts: tuple[Fact, ...]
    sheets: tuple[SheetFact, ...]


@dataclass(frozen=True, slots=True)
class FactOrigin:
    """Where one fact of the doorway comes from.

    Attributes:
        fact: as the text states it.
        unknown: what is assumed in its place, or waits for it; None if nothing is.
        findings: the worst finding of each question that looks at it.
    """

    fact: Fact
    unknown: Unknown | None
    findings: tuple[Finding, ...]


def origin_of_finding(
    desk: Desk, opened: Opened, doorway_id: str, finding: Finding
) -> FindingOrigin:
    """What a finding rests on: figures of the rulebook, facts, sheets.

    Args:
        desk: the desk.
        opened: the site.
        doorway_id: one of its doorways.
        finding: one of its findings.

    Raises:
        Refusal: there is no such doorway.
    """
    door = opened.doorway(doorway_id)
    book = book_of(desk, opened.site, door)
    reads = reads_of(desk, opened, doorway_id).get(finding.question, frozenset())
    facts = tuple(
        one
        for one in every_fact(_parts(desk, opened, doorway_id))
        if one.stated and one.way in reads
    )
    sheets = tuple(
        SheetFact(door.fitting[int(way[1])].id, door.fitting[int(way[1])].sheet, key)
        for way in sorted(reads, key=str)
        if (key := _in_sheet(way))
    )
    limits = tuple(_limits(book, finding)) if finding.authority else ()
    return FindingOrigin(finding, limits, facts, sheets)


def origin_of_fact(desk: Desk, opened: Opened, doorway_id: str, key: str) -> FactOrigin:
    """Where a fact comes from and what rests on it.

    Args:
        desk: the desk.
        opened: the site.
        doorway_id: one of its doorways.
        key: as findings and settings name it, ``fitting[outside].settings.tilt``.

    Raises:
        Refusal: there is no such doorway or fact, or it is written in the short form.
    """
    door = opened.doorway(doorway_id)
    raw = doorway_in(read_stored(desk, opened.stored)[1], doorway_id)[1]
    way = located(key, None, door, raw).way
    facts = every_fact(_parts(desk, opened, doorway_id))
    fact = next((one for one in facts if one.way == way), None)
    if fact is None:
        raise Refusal([say(Message("desk.refused.no_key", {"key": key[:80]}))])
    unknowns = unknowns_of(desk, opened, doorway_id)
    unknown = next((one for one in unknowns if one.way == way), None)
    return FactOrigin(fact, unknown, tuple(_resting(desk, opened, doorway_id, way)))


def _parts(desk: Desk, opened: Opened, doorway_id: str):  # noqa: ANN202 - as `facts_of`
    try:
        return facts_of(desk, opened, doorway_id)
    except Refusal:
        return ()  # a short form states no facts of its own keys


def _resting(
    desk: Desk, opened: Opened, doorway_id: str, way: Way
) -> Iterator[Finding]:
    """The worst finding of each question that looks at a fact, what fails first."""
    reads = reads_of(desk, opened, doorway_id)
    worst: dict[str, Finding] = {}
    findings = known_study_of(desk, opened, doorway_id).study.findings
    for one in sorted(findings, key=lambda one: _ORDER.index(one.verdict)):
        if way in reads.get(one.question, frozenset()):
            worst.setdefault(one.question, one)
    yield from worst.values()


def _in_sheet(way: Way) -> str:
    """The key within a sheet, places counted from 1; empty for what is in none."""
    match way:
        case ("fitting", int(), "unit", *inner) if inner:
            text = ""
            for part in inner:
                text += f"[{part + 1}]" if isinstance(part, int) else f".{part}"
            return text.removeprefix(".")
        case _:
            return ""


def _limits(book: Rulebook, finding: Finding) -> Iterator[LimitOrigin]:
    own = {(one.rule, one.limit) for one in book.overrides}
    for rule in book.rules:
        if rule.question == finding.question and rule.authority in finding.authority:
            yield from _of_rule(rule, own, book.mark)


def _of_rule(rule: Rule, own: set[tuple[str, str]], mark: str) -> Iterator[LimitOrigin]:
    for name in (*rule.limits, *rule.unset):
        figure, source = rule.limits.get(name), rule.source(name)
        yield LimitOrigin(
            name=name.replace("_", " "),
            value=figure,
            dimension=rule.dimensions.get(name),
            document=source.document,
            clause=source.clause if source.clause_known else None,
            edition=mark,
            grade=figure.grade if figure else source.grade,
            own=(rule.id, name) in own,
            note=source.note,
            rule=rule.id,
        )
