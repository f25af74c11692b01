"""Variants are kept as texts, never changed, never lost."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path
from uuid import uuid4

import pytest
from alembic import command
from alembic.config import Config

from limen.store.database import Library, NoSuchSiteError, open_library
from limen.store.database.connecting import connect, writing
from limen.store.database.migrating import _SCRIPTS
from limen.store.database.variants import (
    NoSuchVariantError,
    keep_variant,
    put_variant_away,
    variant_of,
    variants_of,
)

NOON = datetime(2026, 11, 25, 12, tzinfo=UTC)
TEXT = '"fitting[outside].settings.tilt" = "-2.5 deg ± 0.2 deg"\n'


@pytest.fixture
def library(tmp_path: Path) -> Iterator[Library]:
    opened = open_library(tmp_path / "library.db", lambda: NOON, lambda: uuid4().hex)
    yield opened
    opened.close()


def test_a_variant_comes_back_as_it_was_kept(library: Library) -> None:
    site = library.add("A", "x = 1").id
    kept = keep_variant(library, site, "main", "Nearer", TEXT)
    assert variant_of(library, site, "main", kept.id) == kept
    assert kept.text == TEXT
    assert not kept.away


def test_variants_are_those_of_their_own_doorway_and_site(library: Library) -> None:
    one, other = (library.add(name, f"# {name}").id for name in "ab")
    kept = keep_variant(library, one, "main", "Nearer", TEXT)
    keep_variant(library, one, "back", "Nearer", TEXT)
    keep_variant(library, other, "main", "Nearer", TEXT)
    assert variants_of(library, one, "main") == (kept,)
    with pytest.raises(NoSuchVariantError):
        variant_of(library, other, "main", kept.id)


def test_a_variant_that_is_put_away_is_still_there(library: Library) -> None:
    site = library.add("A", "x = 1").id
    kept = keep_variant(library, site, "main", "Nearer", TEXT)
    for away in (True, False):
        put_variant_away(library, kept.id, away=away)
        (found,) = variants_of(library, site, "main")
        assert (found.away, found.text) == (away, TEXT)


def test_a_site_that_is_not_there_has_no_variant(library: Library) -> None:
    with pytest.raises(NoSuchSiteError):
        keep_variant(library, "none", "main", "Nearer", TEXT)


def test_a_library_without_variants_gets_a_table_of_them_and_keeps_its_texts(
    tmp_path: Path,
) -> None:
    path = tmp_path / "library.db"
    _of_the_second_form(path)
    library = open_library(path, lambda: NOON, lambda: "new")
    assert variants_of(library, "old", "main") == ()
    keep_variant(library, "old", "main", "Nearer", TEXT)
    library.close()
    copies = list(tmp_path.glob("library-before-0002-ends.db"))
    with closing(sqlite3.connect(copies[0])) as copy:
        assert copy.execute("SELECT name FROM site").fetchall() == [("A",)]


def _of_the_second_form(path: Path) -> None:
    engine = connect(path)
    config = Config()
    config.set_main_option("script_location", str(_SCRIPTS).replace("%", "%%"))
    with writing(engine).begin() as connection:
        config.attributes["connection"] = connection
        command.upgrade(config, "0002")
        connection.exec_driver_sql("INSERT INTO site VALUES ('old', 'A', 1, 0)")
        connection.exec_driver_sql(
            "INSERT INTO version VALUES"
            " ('old', 1, 'A', 'x = 1', 'd', 'added', 'then', 1, NULL)"
        )
    engine.dispose()
