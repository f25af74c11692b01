"""What is said of doors between visits is kept once, in order, and never changed."""

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from uuid import uuid4

import pytest

from limen.store.database import Library, open_library
from limen.store.database.keeping import KeepingRow, events_about, events_at, keep_event

NOON = datetime(2026, 11, 25, 12, tzinfo=UTC)


@pytest.fixture
def library(tmp_path: Path) -> Iterator[Library]:
    opened = open_library(tmp_path / "library.db", lambda: NOON, lambda: uuid4().hex)
    yield opened
    opened.close()


def _keep(
    library: Library, site: str, *, about: str = "p", kind: str = "planned", **more: str
) -> KeepingRow:
    given = {"doorway": "main", "text": "{}", **more}
    return keep_event(library, about=about, site=site, kind=kind, **given)


def test_events_come_back_in_the_order_in_which_they_came_in(library: Library) -> None:
    site = library.add("A", "x = 1").id
    kept = tuple(_keep(library, site, text=f'{{"n": {n}}}') for n in range(3))
    assert events_about(library, "p") == kept
    assert [one.came for one in kept] == ["2026-11-25T12:00:00+00:00"] * 3


def test_an_event_that_comes_twice_is_kept_as_it_came_first(library: Library) -> None:
    site = library.add("A", "x = 1").id
    kept = _keep(library, site, id="one", text='{"a": 1}')
    assert _keep(library, site, id="one", text='{"a": 2}') == kept
    assert events_about(library, "p") == (kept,)


def test_events_are_found_by_site_doorway_and_kind(library: Library) -> None:
    one, other = (library.add(name, f"# {name}").id for name in "ab")
    kept = _keep(library, one)
    back = _keep(library, one, doorway="back", about="q")
    there = _keep(library, other, kind="reported", about="r")
    assert events_at(library, one) == (kept, back)
    assert events_at(library, one, "back") == (back,)
    assert events_at(library, kinds=["reported"]) == (there,)
    assert events_about(library, "q") == (back,)
