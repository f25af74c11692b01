"""The list of doorways is filtered, counted and put in order by the database."""

from collections.abc import Iterator
from datetime import UTC, datetime
from itertools import count
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from limen.store.database import Library, open_library
from limen.store.database.doors import (
    DoorStudied,
    DoorText,
    SiteChecks,
    put_checks,
    put_doors,
    put_studied,
    put_unread,
    stale_sites,
    unread_sites,
    unstudied,
)
from limen.store.database.doors_asked import (
    Failing,
    Now,
    Sort,
    Wanted,
    doors_asked,
    doors_choices,
    doors_counted,
    doors_failing,
)
from limen.store.database.doors_due import doors_due
from limen.store.database.doors_met import DoorMet, Upto, came_in, put_met
from limen.store.editing import digest

NOW = Now("key", "2026-11-25")
NAMES = ("North door", "Main entrance", "Yard door")


@pytest.fixture
def library(tmp_path: Path) -> Iterator[Library]:
    ids = (f"s{number}" for number in count(1))
    one = open_library(
        tmp_path / "l.db", lambda: datetime(2026, 11, 25, tzinfo=UTC), lambda: next(ids)
    )
    for site, place in (("Beta", "Quay"), ("Alpha", "Hill")):
        kept = one.add(site, site)
        texts = [_text(site, place, number) for number in range(3)]
        put_doors(one, kept.id, digest(site), texts)
    yield one
    one.close()


def _text(site: str, place: str, number: int) -> DoorText:
    name = NAMES[number]
    return DoorText(
        doorway=f"d{number}",
        name=name,
        place=place,
        rulebook="en" if number else "us",
        person="R. Okafor" if number == 1 else "",
        route=f"{place} loop",
        by_name=name.casefold(),
        by_site=site.casefold(),
        by_place=place.casefold(),
        sought=f"{name}\n{site}\n{place}".casefold(),
    )


def _studied(site: str, mend: int = 0, **more: object) -> DoorStudied:
    fields: dict[str, object] = {
        "digest": digest(site),
        "key": "key",
        "studied": NOW.day,
        "judged": True,
        "mend": mend,
        "measure": 0,
        "office": 0,
        "due_must": True,
        "answers": {},
        **more,
    }
    return DoorStudied(**fields)  # pyright: ignore[reportArgumentType]


def _ids(library: Library, wanted: Wanted | None = None, **how: object) -> list[str]:
    found = doors_asked(library, wanted or Wanted(), NOW, **how)  # pyright: ignore[reportArgumentType]
    return [f"{one.site}/{one.doorway}" for one in found]


def test_doorways_stand_by_site_and_name_and_turned_by_the_column_alone(
    library: Library,
) -> None:
    assert _ids(library) == ["s2/d1", "s2/d0", "s2/d2", "s1/d1", "s1/d0", "s1/d2"]
    assert _ids(library, down=True)[:3] == ["s1/d1", "s1/d0", "s1/d2"]
    assert _ids(library, start=4, most=2) == ["s1/d0", "s1/d2"]


def test_words_filters_and_sites_put_away_leave_out(library: Library) -> None:
    assert _ids(library, Wanted(words=("door", "alpha"))) == ["s2/d0", "s2/d2"]
    assert _ids(library, Wanted(place="Quay", person="R. Okafor")) == ["s1/d1"]
    assert _ids(library, Wanted(rulebook="us", route="Hill loop")) == ["s2/d0"]
    library.put_away("s2", archived=True)
    assert {one[:2] for one in _ids(library)} == {"s1"}


def test_what_is_not_known_counts_as_nothing_else(library: Library) -> None:
    put_studied(library, {("s1", "d0"): _studied("Beta", 2)})
    put_studied(library, {("s1", "d1"): _studied("Beta", 3, key="another")})
    put_studied(library, {("s1", "d2"): _studied("a text of before", 4)})
    assert _ids(library, Wanted(state="mend")) == ["s1/d0"]
    counts = doors_counted(library, Wanted(), NOW)
    assert counts.states["all"] == 6
    assert counts.states["mend"] == 1
    assert counts.states["unknown"] == 5


def test_a_study_of_an_earlier_day_is_shown_and_said_to_be(library: Library) -> None:
    earlier = _studied("Beta", 1, studied="2026-11-20")
    put_studied(library, {("s1", "d0"): earlier})
    counts = doors_counted(library, Wanted(), NOW)
    assert (counts.earlier, counts.first_day) == (1, "2026-11-20")
    left = unstudied(library, NOW.key, NOW.day)
    assert left[-1] == ("s1", "d0")
    assert len(left) == 6


def test_a_check_becomes_overdue_by_the_day_alone(library: Library) -> None:
    put_studied(library, {("s1", "d0"): _studied("Beta")})
    checks = {"d0": ("day", "2026-11-24"), "d1": ("day", "2026-12-31")}
    put_checks(library, "key", {"s1": SiteChecks(digest("Beta"), checks)})
    put_checks(library, "key", {"s2": SiteChecks("another", {"d0": ("at once", None)})})
    assert _ids(library, Wanted(state="overdue")) == ["s1/d0"]
    (late,) = doors_asked(library, Wanted(state="mend"), NOW)
    assert (late.mend, late.due) == (1, "overdue")
    before = Now("key", "2026-11-24")
    assert not doors_asked(library, Wanted(state="overdue"), before)
    told = doors_due(library, Wanted(), NOW, "site", ("2026-11", "2026-12"))
    counts = {one.name: one.counts for one in told.places}
    assert counts["Beta"] == {"overdue": 1, "2026-12": 1, "none": 1}
    (first,) = doors_due(library, Wanted(), NOW, "site", ("2026-11",), 1).places
    assert first.counts == {"overdue": 1, "after-2026-11": 1, "none": 1}
    assert _ids(library, Wanted(due="2026-12")) == ["s1/d1"]
    assert _ids(library, Wanted(due="after-2026-11")) == ["s1/d1"]
    assert _ids(library, sort="due")[:2] == ["s1/d0", "s1/d1"]


def test_what_fails_most_counts_each_doorway_once_and_filters(library: Library) -> None:
    answers = {"leaf.gaps": "fails", "site.marking": "not shown"}
    put_studied(
        library,
        {
            ("s1", "d0"): _studied("Beta", answers=answers),
            ("s1", "d1"): _studied("Beta", answers={"leaf.gaps": "fails"}),
            ("s2", "d0"): _studied("Alpha", answers={"leaf.gaps": "advised"}),
        },
    )
    assert doors_failing(library, Wanted(), NOW) == (
        Failing("leaf.gaps", 2, 0, 1),
        Failing("site.marking", 0, 1, 0),
    )
    asked = Wanted(question="site.marking", answer="not shown")
    assert _ids(library, asked) == ["s1/d0"]
    put_studied(library, {("s1", "d0"): _studied("Beta")})
    assert _ids(library, asked) == []


def test_another_text_takes_away_what_was_known_and_doorways_that_are_gone(
    library: Library,
) -> None:
    put_studied(
        library, {("s1", "d0"): _studied("Beta", answers={"leaf.gaps": "fails"})}
    )
    put_doors(library, "s1", digest("Beta"), [_text("Beta", "Quay", 0)])
    assert _ids(library, Wanted(site="s1")) == ["s1/d0"]
    assert doors_failing(library, Wanted(), NOW) == ()
    assert doors_counted(library, Wanted(site="s1"), NOW).states["unknown"] == 1


def test_a_site_is_stale_until_its_text_of_now_was_read(library: Library) -> None:
    assert stale_sites(library, "key") == ()
    kept = library.save("s1", "Beta otherwise", 1)
    (stale,) = stale_sites(library, "key")
    assert (stale.id, stale.digest) == ("s1", digest("Beta otherwise"))
    put_unread(library, "s1", stale.digest, "key")
    assert kept
    assert stale_sites(library, "key") == ()
    assert [one.id for one in stale_sites(library, "a sheet came back")] == ["s1"]
    assert unread_sites(library) == (("s1", "Beta"),)


def test_how_doorways_were_left_filters_and_sorts(library: Library) -> None:
    left = DoorMet(2, "v", "2026-10-01T10:00:00Z", "out of use", open=1)
    put_met(library, {("s1", "d2"): left, ("s1", "d0"): DoorMet()}, Upto(0, 0))
    assert _ids(library, Wanted(state="defects")) == ["s1/d2"]
    assert _ids(library, Wanted(state="open")) == ["s1/d2"]
    assert len(_ids(library, Wanted(state="never"))) == 5
    assert _ids(library, sort="visit", down=True)[0] == "s1/d2"
    assert came_in(library, 10).doors == frozenset()


def test_one_can_choose_among_what_there_is(library: Library) -> None:
    found = doors_choices(library, 10)
    assert found["rulebook"] == ("en", "us")
    assert found["person"] == ("R. Okafor",)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=12)
@given(
    sort=st.sampled_from(
        ["site", "name", "place", "mend", "measure", "due", "visit", "open"]
    ),
    down=st.booleans(),
    most=st.integers(1, 4),
)
def test_pages_put_together_are_the_whole_list(
    library: Library, sort: Sort, down: bool, most: int
) -> None:
    whole = _ids(library, sort=sort, down=down)
    parts = [
        _ids(library, sort=sort, down=down, start=start, most=most)
        for start in range(0, len(whole), most)
    ]
    assert [one for part in parts for one in part] == whole
    assert len(set(whole)) == 6
