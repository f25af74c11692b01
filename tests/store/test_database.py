"""A site is its text and a version; no text that was kept is ever lost."""

import sqlite3
import stat
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from uuid import uuid4

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sqlalchemy import text as sql

from limen.store.database import (
    Clash,
    Library,
    NoSuchSiteError,
    NothingToUndoError,
    Stored,
    data_home,
    open_library,
)
from limen.store.database.connecting import connect, writing
from limen.store.database.home import NoHomeError
from limen.store.database.migrating import NewerDatabaseError
from limen.store.database.tables import METADATA
from limen.store.editing import digest

NOON = datetime(2026, 11, 25, 12, tzinfo=UTC)


def _noon() -> datetime:
    return NOON


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "50% of it" / "library.db"


@pytest.fixture
def library(path: Path) -> Iterator[Library]:
    opened = open_library(path, _noon, _an_id)
    yield opened
    opened.close()


def _an_id() -> str:
    return uuid4().hex


def _saved(kept: Stored | Clash) -> Stored:
    assert isinstance(kept, Stored)
    return kept


def test_what_was_kept_is_read_byte_for_byte(library: Library) -> None:
    text = '# Größe\r\nname = "A"\r\n\tx = 1 # end without a line break'
    kept = library.add("A", text)
    again = library.read(kept.id)
    assert again == kept
    assert (again.text, again.version, again.digest) == (text, 1, digest(text))
    assert again.changed == "2026-11-25T12:00:00+00:00"


def test_sites_are_listed_by_name_without_regard_to_capitals(library: Library) -> None:
    for name in ("b", "A", "C"):
        library.add(name, "")
    assert [one.name for one in library.sites()] == ["A", "b", "C"]


def test_the_second_of_two_saves_from_one_version_gets_both_texts(
    library: Library,
) -> None:
    site = library.add("A", "x = 1")
    theirs = _saved(library.save(site.id, "x = 2", 1))
    clash = library.save(site.id, "x = 3", 1)
    assert clash == Clash("x = 3", 1, theirs)
    assert library.read(site.id).text == "x = 2"


def test_a_save_that_is_sent_twice_counts_once(library: Library) -> None:
    site = library.add("A", "x = 1")
    first = library.save(site.id, "x = 2", 1)
    assert library.save(site.id, "x = 2", 1) == first


def test_undo_and_redo_are_versions_of_their_own(library: Library) -> None:
    site = library.add("A", "x = 1")
    library.save(site.id, "x = 2", 1, "B")
    back = _saved(library.undo(site.id, 2))
    assert (back.text, back.name, back.version) == ("x = 1", "A", 3)
    assert (back.can_undo, back.can_redo) == (False, True)
    forth = _saved(library.redo(site.id, 3))
    assert (forth.text, forth.name, forth.version) == ("x = 2", "B", 4)
    told = [(one.number, one.why) for one in library.history(site.id)]
    assert told == [(4, "redone"), (3, "undone"), (2, "saved"), (1, "added")]


def test_after_a_new_text_what_was_undone_is_still_in_the_history(
    library: Library,
) -> None:
    site = library.add("A", "x = 1")
    library.save(site.id, "x = 2", 1)
    library.undo(site.id, 2)
    fresh = _saved(library.save(site.id, "x = 3", 3))
    assert not fresh.can_redo
    assert library.text(site.id, 2) == "x = 2"


def test_what_cannot_be_undone_is_said(library: Library) -> None:
    site = library.add("A", "x = 1")
    with pytest.raises(NothingToUndoError):
        library.undo(site.id, 1)
    with pytest.raises(NothingToUndoError):
        library.redo(site.id, 1)


def test_a_step_back_from_an_old_version_is_too_late(library: Library) -> None:
    site = library.add("A", "x = 1")
    library.save(site.id, "x = 2", 1)
    assert isinstance(library.undo(site.id, 1), Clash)


def test_what_is_put_away_can_be_taken_out_again(library: Library) -> None:
    site = library.add("A", "x = 1")
    assert library.put_away(site.id, archived=True).archived
    assert library.put_away(site.id, archived=False) == site


def test_a_site_that_is_not_there_is_told_by_every_verb(library: Library) -> None:
    with pytest.raises(NoSuchSiteError):
        library.read("x")
    with pytest.raises(NoSuchSiteError):
        library.save("x", "", 1)
    with pytest.raises(NoSuchSiteError):
        library.put_away("x", archived=True)
    with pytest.raises(NoSuchSiteError):
        library.history("x")


@pytest.fixture(scope="module")
def shared(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Library]:
    """One library for many draws; each draw has a site of its own."""
    opened = open_library(
        tmp_path_factory.mktemp("shared") / "library.db", _noon, _an_id
    )
    yield opened
    opened.close()


@settings(max_examples=40)
@given(moves=st.lists(st.sampled_from(["save", "undo", "redo"]), max_size=12))
def test_undo_and_redo_walk_the_texts_as_an_editor_does(
    shared: Library, moves: list[str]
) -> None:
    """Against a list of texts with a place in it, as every editor keeps one."""
    library = shared
    site = library.add("A", "0")
    texts, place = ["0"], 0
    for number, move in enumerate(moves, 1):
        if move == "save":
            site = _saved(library.save(site.id, str(number), site.version))
            texts, place = [*texts[: place + 1], str(number)], place + 1
        elif (move == "undo" and site.can_undo) or (move == "redo" and site.can_redo):
            step = library.undo if move == "undo" else library.redo
            site = _saved(step(site.id, site.version))
            place += -1 if move == "undo" else 1
        assert site.text == texts[place]
        assert site.can_undo == (place > 0)
        assert site.can_redo == (place < len(texts) - 1)


# The file ------------------------------------------------------------------------


def test_the_file_and_its_journal_are_for_the_owner_alone(
    library: Library, path: Path
) -> None:
    library.add("A", "")
    modes = {
        one.name: stat.S_IMODE(one.stat().st_mode) for one in path.parent.iterdir()
    }
    assert set(modes.values()) == {0o600}
    assert "library.db-wal" in modes


def test_every_connection_of_the_pool_is_settled(library: Library) -> None:
    asked = ("journal_mode", "synchronous", "foreign_keys", "busy_timeout")
    held = [library.engine.connect() for _ in range(3)]
    for connection in held:
        found = [connection.exec_driver_sql(f"PRAGMA {one}").scalar() for one in asked]
        assert found == ["wal", 2, 1, 5000]  # 2 is FULL
        trusted = connection.exec_driver_sql("PRAGMA trusted_schema").scalar()
        assert trusted == 0
        connection.close()


def test_a_write_has_the_database_for_itself_from_its_first_moment(
    library: Library, path: Path
) -> None:
    other = sqlite3.connect(path, timeout=0, isolation_level=None)
    locked = pytest.raises(sqlite3.OperationalError, match="locked")
    with writing(library.engine).begin(), locked:
        other.execute("BEGIN IMMEDIATE")
    other.close()


def test_the_migrations_make_the_tables_that_are_used(library: Library) -> None:
    with library.engine.connect() as connection:
        for table in METADATA.tables.values():
            rows = connection.execute(sql(f"PRAGMA table_info({table.name})")).all()
            there = {row.name: (row.notnull == 0, row.pk > 0) for row in rows}
            wanted = {c.name: (bool(c.nullable), c.primary_key) for c in table.columns}
            assert there == wanted


def test_a_library_that_is_opened_again_is_as_it_was(path: Path) -> None:
    first = open_library(path, _noon, _an_id)
    site = first.add("A", "x = 1")
    first.close()
    again = open_library(path, _noon, _an_id)
    assert again.sites() == (site,)
    again.close()


def test_a_library_of_a_newer_limen_is_left_alone(path: Path) -> None:
    open_library(path, _noon, _an_id).close()
    newer = connect(path)
    with writing(newer).begin() as connection:
        connection.execute(sql("UPDATE alembic_version SET version_num = '9999'"))
    newer.dispose()
    with pytest.raises(NewerDatabaseError):
        open_library(path, _noon, _an_id)


# Where it is ---------------------------------------------------------------------


@pytest.mark.parametrize(
    ("environ", "platform", "there"),
    [
        ({"LIMEN_HOME": "/a", "HOME": "/h"}, "linux", "/a"),
        ({"XDG_DATA_HOME": "/d", "HOME": "/h"}, "linux", "/d/limen"),
        (
            {"XDG_DATA_HOME": "not/from/root", "HOME": "/h"},
            "linux",
            "/h/.local/share/limen",
        ),
        ({"HOME": "/h"}, "darwin", "/h/Library/Application Support/limen"),
    ],
)
def test_the_library_is_where_the_platform_keeps_such_things(
    environ: dict[str, str], platform: str, there: str
) -> None:
    assert data_home(environ, platform) == Path(there)


def test_without_a_home_nothing_is_guessed() -> None:
    with pytest.raises(NoHomeError, match="LIMEN_HOME"):
        data_home({}, "linux")
