"""Rooms and readings over the years as pictures, each with its words and figures."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from math import radians

from limen.desk.life_courses import Course
from limen.desk.life_courses import Mark as Kept
from limen.draw.over_time import (
    Dot,
    Heading,
    Limit,
    Mark,
    OverTime,
    draw_over_time,
)
from limen.findings import Measure, Message
from limen.quantity import Dimension, Show
from limen.web.look import Look
from limen.words import reading, say, say_question
from limen.words.drifting import said_drift
from limen.words.places import said_case, say_unit
from limen.words.saying import say_measure, say_word

WIDE, NARROW = 680.0, 340.0
UNITS = {
    (Dimension.LENGTH, False): 0.001,
    (Dimension.LENGTH, True): 0.0254,
    (Dimension.ANGLE, False): radians(1.0),
    (Dimension.ANGLE, True): radians(1.0),
}
"""By dimension, and whether in feet, the unit whose round numbers are written."""
MONTH = 365.25 / 12  # days
FARTHEST = 120 * MONTH  # days
APART = ", "
VERDICTS: dict[str, Mark] = {
    "holds": "holds",
    "fails": "fails",
    "not shown": "not shown",
}
READ: dict[str, Mark] = {"found": "found", "left": "left"}


@dataclass(frozen=True, slots=True)
class Figure:
    """A value in the table beside a picture.

    Attributes:
        day: the day.
        value: what it was.
        how: where it is from, in words.
        mark: of a verdict; empty for what was read.
    """

    day: str
    value: str
    how: str
    mark: str = ""


@dataclass(frozen=True, slots=True)
class Drawn:
    """A picture with what it says.

    Attributes:
        id: what it is called on the page.
        title: what it shows.
        says: whether it drifts, in words.
        drifts: whether it does.
        wide, narrow: the picture for a wide screen and for a phone.
        figures: its values.
        others: other cases of the same question, one line each.
    """

    id: str
    title: str
    says: str
    drifts: bool
    wide: str
    narrow: str
    figures: tuple[Figure, ...]
    others: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Pictures:
    """The pictures of a doorway.

    Attributes:
        drifting: of whatever drifts, the soonest at its limit first.
        margins, readings: the others.
        alike: questions of which the room never changed, one line each.
    """

    drifting: tuple[Drawn, ...]
    margins: tuple[Drawn, ...]
    readings: tuple[Drawn, ...]
    alike: tuple[str, ...]


def pictures(
    margins: Sequence[Course], readings: Sequence[Course], look: Look, on: date
) -> Pictures:
    """Draw what drifts, and of each question the case with the least room.

    Args:
        margins: rooms of questions over the records.
        readings: what was read over the visits.
        look: how the reader wants pages.
        on: the day it is.
    """
    moving = [one for one in margins if _differs(one, look.system)]
    drifting = [one for one in (*readings, *moving) if one.found.shown]
    still = [one for one in moving if not one.found.shown]
    questions = dict.fromkeys(one.of for one in still)
    grouped = [[one for one in still if one.of == of] for of in questions]
    return Pictures(
        tuple(_drawn(one, look, on) for one in drifting),
        tuple(_of_question(group, look, on) for group in grouped),
        tuple(_drawn(one, look, on) for one in readings if not one.found.shown),
        tuple(_alike([one for one in margins if one not in moving], look)),
    )


def _differs(one: Course, system: Show) -> bool:
    """Whether anybody who reads its values sees that they are not the same."""
    return len({_measured(one, mark.value, system) for mark in one.marks}) > 1


def _of_question(group: Sequence[Course], look: Look, on: date) -> Drawn:
    worst = min(group, key=lambda one: one.last.value)
    others = [one for one in group if one is not worst]
    return _drawn(worst, look, on, tuple(_other(one, look) for one in others))


def _other(one: Course, look: Look) -> str:
    said = {
        "where": _where(one) or say_question(one.of),
        "was": _value(one, one.marks[0], look.system),
        "now": _value(one, one.last, look.system),
    }
    return _say("other", **said)


def _alike(courses: Iterable[Course], look: Look) -> Iterable[str]:
    worst: dict[str, Course] = {}
    for one in courses:
        if one.of not in worst or one.last.value < worst[one.of].last.value:
            worst[one.of] = one
    for one in worst.values():
        value = _value(one, one.last, look.system)
        yield say(Message("life.apart", {"one": title_of(one), "other": value}))


# One picture ------------------------------------------------------------------------


def _drawn(one: Course, look: Look, on: date, others: tuple[str, ...] = ()) -> Drawn:
    title = title_of(one)
    says = said_drift(one.found, one.dimension, look.system)
    shown = _over_time(one, title, says, look, on)
    named = "-".join(
        part for part in (one.of, one.fitting, one.case, str(one.row or "")) if part
    )
    return Drawn(
        "".join(each if each.isalnum() else "-" for each in named),
        title,
        says,
        one.found.shown,
        draw_over_time(shown, WIDE),
        draw_over_time(shown, NARROW),
        tuple(_figure(one, mark, look.system) for mark in reversed(one.marks)),
        others,
    )


def title_of(one: Course) -> str:
    """What a course shows, in words."""
    where = _where(one)
    if one.least == 0.0 and not _read(one):
        said = {"question": say_question(one.of), "where": where}
        return _say("margin_where" if where else "margin", **said)
    of, _, which = one.of.partition(" ")
    named = (
        say_word("life.course.lens", which)
        if of == "lens"
        else say_word("readings_page.kind", one.of)
    )
    unit, what = say_unit(one.fitting), APART.join([named, *_place(one)])
    return _say("of_unit", unit=f"{unit[:1].upper()}{unit[1:]}", what=what)


def _read(one: Course) -> bool:
    return any(mark.how in READ for mark in one.marks)


def _where(one: Course) -> str:
    parts = [say_unit(one.fitting)] if one.fitting else []
    parts += [said_case(one.case)] if one.case else []
    return APART.join(parts)


def _place(one: Course) -> Iterable[str]:
    if one.of.startswith("lens"):
        return
    if one.row is not None:
        yield say(Message("visits.readings.row", {"row": one.row}))
    if one.end:
        yield say(Message(f"visits.readings.end_{one.end}"))
    if one.place is not None:
        along = Measure(one.place, Dimension.LENGTH)
        yield say(Message("life.course.at", {"along": along}))


def _over_time(one: Course, title: str, says: str, look: Look, on: date) -> OverTime:
    feet = look.system is Show.FEET
    length = one.dimension is Dimension.LENGTH
    first, last = one.marks[0], one.last
    told = {
        "first": _value(one, first, look.system),
        "first_day": first.day.isoformat(),
        "last": _value(one, last, look.system),
        "last_day": last.day.isoformat(),
        "drift": says,
    }
    return OverTime(
        title,
        _say("describe", **told),
        _axis(one),
        tuple(_dot(one, mark, look.system) for mark in one.marks),
        tuple(_limits(one, look.system)),
        _heading(one, on),
        UNITS.get((one.dimension, feet), 1.0),
        lambda value: _measured(one, value, look.system),
        feet and length,
        reading(),
    )


def _axis(one: Course) -> str:
    if not _read(one):
        return _say("axis_margin")
    if one.of == "lens height":
        return _say("axis_lens_height")
    along = one.of in {"row end", "lens along"}
    return _say("axis_along" if along else "axis_reading")


def _dot(one: Course, mark: Kept, system: Show) -> Dot:
    drawn = READ.get(mark.how) or VERDICTS.get(mark.verdict, "not shown")
    label = _measured(one, mark.value, system)
    return Dot(mark.day, mark.value, drawn, mark.u, mark.anew, label)


def _limits(one: Course, system: Show) -> Iterable[Limit]:
    if not _read(one):
        yield Limit(0.0, _say("limit"))
        return
    for name in ("least", "most"):
        value: float | None = getattr(one, name)
        if value is not None:
            said = _measured(one, value, system)
            yield Limit(value, _say(name, value=said))


def _heading(one: Course, on: date) -> Heading | None:
    """The line as it was found, from its first mark on."""
    found = one.found
    if not found.shown or found.slope is None:
        return None
    runs = [n for n, mark in enumerate(one.marks) if mark.anew]
    since = one.marks[runs[-1] if runs else 0].day

    def line(day: date) -> tuple[date, float]:
        years = (day - on).days / 365.25
        return day, found.level + (found.slope or 0.0) * years

    if found.reach is None:
        return Heading(line(since), line(one.last.day))
    soonest, likely, latest = (
        on + timedelta(days=max(min(MONTH * months, FARTHEST), -FARTHEST))
        for months in (found.reach.soonest, found.reach.likely, found.reach.latest)
    )
    upto = max(likely, one.last.day)
    return Heading(line(since), line(upto), soonest, latest, found.reach.limit)


def _figure(one: Course, mark: Kept, system: Show) -> Figure:
    how = _say(mark.how, **({"number": mark.of} if mark.how == "record" else {}))
    return Figure(mark.day.isoformat(), _value(one, mark, system), how, mark.verdict)


def _value(one: Course, mark: Kept, system: Show) -> str:
    value = _measured(one, mark.value, system)
    if not mark.u:
        return value
    return _say("value", value=value, u=_measured(one, mark.u, system))


def _measured(one: Course, value: float, system: Show) -> str:
    return say_measure(Measure(value, one.dimension), system)


def _say(key: str, /, **values: str) -> str:
    return say(Message(f"life.course.{key}", values))
