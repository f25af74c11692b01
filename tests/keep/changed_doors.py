"""Doorways with one fact of them changed, to see what that owes."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from functools import cache

import limen
from limen.desk.changes_doors import At
from limen.desk.reading_facts import looked_at
from limen.desk.shelves import judging, shelf
from limen.keep.differing import named
from limen.keep.owing import Door, Test, answers_of
from limen.keep.touching import Way
from limen.model.doorway import Doorway
from limen.model.fields import Stated
from limen.model.site import Site
from limen.prove.minimum import minimum
from limen.quantity import Quantity
from limen.rules import Rulebook
from limen.study import study
from limen.study.running import asked_of

DAY = date(2026, 11, 26)
SITE = limen.load_site("src/limen/demo/alder-quay-corrected.toml")
DOORS = tuple(one.id for one in SITE.doorway)
LEFT = frozenset({"unit", "hung", "kept", "traffic", "air", "document", "impact"})
"""Parts that no test at the door is about, or that are no fact of the door."""


@cache
def book_of(door: str) -> Rulebook:
    """What judges a doorway of the demo."""
    (book,) = judging([SITE.door(door)], shelf(), "en", None)
    return book


@cache
def as_is(door: str) -> At:
    """A doorway of the demo with all that is asked of it."""
    return at(SITE.door(door), SITE)


def at(door: Doorway, site: Site) -> At:
    """A doorway with all that is asked of it."""
    book = book_of(door.id)
    return At(
        site,
        door,
        study(door, book, on=DAY, site=site),
        looked_at(door, site, book, DAY),
        asked_of(door, book, on=DAY, site=site),
    )


@cache
def steps_of(door: str) -> tuple[Test, ...]:
    """The tests of a doorway of the demo that are never left out."""
    steps = minimum(as_is(door).asked)
    return tuple(
        Test(one.id, one.group, one.minutes, True, one.fitting, one.about)
        for one in steps
    )


@cache
def same(door: str) -> Door:
    """A doorway of the demo that is as it was."""
    one = as_is(door)
    reads = {
        question: frozenset(named(one.door, way) for way in ways)
        for question, ways in one.reads.items()
    }
    answers = answers_of(one.study.findings)
    sides = {fitting.id: fitting.side for fitting in one.door.fitting}
    return Door(answers, answers, reads, sides)


def changed(door: Doorway) -> Door:
    """A doorway of the demo, and what it is now."""
    doors = tuple(door if one.id == door.id else one for one in SITE.doorway)
    site = SITE.model_copy(update={"doorway": doors})
    found = study(door, book_of(door.id), on=DAY, site=site)
    return replace(same(door.id), now=answers_of(found.findings))


def facts(thing: Stated, way: tuple[str | int, ...] = ()) -> Iterator[Way]:
    """Ways to every figure, and every yes or no, that a doorway states."""
    for name in type(thing).model_fields:
        if name in LEFT:
            continue
        value: object = getattr(thing, name)
        here = (*way, name)
        if isinstance(value, Stated):
            yield from facts(value, here)
        elif isinstance(value, tuple):
            for place, one in enumerate(value):
                if isinstance(one, Stated):
                    yield from facts(one, (*here, place))
        elif isinstance(value, Quantity | bool):
            yield here  # pyright: ignore[reportReturnType]  # places are counted here


def turned(thing: Stated, way: tuple[str | int, ...]) -> Stated:
    """The same with one figure a tenth greater, or with no for yes."""
    first, *rest = way
    value: object = getattr(thing, str(first))
    if not rest:
        return thing.model_copy(update={str(first): _other(value)})
    if isinstance(value, tuple):
        place, *on = rest
        assert isinstance(place, int)
        items = list(value)
        items[place] = turned(items[place], tuple(on))
        return thing.model_copy(update={str(first): tuple(items)})
    assert isinstance(value, Stated)
    return thing.model_copy(update={str(first): turned(value, tuple(rest))})


def _other(value: object) -> object:
    if isinstance(value, bool):
        return not value
    assert isinstance(value, Quantity)
    by = 0.1 * abs(value.value) or 0.01
    return replace(value, value=value.value + by)
