"""What is assumed or not known, as lines that can be answered in place."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from urllib.parse import urlencode

from limen.desk.fact_words import said_fact
from limen.desk.facts import Part, every_fact
from limen.desk.unknowns import Unknown
from limen.findings import Assumed, Finding, Measure
from limen.quantity import Show
from limen.web.doorway_lines import id_of as finding_id
from limen.web.facts_shown import Dressing, Field, id_of
from limen.words import apart, say, say_measure, say_question, say_word

MOST_NAMED = 4
"""Findings that a line names; the rest are counted."""


@dataclass(frozen=True, slots=True)
class Hangs:
    """A finding that hangs on what is open.

    Attributes:
        name: its question.
        must: whether it is a must.
        address: where it is drawn.
    """

    name: str
    must: bool
    address: str


@dataclass(frozen=True, slots=True)
class Row:
    """One thing that is open.

    Attributes:
        key: of the fact that settles it; its own where none does.
        one: what is known of it.
        name: what it is, in words.
        lacks: what is wanted, in words.
        taken: what was taken in its place: value and grade, in words.
        why: why it was taken.
        opens, rests: questions that wait for it, and that rest on what was taken.
        opens_more, rests_more: how many further ones there are.
        field: where it is typed, if it is a fact.
        part: id and title of the part to be filled in, if it is one.
    """

    key: str
    one: Unknown
    name: str
    lacks: tuple[str, ...]
    taken: tuple[tuple[str, str], ...]
    why: str
    opens: tuple[Hangs, ...]
    rests: tuple[Hangs, ...]
    opens_more: int
    rests_more: int
    field: Field | None = None
    part: tuple[str, str] | None = None


def rows_of(
    unknowns: Iterable[Unknown],
    parts: Sequence[Part],
    dressing: Dressing,
    address: str,
) -> tuple[Row, ...]:
    """Everything that is open, as lines, in its order."""
    facts = {one.key: dressing.field(one) for one in every_fact(parts)}
    return tuple(_row(one, facts, dressing.system, address) for one in unknowns)


def _row(one: Unknown, facts: dict[str, Field], system: Show, address: str) -> Row:
    key = ".".join(map(str, one.way)) or one.key
    field = facts.get(key) if one.where == "door" else None
    opens, rests = _hangs(one.opens, address), _hangs(one.rests, address)
    whys = dict.fromkeys(say(taken.why, system=system) for taken in one.assumed)
    return Row(
        key,
        one,
        field.name if field else "",
        tuple(dict.fromkeys(say(m, system=system) for m in one.lacks)),
        tuple(dict.fromkeys(_taken(taken, system) for taken in one.assumed)),
        apart(whys),
        opens[:MOST_NAMED],
        rests[:MOST_NAMED],
        max(0, len(opens) - MOST_NAMED),
        max(0, len(rests) - MOST_NAMED),
        field,
        _part(one),
    )


def _part(one: Unknown) -> tuple[str, str] | None:
    if one.where not in ("part", "list") or one.told is None:
        return None
    return id_of("p", ".".join(map(str, one.way))), said_fact(one.told)


def _taken(one: Assumed, system: Show) -> tuple[str, str]:
    value = one.value
    said = say_measure(value, system) if isinstance(value, Measure) else value
    return said, say_word("grade", str(one.grade))


def _hangs(findings: Iterable[Finding], address: str) -> tuple[Hangs, ...]:
    """Each question once, musts first; it leads to its first finding."""
    first: dict[str, Finding] = {}
    for one in findings:
        first.setdefault(one.question, one)
    ranked = sorted(first.values(), key=lambda one: one.weight != "must")
    return tuple(
        Hangs(
            say_question(one.question),
            one.weight == "must",
            f"{address}?{urlencode({'finding': finding_id(one)})}",
        )
        for one in ranked
    )
