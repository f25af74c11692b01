"""A study as rows of tables: one a finding, one a doorway.

Names of columns, questions, weights, verdicts and units are the same in every
language; sentences are the reader's.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Literal

from limen.exchange.groups import groups
from limen.exchange.symbols import SI
from limen.exchange.tally import tally
from limen.findings import Finding, Study, Verdict
from limen.keep.due import Due
from limen.quantity import Show
from limen.words import said_clause, say

Value = str | int | float | bool | None
Row = list[Value]
Kind = Literal["text", "number", "count", "flag", "day"]
State = Literal["studied", "not read", "not judged", "broken", "lost"]

WHERE: Mapping[str, Kind] = {
    "file": "text",
    "site": "text",
    "place": "text",
    "doorway": "text",
    "name": "text",
}
"""Columns that both tables begin with."""
FOUND: Mapping[str, Kind] = {
    "question": "text",
    "fitting": "text",
    "case": "text",
    "weight": "text",
    "stricter": "flag",
    "verdict": "text",
    "to_confirm": "flag",
    "margin": "number",
    "unit": "text",
    "clause": "text",
    "because": "text",
    "remedy": "text",
    "to_settle": "text",
}
"""What follows in the table of findings."""
SUMMED: Mapping[str, Kind] = {
    "state": "text",
    "rulebook": "text",
    "edition": "text",
    "on": "day",
    "mend": "count",
    "measure": "count",
    "office": "count",
    "advised": "count",
    "fails": "count",
    "not_shown": "count",
    "holds": "count",
    "not_asked": "count",
    "worst": "text",
    "worst_verdict": "text",
    "worst_margin": "number",
    "worst_unit": "text",
    "due": "text",
    "next_due": "day",
    "person": "text",
    "route": "text",
    "told": "text",
}
"""What follows in the table of doorways."""
FINDINGS: Mapping[str, Kind] = {**WHERE, **FOUND}
DOORWAYS: Mapping[str, Kind] = {**WHERE, **SUMMED}


@dataclass(frozen=True, slots=True)
class Rows:
    """What is written of a doorway.

    Attributes:
        where: site, place, id and name; the file goes before them.
        door: the columns of `SUMMED`.
        findings: the columns of `FOUND`, one row a finding.
        lacks: what would settle its doubts, in words, by the keys that would.
    """

    where: Row
    door: Row
    findings: list[Row]
    lacks: dict[str, str] = field(default_factory=dict[str, str])


def rows_of(
    study: Study, site: str, place: str, due: Due | None, *, system: Show = Show.METRIC
) -> Rows:
    """The rows of a doorway that was studied.

    Args:
        study: what was found.
        site: the name of its site.
        place: where that is.
        due: its next check; None where the rulebook does not ask.
        system: units inside the sentences; margins stay SI.
    """
    door = study.doorway
    where: Row = [site, place, door.id, door.name]
    findings = [_finding(one, system) for one in study.findings]
    return Rows(where, _door(study, due), findings, _lacks(study, system))


def rows_without(
    state: State, told: str, *, on: date, site: str = "", door: str = "", name: str = ""
) -> Rows:
    """The row of a doorway, or a file, that was not studied.

    Args:
        state: why not, in a word.
        told: why not, in full.
        on: the day for which it was asked.
        site: the name of its site, where that is known.
        door: its id, where there is one.
        name: its name.
    """
    said: dict[str, Value] = {"state": state, "on": on.isoformat(), "told": told}
    return Rows([site, "", door, name], [said.get(key) for key in SUMMED], [])


def _lacks(study: Study, system: Show) -> dict[str, str]:
    """What would settle it, each key once, in the words of the first that asks."""
    said: dict[str, str] = {}
    for finding in study.of(Verdict.NOT_SHOWN):
        for lack in finding.lacking:
            if lack.key not in said:
                said[lack.key] = say(lack.message, system=system)
    return said


def _door(study: Study, due: Due | None) -> Row:
    counts = tally(study.findings)
    worst = groups(study.findings, every=True)[0].worst
    bad = worst.verdict in (Verdict.FAILS, Verdict.NOT_SHOWN)
    margin, unit = _margin(worst) if bad else (None, None)
    return [
        "studied",
        study.rulebook,
        study.edition,
        study.on.isoformat() if study.on else None,
        *(counts.mend, counts.measure, counts.office, counts.advised),
        len(study.of(Verdict.FAILS)),
        len(study.of(Verdict.NOT_SHOWN)),
        len(study.of(Verdict.HOLDS)),
        len(study.of(Verdict.NOT_ASKED)),
        *((worst.question, worst.verdict.value) if bad else (None, None)),
        *(margin, unit),
        due.state if due else "not asked",
        due.day.isoformat() if due and due.day else None,
        *((due.person or None, due.route or None) if due else (None, None)),
        None,
    ]


def _finding(one: Finding, system: Show) -> Row:
    return [
        one.question,
        one.fitting,
        one.case,
        one.weight.value,
        one.stricter,
        one.verdict.value,
        one.to_confirm,
        *_margin(one),
        _clauses(one),
        say(one.because, system=system),
        say(one.remedy.message, system=system) if one.remedy else None,
        "; ".join(lack.key for lack in one.lacking) or None,
    ]


def _margin(one: Finding) -> tuple[float | None, str | None]:
    if one.margin is None:
        return None, None
    return one.margin.value, SI[one.margin.dimension]


def _clauses(one: Finding) -> str | None:
    """Where the figures stand, each place once."""
    said = (
        say(said_clause(each.document, each.clause if each.clause_known else None))
        for each in one.authority
    )
    return "; ".join(dict.fromkeys(said)) or None
