"""What keeps a text from being kept though nothing is wrong with it."""

import sqlite3
from collections.abc import Mapping
from typing import Literal

from sqlalchemy import Engine, event
from sqlalchemy.engine import ExceptionContext

Why = Literal["busy", "full", "refused"]

_PRIMARY = 0xFF  # of an extended code, the byte that says what kind it is
_REASONS: Mapping[int, Why] = {
    sqlite3.SQLITE_BUSY: "busy",
    sqlite3.SQLITE_LOCKED: "busy",
    sqlite3.SQLITE_FULL: "full",
    sqlite3.SQLITE_IOERR: "refused",
    sqlite3.SQLITE_READONLY: "refused",
    sqlite3.SQLITE_PERM: "refused",
    sqlite3.SQLITE_CANTOPEN: "refused",
}


class NotKeptError(Exception):
    """Nothing was kept: the database is held by another program, or the disk is full.

    Attributes:
        why: ``busy`` (try again), ``full`` (no room is left) or ``refused`` (the
            disk does not let the file be written or read).
    """

    def __init__(self, why: Why, said: str = "") -> None:
        """Say why."""
        super().__init__(said or why)
        self.why = why


def name_trouble(engine: Engine) -> None:
    """Let an engine raise `NotKeptError` where the disk, not the request, is at fault.

    Args:
        engine: connections to the database.
    """
    event.listen(engine, "handle_error", _named, retval=True)


def _named(context: ExceptionContext) -> NotKeptError | None:
    error = context.original_exception
    if isinstance(error, sqlite3.Error):
        # An error made by the driver itself carries no code.
        code = getattr(error, "sqlite_errorcode", 0) & _PRIMARY
        if why := _REASONS.get(code):
            return NotKeptError(why, str(error))
    return None
