"""What a fleet adds up to: what fails most, what is not shown most, what is due."""

import re
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from limen.exchange.contract import Json
from limen.exchange.fleet_rows import FOUND, SUMMED, Row, Rows, Value

MOST_NAMED = 100
"""Doorways that are named one by one; all of them stand in the table."""
_QUESTION, _WEIGHT = list(FOUND).index("question"), list(FOUND).index("weight")
_VERDICT, _LACKING = list(FOUND).index("verdict"), list(FOUND).index("to_settle")
_STATE, _DUE = list(SUMMED).index("state"), list(SUMMED).index("due")
_DAY = list(SUMMED).index("next_due")
_LATE = ("at once", "overdue")
_FIGURE = re.compile(r"values: (?P<rule>\S+) (?P<limit>\S+)")
"""The key of what a rulebook's figure would settle."""


@dataclass(slots=True)
class Summary:
    """Counts of doorways, added to one by one.

    Attributes:
        states: doorways by whether they were studied, and why not.
        verdicts: findings by verdict.
        fails, not_shown: doorways by question.
        must_fails, must_not_shown: the same, of weight must only.
        settles: doorways by key of the file that would settle what is not shown.
        words: the same in words, as the first doorway that lacks it says it.
        doors: doorways in which a must fails; in which none fails but one is not
            shown; the rest.
        due: doorways by how their next check stands.
        late: the most overdue: day, file, doorway, name.
    """

    states: Counter[str] = field(default_factory=Counter[str])
    verdicts: Counter[str] = field(default_factory=Counter[str])
    fails: Counter[str] = field(default_factory=Counter[str])
    not_shown: Counter[str] = field(default_factory=Counter[str])
    must_fails: Counter[str] = field(default_factory=Counter[str])
    must_not_shown: Counter[str] = field(default_factory=Counter[str])
    settles: Counter[str] = field(default_factory=Counter[str])
    words: dict[str, str] = field(default_factory=dict[str, str])
    doors: Counter[str] = field(default_factory=Counter[str])
    due: Counter[str] = field(default_factory=Counter[str])
    late: list[tuple[str, str, str, str]] = field(
        default_factory=list[tuple[str, str, str, str]]
    )


def count(summary: Summary, file: str, rows: Rows) -> None:
    """Add a doorway.

    Args:
        summary: to which.
        file: the file that it is from.
        rows: of the doorway.
    """
    found = rows.findings
    state = str(rows.door[_STATE])
    summary.states[state] += 1
    if state != "studied":
        return
    summary.verdicts.update(str(row[_VERDICT]) for row in found)
    must = [row for row in found if row[_WEIGHT] == "must"]
    for verdict, all_of, musts in (
        ("fails", summary.fails, summary.must_fails),
        ("not shown", summary.not_shown, summary.must_not_shown),
    ):
        all_of.update(_questions(found, verdict))
        musts.update(_questions(must, verdict))
    summary.settles.update(_keys(found))
    for key, words in rows.lacks.items():
        summary.words.setdefault(key, words)
    summary.doors[_door(must)] += 1
    _count_due(summary, file, rows.where, rows.door)


def summed(
    summary: Summary, titles: Mapping[str, str], *, on: str, version: str
) -> Json:
    """A summary as plain values.

    Args:
        summary: of all doorways.
        titles: of the rulebooks that there are, by id and edition: ``en 2012``.
        on: the day.
        version: of limen.
    """
    _trim(summary)
    return {
        "limen": version,
        "schema": 1,
        "on": on,
        "doorways": sum(summary.states.values()),
        "states": _ordered(summary.states),
        "musts": _ordered(summary.doors),
        "findings": _ordered(summary.verdicts),
        "fails": _most(summary.fails, summary.must_fails),
        "not_shown": _most(summary.not_shown, summary.must_not_shown),
        "settled_by": _ordered(summary.settles),
        "settles": [
            {
                "what": summary.words.get(key, key),
                "key": key,
                "figure": _figure(key, titles),
                "doorways": many,
            }
            for key, many in _ordered(summary.settles).items()
        ],
        "due": _ordered(summary.due),
        "late": [
            {"due": day or None, "file": file, "doorway": door, "name": name}
            for day, file, door, name in summary.late
        ],
    }


def _door(must: Iterable[Row]) -> str:
    verdicts = {row[_VERDICT] for row in must}
    if "fails" in verdicts:
        return "fails"
    return "not shown" if "not shown" in verdicts else "neither"


def _questions(found: Iterable[Row], verdict: str) -> set[str]:
    return {str(row[_QUESTION]) for row in found if row[_VERDICT] == verdict}


def _keys(found: Iterable[Row]) -> set[str]:
    lacking = (row[_LACKING] for row in found if row[_VERDICT] == "not shown")
    return {key for keys in lacking if keys for key in str(keys).split("; ")}


def _figure(key: str, titles: Mapping[str, str]) -> Json | None:
    """Which figure of which rulebook it is; None where it is none."""
    named = _FIGURE.fullmatch(key)
    if named is None:
        return None
    rule = named["rule"]
    dotted = {mark.replace(" ", "."): mark for mark in titles}
    of = next((dotted[one] for one in dotted if rule.startswith(f"{one}.")), None)
    book = {"rulebook": of, "title": titles[of]} if of else {}
    return {"rule": rule, "limit": named["limit"], **book}


def _count_due(summary: Summary, file: str, where: Row, door: Row) -> None:
    due = str(door[_DUE])
    summary.due[due] += 1
    if due in _LATE:
        late = (_text(door[_DAY]), file, _text(where[2]), _text(where[3]))
        summary.late.append(late)
        if len(summary.late) > 2 * MOST_NAMED:
            _trim(summary)


def _trim(summary: Summary) -> None:
    summary.late.sort()
    del summary.late[MOST_NAMED:]


def _text(value: Value) -> str:
    return "" if value is None else str(value)


def _ordered(counts: Mapping[str, int]) -> dict[str, int]:
    return dict(sorted(counts.items(), key=lambda one: (-one[1], one[0])))


def _most(every: Mapping[str, int], musts: Mapping[str, int]) -> list[Json]:
    return [
        {"question": name, "doorways": many, "as_must": musts.get(name, 0)}
        for name, many in _ordered(every).items()
    ]
