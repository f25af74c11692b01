"""Events are kept once each, records once a visit, and nothing that came is dropped."""

import json
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from threading import Thread
from uuid import uuid4

import pytest
from alembic import command
from alembic.config import Config
from sqlalchemy.exc import IntegrityError

from builders.visit_events import VISIT, raw
from limen.store.database import Library, open_library
from limen.store.database.connecting import connect, writing
from limen.store.database.migrating import _SCRIPTS
from limen.store.database.records import (
    add_paper,
    keep_record,
    record_named,
    record_of,
    records_at,
)
from limen.store.database.visits import (
    ToKeep,
    events_of,
    keep_events,
    keep_own,
    refused_of,
    seqs_of,
    visits_at,
)

NOON = datetime(2026, 11, 26, 12, tzinfo=UTC)


@pytest.fixture
def library(tmp_path: Path) -> Iterator[Library]:
    opened = open_library(tmp_path / "library.db", lambda: NOON, lambda: uuid4().hex)
    yield opened
    opened.close()


@pytest.fixture
def site(library: Library) -> str:
    return library.add("A", "x = 1").id


def _note(site: str, device: str = "a", seq: int = 1, text: str = "x") -> ToKeep:
    one = raw(device, seq, "note", {"text": text}, site=site)
    return ToKeep(one["id"], device, seq, VISIT, site, "main", "note", json.dumps(one))


def test_an_event_that_comes_again_is_kept_once(library: Library, site: str) -> None:
    one, two = _note(site), _note(site, seq=2)
    assert keep_events(library, [one]).new == 1
    done = keep_events(library, [one, two, one])
    assert (done.new, done.again, done.clashes) == (1, 2, ())
    assert [kept.text for kept in events_of(library, site, VISIT)] == [
        one.text,
        two.text,
    ]


@pytest.mark.parametrize("why", ["number", "id", "visit"])
def test_what_is_taken_already_is_refused_and_kept_beside(
    library: Library, site: str, why: str
) -> None:
    one = _note(site)
    keep_events(library, [one])
    clash = {
        "number": replace(_note(site, text="y"), id=str(uuid4())),
        "id": replace(_note(site, seq=2, text="y"), id=one.id),
        "visit": replace(_note(site, seq=2), doorway="back"),
    }[why]
    after = replace(_note(site, seq=3))
    for _ in range(2):
        done = keep_events(library, [clash, after])
        assert [(each.seq, each.why) for each in done.clashes] == [(clash.seq, why)]
    (refused,) = refused_of(library, site, VISIT)
    assert (refused.why, refused.text) == (why, clash.text)
    assert [kept.text for kept in events_of(library, site, VISIT)] == [
        one.text,
        after.text,
    ]


def test_a_site_that_is_not_there_takes_the_whole_batch_down(
    library: Library, site: str
) -> None:
    with pytest.raises(IntegrityError):
        keep_events(library, [_note(site), _note("none", seq=2)])
    assert seqs_of(library, "a") == ()


def test_two_writers_at_once_lose_nothing_and_keep_nothing_twice(
    library: Library, site: str
) -> None:
    batch = [_note(site, seq=seq) for seq in range(1, 41)]
    writers = [
        Thread(target=lambda: [keep_events(library, [one]) for one in batch])
        for _ in range(3)
    ]
    for one in writers:
        one.start()
    for one in writers:
        one.join()
    assert seqs_of(library, "a") == tuple(range(1, 41))


def test_the_desks_own_events_are_numbered_one_after_the_other(
    library: Library, site: str
) -> None:
    made = [
        keep_own(library, "desk", lambda seq: _note(site, "desk", seq)) for _ in "ab"
    ]
    assert [one.seq for one in made] == [1, 2]
    assert seqs_of(library, "desk") == (1, 2)


def test_visits_are_listed_by_what_came_in_last(library: Library, site: str) -> None:
    other = str(uuid4())
    keep_events(library, [_note(site), replace(_note(site, seq=2), visit=other)])
    keep_events(library, [_note(site, seq=3)])
    found = visits_at(library, site, "main")
    assert [one.visit for one in found] == [VISIT, other]
    assert (found[0].first, found[0].last) == (1, 3)
    assert visits_at(library, site, "back") == ()


def test_a_visit_has_one_record_whoever_seals_it(library: Library, site: str) -> None:
    first = keep_record(
        library, site, "main", digest="a" * 64, sealed=b"{}", visit=VISIT, upto=3
    )
    second = keep_record(
        library, site, "main", digest="b" * 64, sealed=b"{ }", visit=VISIT
    )
    assert second == first == record_of(library, VISIT)
    assert record_named(library, "b" * 64) is None


def test_records_are_numbered_at_each_site(library: Library, site: str) -> None:
    other = library.add("B", "x = 2").id
    digests = ["a" * 64, "b" * 64, "c" * 64]
    for digest, where in zip(digests, (site, other, site), strict=True):
        keep_record(library, where, "main", digest=digest, sealed=b"{}")
    assert [one.number for one in records_at(library, site)] == [2, 1]
    assert [one.number for one in records_at(library, other, "main")] == [1]
    assert records_at(library, other, "back") == ()


def test_a_paper_is_added_once(library: Library, site: str) -> None:
    keep_record(library, site, "main", digest="a" * 64, sealed=b"{}")
    for paper in (b"one", b"two"):
        add_paper(library, "a" * 64, paper)
    found = record_named(library, "a" * 64)
    assert found is not None
    assert found.paper == b"one"


def test_a_library_without_visits_gets_their_tables_and_keeps_its_texts(
    tmp_path: Path,
) -> None:
    path = tmp_path / "library.db"
    _of_the_third_form(path)
    library = open_library(path, lambda: NOON, lambda: "new")
    assert visits_at(library, "old") == ()
    assert keep_events(library, [_note("old")]).new == 1
    assert library.read("old").text == "x = 1"
    library.close()
    with closing(sqlite3.connect(tmp_path / "library-before-0003-ends.db")) as copy:
        assert copy.execute("SELECT name FROM site").fetchall() == [("A",)]
        assert not copy.execute(
            "SELECT name FROM sqlite_master WHERE name = 'visit_event'"
        ).fetchall()


def _of_the_third_form(path: Path) -> None:
    engine = connect(path)
    config = Config()
    config.set_main_option("script_location", str(_SCRIPTS).replace("%", "%%"))
    with writing(engine).begin() as connection:
        config.attributes["connection"] = connection
        command.upgrade(config, "0003")
        connection.exec_driver_sql("INSERT INTO site VALUES ('old', 'A', 1, 0)")
        connection.exec_driver_sql(
            "INSERT INTO version VALUES"
            " ('old', 1, 'A', 'x = 1', 'd', 'added', 'then', 1, NULL)"
        )
    engine.dispose()
