"""A unit moved by hand: what is seen at once, and where it may be brought."""

from dataclasses import replace
from functools import cache
from importlib.metadata import version
from typing import TYPE_CHECKING, Literal

from limen.desk.library import (
    Clash,
    Desk,
    Opened,
    Stored,
    book_of,
    read_stored,
    read_text,
)
from limen.desk.library_edits import Edits, edited_site, edited_text

if TYPE_CHECKING:
    from limen.findings import Study
    from limen.model.site import Site


BESIDES = {
    "settings.radar_tilt": ("approach.minimum_zone", "approach.slow_walker"),
    "settings.radar_yaw": ("approach.minimum_zone", "approach.slow_walker"),
    "settings.reach": ("approach.minimum_zone", "approach.slow_walker"),
    "lens.height": ("approach.minimum_zone", "mounting.height"),
}
"""Quick questions that a setting bears upon, besides those of presence."""


def glimpsed(
    desk: Desk,
    opened: Opened,
    doorway_id: str,
    edits: Edits,
    looked_at: tuple[str, str] | None = None,
) -> "Study":
    """A doorway while one of its settings is being moved: rows, and who is missed.

    Args:
        desk: the desk.
        opened: the site as it is kept.
        doorway_id: one of its doorways.
        edits: what has been moved and is not saved.
        looked_at: question and case that are drawn.

    Returns:
        A study with findings of the glimpsed questions alone; see
        `limen.study.glimpse`.

    Raises:
        Refusal: there is no such doorway, or an edit leads nowhere.
        FileFaults: a value is not accepted, and why.
    """
    from limen.study.glimpse import UPRIGHT, glimpse

    site = _moved(desk, opened.stored, doorway_id, edits)
    door = Opened(opened.stored, site).doorway(doorway_id)
    book = book_of(desk, site, door)
    also = dict.fromkeys(
        name for key in edits for name in BESIDES.get(key.rpartition("].")[2], ())
    )
    return glimpse(
        door,
        book,
        on=desk.day(),
        version=_limen(),
        also=[*also],
        looked_at=looked_at or ("presence.threshold", UPRIGHT),
    )


def with_targets(study: "Study", exact: "Study") -> "Study":
    """A glimpse with the target lines of the last study, which stay drawn.

    A unit's target does not depend on where that unit is while it is being brought
    there; it is found anew once it rests.
    """
    remedies = {one.key: one.remedy for one in exact.findings}
    aimed = (replace(f, remedy=remedies.get(f.key)) for f in study.findings)
    return replace(study, findings=tuple(aimed))


def in_full(desk: Desk, opened: Opened, doorway_id: str) -> bool:
    """Whether a doorway is written in full; one in the short form has no settings.

    Raises:
        FileFaults: the text cannot be read.
    """
    _, raw = read_stored(desk, opened.stored)
    return any(one.get("id") == doorway_id for one in raw.get("doorway", ()))


def stepped(
    desk: Desk, site_id: str, base_version: int, way: Literal["undo", "redo"]
) -> Stored | Clash:
    """The text before this one brought back, or the one that was undone.

    Raises:
        NoSuchSiteError: there is no such site.
        NothingToUndoError: there is no such text.
    """
    step = desk.library.undo if way == "undo" else desk.library.redo
    return step(site_id, base_version)


@cache
def _limen() -> str:
    """The version, which is read from the disk."""
    return version("limen")


def _moved(desk: Desk, stored: Stored, doorway_id: str, edits: Edits) -> "Site":
    """The site with the edits made; through its text only where one is refused."""
    file, raw = read_stored(desk, stored)
    if not edits:
        return file.site
    site = edited_site(file, raw, doorway_id, edits)
    if site is not None:
        return site
    text = edited_text(stored.text, raw, doorway_id, edits)
    return read_text(desk, text, stored.name)[0].site
