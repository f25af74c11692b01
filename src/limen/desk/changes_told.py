"""What changed at a door, put into lines for pages, the terminal and programs."""

from collections.abc import Iterator
from dataclasses import dataclass
from importlib.metadata import version
from math import ceil
from typing import Any

from limen.desk.changes import Compared
from limen.desk.changes_said import key_of, outcome_of, said_fact, said_way, thing_of
from limen.findings import Message, Verdict
from limen.keep.differing import Difference
from limen.keep.owing import OwedTest, Owing
from limen.quantity import Show
from limen.words import (
    apart,
    numbered,
    reading,
    say,
    say_count,
    say_question,
    say_unit,
    say_word,
)
from limen.words.places import said_case
from limen.words.visits import said_step

MOST_REASONS = 3
SHORT = 12
"""Digits by which a record is named where it has no number."""


@dataclass(frozen=True, slots=True)
class Line:
    """A thing in a list, and what is said of it.

    Attributes:
        name: what it is.
        says: what is said of it.
        more: further lines.
        mark: the verdict whose mark stands before it; empty if none does.
    """

    name: str
    says: str = ""
    more: tuple[str, ...] = ()
    mark: str = ""


@dataclass(frozen=True, slots=True)
class Group:
    """Tests that are owed for the same reasons.

    Attributes:
        because: the reasons, the nearest first.
        tests: the tests, in the card's order.
    """

    because: tuple[str, ...]
    tests: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class Told:
    """What changed, in words.

    Attributes:
        compared: with what it was compared.
        visits: how many visits since then count; empty if none does.
        notes: what a reader must know of the comparison.
        settings, readings, since: what is not as it was.
        reopened: findings that are open again.
        owed: the tests owed with their minutes, by their reasons.
        total: how many, and how long they take.
        work: what is to be measured or looked at anew.
        left: tests that are not asked again.
        left_total: how many, and how long they would take.
        elsewhere: what is answered otherwise and by no test.
    """

    compared: str
    visits: str
    notes: tuple[str, ...]
    settings: tuple[Line, ...]
    readings: tuple[Line, ...]
    since: tuple[str, ...]
    reopened: tuple[Line, ...]
    owed: tuple[Group, ...]
    total: str
    work: tuple[str, ...]
    left: tuple[Line, ...]
    left_total: str
    elsewhere: tuple[Line, ...]


def told(one: Compared, system: Show = Show.METRIC, *, kept: bool = True) -> Told:
    """What changed at a doorway, in the reader's words and units.

    Args:
        one: what it came to.
        system: the reader's units.
        kept: whether it is of the library; else of files.
    """
    door, owing = one.now.door.id, one.owing
    return Told(
        _compared(one),
        say_count("change.found.visits", one.visits) if one.visits else "",
        tuple(_notes(one, kept=kept)),
        tuple(
            Line(said_way(each.way, door), _from_to(each, system))
            for each in one.settings or ()
        ),
        tuple(
            Line(thing_of(each, door), say(outcome_of(each, system), system=system))
            for each in one.readings
        ),
        one.since,
        tuple(_reopened(one)),
        tuple(_owed(one, system)),
        _total(owing),
        tuple(said_step(each) for each in owing.work),
        tuple(
            Line(_title(one, each.id, system), minutes(each.minutes))
            for each in owing.left
        ),
        say_count("change.left.count", len(owing.left)),
        tuple(
            Line(say_question(question), say_word("change.elsewhere", by))
            for question, by in owing.elsewhere
        ),
    )


def change_json(one: Compared, system: Show = Show.METRIC) -> dict[str, Any]:
    """What changed at a doorway, for programs."""
    from limen.exchange.changed import change_contract, change_head, reading_row

    record: dict[str, Any] = {
        "number": one.then.number,
        "digest": one.then.digest,
        "claimed": one.then.record.get("claimed"),
        "text": one.then.text,
    }
    head = change_head(
        site=one.now.site.name,
        doorway=one.now.door.id,
        record=record,
        on=one.now.study.on,
        version=version("limen"),
    )
    settings = None if one.settings is None else list(_keys(one, system))
    return change_contract(
        head,
        settings,
        [
            reading_row(each, say(outcome_of(each, system), system=system))
            for each in one.readings
        ],
        one.owing,
        {name: step.title for name, step in one.steps.items()},
        since=one.since,
        system=system,
    )


def minutes(value: float) -> str:
    """How long something takes (min), as it is said."""
    taken = numbered(f"{value:g}", reading())
    return say(Message("change.minutes", {"minutes": taken}))


# Parts ---------------------------------------------------------------------------


def _compared(one: Compared) -> str:
    day = str(one.then.record.get("claimed", ""))[:10]
    if one.then.number is None:
        values = {"day": day, "digest": one.then.digest[:SHORT]}
        return say(Message("change.since_file", values))
    return say(Message("change.since", {"number": one.then.number, "day": day}))


def _notes(one: Compared, *, kept: bool) -> Iterator[str]:
    if one.then.text == "not here":
        yield say(Message(f"change.text_gone{'' if kept else '_file'}"))


def _from_to(one: Difference, system: Show) -> str:
    was, now = (said_fact(each, one.way, system) for each in (one.was, one.now))
    return say(Message("history.from_to", {"was": was, "now": now}))


def _keys(one: Compared, system: Show) -> Iterator[dict[str, object]]:
    for each in one.settings or ():
        yield {
            "key": key_of(each.way),
            "what": said_way(each.way, one.now.door.id),
            "was": said_fact(each.was, each.way, system),
            "now": said_fact(each.now, each.way, system),
        }


def _reopened(one: Compared) -> Iterator[Line]:
    """What fell, each by itself; what only its test can show again, by question."""
    rests: dict[str, list[str]] = {}
    for each in one.owing.reopened:
        question, fitting, case = each.key
        parts = [say_unit(fitting)] if fitting else []
        parts += [said_case(case)] if case else []
        if each.why == "rests":
            rests.setdefault(question, []).append(", ".join(parts))
            continue
        name = ", ".join([say_question(question), *parts])
        now = say_word("verdict", each.now.value)
        says = say(Message("change.reopened.fell", {"now": now}))
        yield Line(name, says, (), each.now.value)
    for question, of in rests.items():
        named = [part for part in of if part]
        more = (apart(named),) if named else ()
        says = say(Message("change.reopened.rests"))
        yield Line(say_question(question), says, more, Verdict.HOLDS.value)


def _owed(one: Compared, system: Show) -> Iterator[Group]:
    """The tests owed, those for the same reasons together, in the card's order."""
    groups: dict[tuple[str, ...], list[Line]] = {}
    for each in one.owing.owed:
        because = tuple(reasons(each, system))
        line = Line(_title(one, each.test.id, system), minutes(each.test.minutes))
        groups.setdefault(because, []).append(line)
    for because, tests in groups.items():
        yield Group(because, tuple(tests))


def reasons(one: OwedTest, system: Show) -> Iterator[str]:
    """Why a test is owed: the first reasons, and how many more there are."""
    for why in one.because[:MOST_REASONS]:
        yield say(why, system=system)
    if (more := len(one.because) - MOST_REASONS) > 0:
        yield say_count("change.owed.more", more)


def _title(one: Compared, test: str, system: Show) -> str:
    said = say(one.steps[test].title, system=system)
    return said[:1].upper() + said[1:]


def _total(owing: Owing) -> str:
    counted = say_count("change.owed.count", len(owing.owed))
    return apart([counted, minutes(ceil(owing.minutes))]) if owing.owed else counted
