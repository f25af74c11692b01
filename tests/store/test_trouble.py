"""A full disk or a held file is told as what it is, and takes nothing along."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest
from sqlalchemy import event

from limen.store.database import Library, NotKeptError, open_library
from limen.store.database.connecting import PRAGMAS

NOON = datetime(2026, 11, 25, 12, tzinfo=UTC)
FULL = 2
"""What SQLite answers for `synchronous=FULL` (its manual, "PRAGMA synchronous")."""


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "library.db"


@pytest.fixture
def library(path: Path) -> Iterator[Library]:
    opened = open_library(path, lambda: NOON, lambda: "site")
    opened.add("A", "x = 1")
    yield opened
    opened.close()


def _asked(library: Library, pragma: str) -> int:
    with library.engine.connect() as connection:
        found = connection.exec_driver_sql(f"PRAGMA {pragma}")
        return int(found.scalar() or 0) if found.returns_rows else 0


def test_a_full_disk_is_told_and_what_was_kept_stays(library: Library) -> None:
    _asked(library, f"max_page_count={_asked(library, 'page_count')}")
    with pytest.raises(NotKeptError) as told:
        library.save("site", "y" * 100_000, 1)
    assert told.value.why == "full"
    assert library.read("site").text == "x = 1"
    _asked(library, "max_page_count=1000000")
    library.save("site", "y" * 100_000, 1)
    assert library.read("site").version == 2


def test_a_held_file_is_told_once_patience_ends(path: Path, library: Library) -> None:
    _asked(library, "busy_timeout=10")
    with closing(sqlite3.connect(path, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(NotKeptError) as told:
            library.save("site", "x = 2", 1)
        assert library.read("site").text == "x = 1"
        other.execute("ROLLBACK")
    assert told.value.why == "busy"
    library.save("site", "x = 2", 1)
    assert library.read("site").version == 2


def test_a_file_that_may_only_be_read_is_told(library: Library) -> None:
    _asked(library, "query_only=ON")
    with pytest.raises(NotKeptError) as told:
        library.save("site", "x = 2", 1)
    assert told.value.why == "refused"


def test_every_connection_of_the_pool_waits_for_the_disk(library: Library) -> None:
    seen: list[object] = []
    event.listen(library.engine, "connect", lambda one, _: seen.append(one))
    open_at_once = [library.engine.connect() for _ in range(6)]
    asked = [one.exec_driver_sql("PRAGMA synchronous").scalar() for one in open_at_once]
    for one in open_at_once:
        one.close()
    assert asked == [FULL] * 6
    assert len(seen) >= 5  # they were made, not one lent out six times
    assert "synchronous=FULL" in PRAGMAS
