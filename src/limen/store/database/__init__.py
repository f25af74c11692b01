"""Sites kept: a site is its TOML text and a version; nothing is ever overwritten."""

from limen.store.database.home import data_home
from limen.store.database.library import Library, open_library
from limen.store.database.listing import Known, Listed, know, listed
from limen.store.database.stored import (
    Clash,
    NoSuchSiteError,
    NothingToUndoError,
    Stored,
    Version,
)
from limen.store.database.trouble import NotKeptError

__all__ = [
    "Clash",
    "Known",
    "Library",
    "Listed",
    "NoSuchSiteError",
    "NotKeptError",
    "NothingToUndoError",
    "Stored",
    "Version",
    "data_home",
    "know",
    "listed",
    "open_library",
]
