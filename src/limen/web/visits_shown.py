"""What the pages of visits say: how a door was left, what was tested, read and done."""

import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from limen.desk.changes_said import outcome_of, thing_of
from limen.desk.fact_words import said_change, said_key
from limen.desk.visits import Folded
from limen.desk.visits_changes import ReadAgain, Since, Turned
from limen.desk.visits_settling import DESK
from limen.findings import Message
from limen.model.visit import DefectEvent, Event, HandedOverEvent, StepEvent
from limen.model.visited import Conflict
from limen.quantity import Show
from limen.web.visits_said import Named, Told, said, value_name
from limen.words import say, say_count, say_question
from limen.words.places import said_case, say_unit
from limen.words.saying import say_word
from limen.words.visits import (
    said_answer,
    said_moment,
    said_state,
)

APART = ", "
MARKS = {
    "stayed open": "holds",
    "touched": "fails",
    "lamp only": "not shown",
    "cannot": "not asked",
}
"""By answer of a test the mark that stands before it."""


@dataclass(frozen=True, slots=True)
class Line:
    """A visit in a list.

    Attributes:
        visit: its id.
        day: the day on which it began, as claimed.
        began: the time of that.
        people: who worked.
        why: why, and for what.
        left: how the door is left; empty while that is not said.
        counts: tests, failed ones, defects, things to settle, record: in words.
        asks: whether something is to be settled.
        doorway: id of the doorway.
    """

    visit: str
    day: str
    began: str
    people: str
    why: str
    left: str
    counts: tuple[str, ...]
    asks: bool
    doorway: str


@dataclass(frozen=True, slots=True)
class Tested:
    """A test as it ended last.

    Attributes:
        mark: the mark that stands before it.
        title: what was tested.
        answer: how it ended.
        before: how it ended before, earliest first.
    """

    mark: str
    title: str
    answer: str
    before: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Asked:
    """Something to be settled.

    Attributes:
        title: of what different things are said.
        what: by whom.
        options: ids of the events, with what each says.
    """

    title: str
    what: str
    options: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Signature:
    """A hand's strokes as a drawing: its box and its path."""

    box: str
    path: str


@dataclass(frozen=True, slots=True)
class Row:
    """An event in the list of all.

    Attributes:
        device, number, moment: which, and when as it claims.
        said: what it says.
        apart: why it does not count; empty if it does.
    """

    device: str
    number: int
    moment: str
    said: str
    apart: str = ""


def line(one: Folded) -> Line:
    """A visit as a list shows it."""
    found = one.found
    first = found.started or found.events[0]
    handed = found.handed_over
    return Line(
        visit=one.visit,
        day=first.at[:10],
        began=said_moment(first.at),
        people=APART.join(found.people) or _say("nobody"),
        why=why(one),
        left=said_state(one.raw[handed.id]["said"]) if handed else "",
        counts=tuple(_counts(one)),
        asks=bool(found.conflicts),
        doorway=one.doorway,
    )


def why(one: Folded) -> str:
    """Why somebody came, and for what; empty if nobody said that it began."""
    started = one.found.started
    if started is None:
        return ""
    return _say(
        "began",
        why=say_word("visits.why", started.said.found),
        budget=say_word("visits.budget", started.said.budget),
    )


def tested(of: Named) -> Iterator[Tested]:
    """The tests that were made, each once, those that devices contradict left out."""
    for step, last in of.one.found.answers.items():
        before = tuple(
            said_answer(of.told(each))
            for each in of.one.found.standing
            if isinstance(each, StepEvent)
            and each.said.step == step
            and each.id != last.id
        )
        answer = said_answer(of.told(last))
        yield Tested(MARKS[last.said.answer], of.step(step), answer, before)


def asked(of: Named) -> tuple[Asked, ...]:
    """What is to be settled."""
    return tuple(_asked(of, each) for each in of.one.found.conflicts)


def signature(strokes: Iterable[Iterable[Iterable[float]]]) -> Signature | None:
    """Strokes as a drawing; None if there are none.

    Args:
        strokes: each a line of points, in pixels.
    """
    lines = [[(float(x), float(y)) for x, y in stroke] for stroke in strokes]
    points = [point for stroke in lines for point in stroke]
    if not points:
        return None
    left, top = (min(one[axis] for one in points) for axis in (0, 1))
    right, bottom = (max(one[axis] for one in points) for axis in (0, 1))
    edge = max(right - left, bottom - top, 1.0) * 0.05
    wide, high = right - left + 2 * edge, bottom - top + 2 * edge
    return Signature(
        f"{left - edge:.5g} {top - edge:.5g} {wide:.5g} {high:.5g}",
        "".join(_stroke(one) for one in lines if one),
    )


def _stroke(points: list[tuple[float, float]]) -> str:
    """A line through points; a single one is a dot."""
    (x, y), *rest = points
    rest = rest or [(x, y)]
    return f"M{x:.5g} {y:.5g}" + "".join(f"L{a:.5g} {b:.5g}" for a, b in rest)


# All events ----------------------------------------------------------------------


def rows(of: Named) -> Iterator[Row]:
    """Every event in order, with why it does not count where it does not."""
    for event in of.one.found.events:
        yield Row(
            of.devices[event.device],
            event.seq,
            said_moment(event.at),
            said(of, event),
            _apart(of.one, event),
        )


def phones(of: Named) -> list[str]:
    """What the devices are called here, and what they call themselves."""
    return [
        say(Message("visits.device.id", {"name": name, "device": device}))
        for device, name in of.devices.items()
        if not device.startswith(f"{DESK}-")
    ]


def gone(of: Named) -> Iterator[str]:
    """What does not count and is kept all the same, and what may be missing."""
    for each in of.one.refused:
        told = json.loads(each.text)
        number = {"device": told["device"], "seq": told["seq"]}
        moment = said_moment(told["at"])
        yield _say(
            "apart.refused", moment=moment, why=_say(f"clash.{each.why}"), **number
        )
    for device, runs in of.one.not_here.items():
        numbers = APART.join(_run(*run) for run in runs)
        yield _say("apart.not_here", device=of.devices[device], numbers=numbers)


def _run(first: int, last: int) -> str:
    return (
        str(first) if first == last else _say("apart.numbers", first=first, last=last)
    )


def _apart(one: Folded, event: Event) -> str:
    if event.id in one.found.taken_back:
        return _say("apart.back")
    if event.id in one.found.set_aside:
        return _say("apart.aside")
    return _say("apart.late") if event.id in one.late else ""


# Parts ---------------------------------------------------------------------------


def _counts(one: Folded) -> Iterator[str]:
    found = one.found
    steps = list(found.answers.values())
    failed = sum(each.said.answer == "touched" for each in steps)
    defects = sum(isinstance(each, DefectEvent) for each in found.standing)
    yield say_count("visits.line.tests", len(steps))
    if failed:
        yield say_count("visits.line.touched", failed)
    if defects:
        yield say_count("visits.line.defects", defects)
    if found.conflicts:
        yield say_count("visits.line.conflicts", len(found.conflicts))
    record = one.record
    yield _say("line.sealed", number=record.number) if record else _say("line.unsealed")


def _asked(of: Named, conflict: Conflict) -> Asked:
    devices = dict.fromkeys(of.devices[each.device] for each in conflict.events)
    options = tuple((each.id, _option(of, each)) for each in conflict.events)
    what = _say("settle.what", devices=APART.join(devices))
    return Asked(_title(of, conflict), what, options)


def _option(of: Named, event: Event) -> str:
    return _say(
        "settle.says",
        device=of.devices[event.device],
        moment=said_moment(event.at),
        said=_says(of.told(event), event),
    )


def _title(of: Named, conflict: Conflict) -> str:
    match conflict.about:
        case "step":
            return _say("settle.of_step", of=of.step(conflict.of))
        case "handed_over":
            return _say("settle.of_hand")
        case _:
            return _say("settle.of_value", of=value_name(of.one.doorway, conflict.of))


def _says(told: Told, event: Event) -> str:
    match event:
        case StepEvent():
            return said_answer(told)
        case HandedOverEvent():
            return said_state(told)
        case _:
            return str(told.get("value", ""))


# Since the last record -----------------------------------------------------------


def since_rows(found: Since, system: Show) -> dict[str, list[tuple[str, str]]]:
    """What is not as it was, section by section: name and what became of it."""
    return {
        "settings": [
            (said_key(one.key), said_change(one, system))
            for one in found.settings or ()
        ],
        "findings": [(_question(one), _verdicts(one)) for one in found.findings],
        "readings": [
            (thing_of(one, found.record.doorway), _outcome(one, system))
            for one in found.readings
        ],
    }


def _outcome(one: ReadAgain, system: Show) -> str:
    return say(outcome_of(one, system), system=system)


def _question(one: Turned) -> str:
    where = [say_unit(one.fitting)] if one.fitting else []
    where += [said_case(one.case)] if one.case else []
    return APART.join([say_question(one.question), *where])


def _verdicts(one: Turned) -> str:
    was, now = (
        say_word("verdict", word) if word else _say("since.unasked")
        for word in (one.was, one.now)
    )
    said = _say("since.was", was=was, now=now)
    return f"{said} ({_say('since.reopened')})" if one.reopened else said


def _say(key: str, **values: str | int) -> str:
    return say(Message(f"visits.{key}", values))
