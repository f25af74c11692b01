"""Five hundred doorways: what the database says of them is what is counted by hand.

The rows are read as they lie and gone through one by one, in plain Python that knows
no index and no order in which a query is answered.
"""

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from itertools import count, product
from random import Random
from typing import Any, get_args

import pytest
from sqlalchemy import select

from limen.store.database import Library, open_library
from limen.store.database.doors import (
    DoorStudied,
    DoorText,
    SiteChecks,
    put_checks,
    put_doors,
    put_studied,
)
from limen.store.database.doors_asked import (
    ANSWERS,
    STATES,
    Group,
    Now,
    Sort,
    State,
    Wanted,
    doors_asked,
    doors_counted,
    doors_failing,
)
from limen.store.database.doors_due import doors_due
from limen.store.database.doors_met import DoorMet, Upto, put_met
from limen.store.database.listing import listed
from limen.store.database.tables import DOOR, DOOR_ANSWER, DOOR_MET, SITE
from limen.store.editing import digest

NOON = datetime(2026, 11, 25, 12, tzinfo=UTC)
NOW = Now("key", "2026-11-25")
SITES, EACH = 50, 10
PLACES = ("Alder Quay", "Birch Hill", "Dunmere")
NAMES = ("Main entrance", "Inner door", "Yard door")
QUESTIONS = ("presence.threshold", "leaf.gaps", "site.marking", "wiring.supply")
LEFT = ("in use", "in use with defects", "out of use", "")
BY: tuple[Group, ...] = ("site", "place", "route", "person")
WANTED = (
    Wanted(),
    Wanted(words=("birch", "yard")),
    Wanted(words=("nothing like it",)),
    Wanted(place="Dunmere", rulebook="us"),
    Wanted(person="M. Lind", due="overdue"),
    Wanted(due="2026-12"),
    Wanted(due="after-2026-12", route="loop"),
    Wanted(question="leaf.gaps", answer="advised"),
    Wanted(question="site.marking", answer="not shown", due="none"),
)


@dataclass(frozen=True, slots=True)
class Door:
    """A doorway as it lies in the tables: its row, its visits, its answers."""

    row: dict[str, Any]
    met: dict[str, Any]
    answers: dict[str, str]

    @property
    def known(self) -> bool:
        """Whether it was studied since anything changed that it rests on."""
        return self.row["key"] == NOW.key

    @property
    def month(self) -> str:
        """When its check is due."""
        due, day = self.row["due"], self.row["due_day"]
        if self.row["due_key"] != NOW.key or due not in ("at once", "day"):
            return "none"
        return "overdue" if due == "at once" or day < NOW.day else day[:7]

    @property
    def mend(self) -> int:
        """Musts that fail, an overdue check among them."""
        late = self.month == "overdue" and self.row["due_must"]
        return self.row["mend"] + late if self.known else 0


IN: dict[State, Callable[[Door], bool]] = {
    "all": lambda _: True,
    "mend": lambda one: one.mend > 0,
    "measure": lambda one: one.known and one.row["measure"] > 0,
    "overdue": lambda one: one.month == "overdue",
    "defects": lambda one: one.met.get("left_as") in LEFT[1:3],
    "open": lambda one: one.met.get("open", 0) > 0,
    "never": lambda one: one.met.get("visits", 0) == 0,
    "unknown": lambda one: not one.known,
}
RANKS = {"at once": 0, "overdue": 1, "not known": 2, "day": 3, "not asked": 4}


@pytest.fixture(scope="module")
def library(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Library]:
    """Five hundred doorways at fifty sites, in all the ways there are."""
    ids = (f"s{number}" for number in count())
    path = tmp_path_factory.mktemp("many") / "library.db"
    one = open_library(path, lambda: NOON, lambda: next(ids))
    draw = Random(7)
    for number in range(SITES):
        _site(one, f"{draw.choice(PLACES)} {number}", draw)
    for gone in ("s3", "s17", "s40"):
        one.put_away(gone, archived=True)
    yield one
    one.close()


def _site(library: Library, name: str, draw: Random) -> None:
    site = library.add(name, name).id
    doors = [_text(name, door, draw) for door in range(EACH)]
    put_doors(library, site, digest(name), doors)
    met: dict[tuple[str, str], DoorMet] = {}
    checks: dict[str, tuple[str, str | None]] = {}
    for door in doors:
        if draw.random() < 0.8:
            met[site, door.doorway] = _met(draw)
        due = draw.choice(("day", "day", "day", "at once", "not known", ""))
        if due:
            checks[door.doorway] = (due, _day(draw, -60, 200) if due == "day" else None)
        if draw.random() < 0.9:
            study = _study(name, draw)
            put_studied(library, {(site, door.doorway): study})
    put_met(library, met, Upto())
    key = draw.choice((NOW.key, NOW.key, NOW.key, "another"))
    put_checks(library, key, {site: SiteChecks(digest(name), checks)})


def _text(site: str, number: int, draw: Random) -> DoorText:
    name, place = f"{draw.choice(NAMES)} {number}", site.rpartition(" ")[0]
    return DoorText(
        doorway=f"d{number}",
        name=name,
        place=place,
        rulebook=draw.choice(("en", "us")),
        person=draw.choice(("M. Lind", "R. Okafor", "")),
        route=draw.choice(("loop", "")),
        by_name=name.casefold(),
        by_site=site.casefold(),
        by_place=place.casefold(),
        sought=f"{name}\n{site}".casefold(),
    )


def _study(text: str, draw: Random) -> DoorStudied:
    return DoorStudied(
        digest=digest(text),
        key=draw.choice((NOW.key, NOW.key, NOW.key, "another")),
        studied=draw.choice((NOW.day, NOW.day, _day(draw, -20, 0))),
        judged=True,
        mend=draw.choice((0, 0, 2)),
        measure=draw.choice((0, 0, 1)),
        office=draw.randrange(3),
        due_must=draw.random() < 0.5,
        answers={one: draw.choice(ANSWERS) for one in QUESTIONS if draw.random() < 0.5},
    )


def _met(draw: Random) -> DoorMet:
    visits = draw.randrange(3)
    begun = f"{_day(draw, -900, 0)}T10:00:00Z" if visits else ""
    left = draw.choice(LEFT) if visits else ""
    return DoorMet(visits, "v" if visits else None, begun, left, draw.choice((0, 0, 1)))


def _day(draw: Random, least: int, most: int) -> str:
    return (NOON.date() + timedelta(draw.randrange(least, most))).isoformat()


@pytest.fixture(scope="module")
def doors(library: Library) -> tuple[Door, ...]:
    """Each doorway of a site that is not put away."""
    with library.engine.connect() as connection:
        away = set(connection.scalars(select(SITE.c.id).where(SITE.c.archived)))
        rows = [dict(one._mapping) for one in connection.execute(select(DOOR))]
        met = [dict(one._mapping) for one in connection.execute(select(DOOR_MET))]
        said = connection.execute(select(DOOR_ANSWER)).all()
    by_door = {(one["site"], one["doorway"]): one for one in met}
    answers: dict[int, dict[str, str]] = {}
    for one in said:
        answers.setdefault(one.door, {})[one.question] = one.verdict
    return tuple(
        Door(
            row,
            by_door.get((row["site"], row["doorway"]), {}),
            answers.get(row["number"], {}),
        )
        for row in rows
        if row["site"] not in away
    )


def _fits(one: Door, wanted: Wanted) -> bool:
    """Whether a doorway is among those that are asked for, its state apart."""
    same = ("site", "place", "rulebook", "person", "route")
    asked = {name: getattr(wanted, name) for name in same}
    if any(told and one.row[name] != told for name, told in asked.items()):
        return False
    if not all(word in one.row["sought"] for word in wanted.words):
        return False
    answer = one.answers.get(wanted.question) if one.known else None
    if wanted.question and answer != wanted.answer:
        return False
    after = wanted.due.removeprefix("after-")
    if after != wanted.due:
        return one.month[0] == "2" and one.month > after
    return not wanted.due or one.month == wanted.due


def _by(one: Door, sort: Sort) -> tuple[Any, ...]:
    """By what a doorway is put in order."""
    row, due = one.row, one.row["due"] if one.row["due_key"] == NOW.key else ""
    late = "overdue" if one.month == "overdue" and due == "day" else due
    match sort:
        case "site" | "name" | "place":
            return (row[f"by_{sort}"],)
        case "mend":
            return one.mend, not one.known
        case "measure":
            return row["measure"] if one.known else 0, not one.known
        case "due":
            return RANKS.get(late, 5), row["due_day"] or "9999"
        case "visit":
            return (one.met.get("begun", ""),)
        case "open":
            return (one.met.get("open", 0),)


def _among(doors: tuple[Door, ...], wanted: Wanted) -> list[Door]:
    return [one for one in doors if _fits(one, wanted)]


def test_the_library_holds_every_way_a_doorway_can_be(doors: tuple[Door, ...]) -> None:
    assert len(doors) == (SITES - 3) * EACH
    for state in STATES:
        assert any(map(IN[state], doors)), state
    months = {one.month for one in doors}
    assert {"overdue", "none", "2026-12"} < months


@pytest.mark.parametrize("wanted", WANTED)
def test_the_counts_of_states_are_those_of_the_rows(
    library: Library, doors: tuple[Door, ...], wanted: Wanted
) -> None:
    found = doors_counted(library, wanted, NOW)
    among = _among(doors, wanted)
    assert found.states == {one: sum(map(IN[one], among)) for one in STATES}
    earlier = [
        one.row["studied"]
        for one in among
        if one.known and one.row["studied"] != NOW.day
    ]
    assert (found.earlier, found.first_day) == (len(earlier), min(earlier, default=""))


@pytest.mark.parametrize("wanted", WANTED)
def test_what_fails_most_is_counted_from_the_answers_of_what_is_known(
    library: Library, doors: tuple[Door, ...], wanted: Wanted
) -> None:
    told = Counter(
        pair
        for one in _among(doors, wanted)
        if one.known
        for pair in one.answers.items()
    )
    rows = [
        (question, *(told[question, answer] for answer in ANSWERS))
        for question in {question for question, _ in told}
    ]
    rows.sort(key=lambda one: (*(-count for count in one[1:]), one[0]))
    found = doors_failing(library, wanted, NOW)
    assert [
        (one.question, one.fails, one.not_shown, one.advised) for one in found
    ] == rows


@pytest.mark.parametrize("by", BY)
@pytest.mark.parametrize("wanted", WANTED)
def test_what_is_due_where_is_counted_by_month(
    library: Library, doors: tuple[Door, ...], wanted: Wanted, by: Group
) -> None:
    named = {one.id: one.name for one in listed(library)} if by == "site" else {}
    months, later = ("2026-11", "2026-12"), "after-2026-12"
    told: dict[str, Counter[str]] = {}
    total: Counter[str] = Counter()
    soonest: dict[str, str] = {}
    for one in _among(doors, wanted):
        group = one.row[by]
        column = one.month if one.month in ("overdue", *months, "none") else later
        told.setdefault(group, Counter())[column] += 1
        total[column] += 1
        day = one.month if one.month not in ("overdue", "none") else "9999"
        soonest[group] = min(soonest.get(group, "9999"), day)
    found = doors_due(library, wanted, NOW, by, months)
    assert {one.group: (one.name, one.counts) for one in found.places} == {
        group: (named.get(group, group), counts) for group, counts in told.items()
    }
    assert (found.of, found.total) == (len(told), total)
    order = [(-told[one.group]["overdue"], soonest[one.group]) for one in found.places]
    assert order == sorted(order)
    few = doors_due(library, wanted, NOW, by, months, 2)
    assert few.places == found.places[:2]
    assert (few.of, few.total) == (found.of, found.total)


@pytest.mark.parametrize("sort", get_args(Sort))
@pytest.mark.parametrize("down", [False, True])
def test_the_list_stands_as_its_rows_are_put_in_order(
    library: Library, doors: tuple[Door, ...], sort: Sort, down: bool
) -> None:
    for wanted, state in product(WANTED[:3], STATES):
        told = [one for one in _among(doors, wanted) if IN[state](one)]
        told.sort(
            key=lambda one: tuple(
                one.row[name] for name in ("by_site", "by_name", "number")
            )
        )
        told.sort(key=lambda one: _by(one, sort), reverse=down)
        asked = replace(wanted, state=state)
        found = doors_asked(library, asked, NOW, sort=sort, down=down, start=2, most=60)
        assert [(one.site, one.doorway, one.mend) for one in found] == [
            (one.row["site"], one.row["doorway"], one.mend) for one in told[2:62]
        ]
