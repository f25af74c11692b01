"""Connections to the database file, each with the settings that lose nothing."""

import os
from pathlib import Path

from sqlalchemy import Connection, Engine, create_engine, event
from sqlalchemy.engine.interfaces import DBAPIConnection
from sqlalchemy.pool import ConnectionPoolEntry

from limen.store.database.trouble import name_trouble

PRAGMAS = (
    "journal_mode=WAL",
    "synchronous=FULL",
    "foreign_keys=ON",
    "busy_timeout=5000",
    "trusted_schema=OFF",
)
"""Said on every connection: an answer is given only for what is on the disk."""

_WRITES = "limen_writes"


def connect(path: Path) -> Engine:
    """An engine on a database file, made readable for its owner alone.

    Args:
        path: the file; it and its folder are made if they are not there.

    Raises:
        OSError: the folder or the file cannot be made.
    """
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    os.close(os.open(path, os.O_RDWR | os.O_CREAT, 0o600))
    path.chmod(0o600)  # its journal takes the same mode
    engine = create_engine(f"sqlite:///{path}")
    event.listen(engine, "connect", _settle)
    event.listen(engine, "begin", _begin)
    name_trouble(engine)
    return engine


def writing(engine: Engine) -> Engine:
    """The same engine for writes: each transaction has the database for itself."""
    return engine.execution_options(**{_WRITES: True})


def _settle(connection: DBAPIConnection, _entry: ConnectionPoolEntry) -> None:
    """Make a fresh connection say its pragmas and leave transactions to us."""
    connection.isolation_level = None
    cursor = connection.cursor()
    for pragma in PRAGMAS:
        cursor.execute(f"PRAGMA {pragma}")
    cursor.close()


def _begin(connection: Connection) -> None:
    writes = connection.get_execution_options().get(_WRITES, False)
    # A write that starts as a read can be refused half-way through.
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")
