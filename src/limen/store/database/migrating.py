"""The database brought to the newest form, with a copy of it kept before."""

import sqlite3
from contextlib import closing
from pathlib import Path

from alembic import command
from alembic.config import Config
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Engine

from limen.store.database.connecting import writing

_SCRIPTS = Path(__file__).with_name("migrations")


class NewerDatabaseError(Exception):
    """The database was written by a newer limen."""


def migrate(engine: Engine, path: Path) -> None:
    """Bring a database to the newest form; a copy is kept beside it before.

    Args:
        engine: connections to it.
        path: its file.

    Raises:
        NewerDatabaseError: it has a form that this limen does not know; nothing
            is touched.
    """
    scripts = ScriptDirectory(str(_SCRIPTS))
    head, now = scripts.get_current_head(), _revision(engine)
    if now == head:
        return
    if now is not None:
        _refuse_newer(scripts, now, path)
        _keep_copy(path, now)
    with writing(engine).begin() as connection:
        config = Config()
        config.set_main_option("script_location", str(_SCRIPTS).replace("%", "%%"))
        config.attributes["connection"] = connection
        command.upgrade(config, "head")


def _revision(engine: Engine) -> str | None:
    with engine.connect() as connection:
        return MigrationContext.configure(connection).get_current_revision()


def _refuse_newer(scripts: ScriptDirectory, now: str, path: Path) -> None:
    if now not in {one.revision for one in scripts.walk_revisions()}:
        raise NewerDatabaseError(
            f"{path}: written by a newer limen, and left as it is. Use that one, or "
            "set LIMEN_HOME to another folder."
        )


def _keep_copy(path: Path, revision: str) -> None:
    """A whole copy, as the database stands, before its form is changed."""
    copy = path.with_name(f"{path.stem}-before-{revision}-ends{path.suffix}")
    copy.unlink(missing_ok=True)
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        connection.execute("VACUUM INTO ?", (str(copy),))
    copy.chmod(0o600)
