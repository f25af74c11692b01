"""What a fleet adds up to: what fails most, what is not shown most, what is due."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from limen.exchange.contract import Json
from limen.exchange.fleet_rows import FOUND, SUMMED, Row, Value

MOST_NAMED = 100
"""Doorways that are named one by one; all of them stand in the table."""
_QUESTION, _WEIGHT = list(FOUND).index("question"), list(FOUND).index("weight")
_VERDICT, _LACKING = list(FOUND).index("verdict"), list(FOUND).index("to_settle")
_STATE, _DUE = list(SUMMED).index("state"), list(SUMMED).index("due")
_DAY = list(SUMMED).index("next_due")
_LATE = ("at once", "overdue")


@dataclass(slots=True)
class Summary:
    """Counts of doorways, added to one by one.

    Attributes:
        states: doorways by whether they were studied, and why not.
        verdicts: findings by verdict.
        fails, not_shown: doorways by question.
        must_fails, must_not_shown: the same, of weight must only.
        settles: doorways by key of the file that would settle what is not shown.
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
    doors: Counter[str] = field(default_factory=Counter[str])
    due: Counter[str] = field(default_factory=Counter[str])
    late: list[tuple[str, str, str, str]] = field(
        default_factory=list[tuple[str, str, str, str]]
    )


def count(
    summary: Summary, file: str, where: Row, door: Row, found: Sequence[Row]
) -> None:
    """Add a doorway.

    Args:
        summary: to which.
        file: the file that it is from.
        where: site, place, id and name.
        door: its columns of `SUMMED`.
        found: its findings, columns of `FOUND`.
    """
    state = str(door[_STATE])
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
    summary.doors[_door(must)] += 1
    _count_due(summary, file, where, door)


def summed(summary: Summary, *, on: str, version: str) -> Json:
    """A summary as plain values.

    Args:
        summary: of all doorways.
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
