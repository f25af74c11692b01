"""A list of sites is made without reading a text; what it says can be thrown away."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path
from uuid import uuid4

import pytest
from alembic import command
from alembic.config import Config
from sqlalchemy import event

from limen.store.database import Known, Library, know, listed, open_library
from limen.store.database.connecting import connect, writing
from limen.store.database.migrating import _SCRIPTS
from limen.store.editing import digest

NOON = datetime(2026, 11, 25, 12, tzinfo=UTC)
KNOWN = Known(digest("x = 1"), "today", "something")


@pytest.fixture
def library(tmp_path: Path) -> Iterator[Library]:
    opened = open_library(tmp_path / "library.db", lambda: NOON, lambda: uuid4().hex)
    yield opened
    opened.close()


def test_a_list_says_the_same_of_a_site_as_the_site_itself(library: Library) -> None:
    for name in ("b", "A"):
        library.add(name, f"# {name}")
    library.save(library.sites()[0].id, "# again", 1)
    library.put_away(library.sites()[1].id, archived=True)
    shown = [
        (one.id, one.name, one.version, one.digest, one.archived, one.changed)
        for one in listed(library)
    ]
    assert shown == [
        (one.id, one.name, one.version, one.digest, one.archived, one.changed)
        for one in library.sites()
    ]
    only = listed(library, shown[1][0])
    assert [one.id for one in only] == [shown[1][0]]


def test_sites_stand_where_a_reader_of_any_language_looks_for_them(
    library: Library,
) -> None:
    names = ["Zentrum", "Öffentliche Bücherei", "École", "ostbau", "Einkauf"]
    for name in names:
        library.add(name, "# a text")
    shown = [one.name for one in listed(library)]
    assert shown == ["École", "Einkauf", "Öffentliche Bücherei", "ostbau", "Zentrum"]
    assert [one.name for one in library.sites()] == shown


def test_a_list_looks_at_no_text_but_those_that_count(library: Library) -> None:
    asked: list[str] = []
    event.listen(
        library.engine,
        "before_cursor_execute",
        lambda *told: asked.append(told[2]) if "version" in told[2] else None,
    )
    listed(library)
    (query,) = asked
    with library.engine.connect() as connection:
        plan = connection.exec_driver_sql(f"EXPLAIN QUERY PLAN {query}").all()
    steps = [row.detail for row in plan]
    assert any(one.startswith("SEARCH version") for one in steps)
    assert not any(one.startswith("SCAN version") for one in steps)


def test_what_is_known_of_a_site_is_replaced(library: Library) -> None:
    site = library.add("A", "x = 1")
    assert listed(library)[0].known is None
    know(library, site.id, KNOWN)
    assert listed(library)[0].known == KNOWN
    newer = Known(KNOWN.digest, "tomorrow", "something else")
    know(library, site.id, newer)
    assert listed(library)[0].known == newer


def test_a_library_of_the_first_form_keeps_all_its_texts(tmp_path: Path) -> None:
    path = tmp_path / "library.db"
    _of_the_first_form(path)
    library = open_library(path, lambda: NOON, lambda: "new")
    kept = library.read("old")
    know(library, "old", KNOWN)
    assert listed(library)[0].known == KNOWN
    library.close()
    assert (kept.text, kept.version) == ("x = 1", 1)
    copies = list(tmp_path.glob("library-before-0001-ends.db"))
    with closing(sqlite3.connect(copies[0])) as copy:
        assert copy.execute("SELECT text FROM version").fetchall() == [("x = 1",)]


def _of_the_first_form(path: Path) -> None:
    engine = connect(path)
    config = Config()
    config.set_main_option("script_location", str(_SCRIPTS).replace("%", "%%"))
    with writing(engine).begin() as connection:
        config.attributes["connection"] = connection
        command.upgrade(config, "0001")
        connection.exec_driver_sql("INSERT INTO site VALUES ('old', 'A', 1, 0)")
        connection.exec_driver_sql(
            "INSERT INTO version VALUES"
            " ('old', 1, 'A', 'x = 1', ?, 'added', 'then', 1, NULL)",
            (digest("x = 1"),),
        )
    engine.dispose()
