"""Sites kept: a site is its TOML text and a version; nothing is ever overwritten."""

from limen.store.database.home import data_home
from limen.store.database.library import Library, open_library
from limen.store.database.stored import (
    Clash,
    NoSuchSiteError,
    NothingToUndoError,
    Stored,
    Version,
)

__all__ = [
    "Clash",
    "Library",
    "NoSuchSiteError",
    "NothingToUndoError",
    "Stored",
    "Version",
    "data_home",
    "open_library",
]
