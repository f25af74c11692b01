"""What comes out of the database: frozen values."""

from dataclasses import dataclass


class NoSuchSiteError(LookupError):
    """There is no site under this id."""

    def __init__(self, site_id: str) -> None:
        """Say which."""
        super().__init__(f'there is no site "{site_id}"')
        self.site_id = site_id


class NothingToUndoError(LookupError):
    """There is no text before this one, or none after it."""


@dataclass(frozen=True, slots=True)
class Stored:
    """A site as it is kept.

    Attributes:
        id: what it is called in addresses; never changes.
        name: what people call it.
        text: its TOML text, the truth.
        version: counts from 1, one more with each change of the text.
        digest: SHA-256 of the text.
        archived: whether it was put away.
        changed: when this version was kept, ISO 8601.
        can_undo: whether there is an earlier text.
        can_redo: whether a text was undone and not yet replaced.
    """

    id: str
    name: str
    text: str
    version: int
    digest: str
    archived: bool
    changed: str
    can_undo: bool
    can_redo: bool


@dataclass(frozen=True, slots=True)
class Clash:
    """A save that came too late: somebody else has saved since.

    Attributes:
        mine: the text that was to be saved; nothing of it is kept.
        base_version: the version that it was made from.
        theirs: the site as it is kept now.
    """

    mine: str
    base_version: int
    theirs: Stored


@dataclass(frozen=True, slots=True)
class Version:
    """One text in the history of a site.

    Attributes:
        number: the version.
        why: added, saved, undone or redone.
        changed: when, ISO 8601.
        digest: SHA-256 of its text.
    """

    number: int
    why: str
    changed: str
    digest: str
