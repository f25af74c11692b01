"""A save that came too late, put together with the one that came before it."""

import tomllib

from limen.desk.library import Clash, Desk, FileFaults, Stored, read_text
from limen.desk.library_sites import import_text
from limen.desk.merging import Key, Merge, Side, merge
from limen.desk.refusal import Refusal
from limen.findings import Message
from limen.store.editing import EditError
from limen.store.editing_whole import rewrite
from limen.words import say

_TRIES = 4
"""How often others may save while one save is put together with theirs."""
_LONGEST_NAME = 200


class NotMergedError(Exception):
    """Two texts cannot be put together; nothing is changed.

    Attributes:
        lines: why, ready to be read.
    """

    def __init__(self, lines: tuple[str, ...]) -> None:
        """Keep why."""
        self.lines = lines
        super().__init__("\n".join(lines))


def save_beside(
    desk: Desk, site_id: str, text: str, base_version: int
) -> tuple[Stored, bool] | Clash:
    """Keep a text; together with what others saved meanwhile if that is elsewhere.

    Args:
        desk: the desk.
        site_id: the site.
        text: its new text.
        base_version: the version that it was made from.

    Returns:
        The site as it is kept now, and whether others had saved; a `Clash` where
        both changed the same.

    Raises:
        NoSuchSiteError: there is no such site or version.
        FileFaults: the text cannot be read.
    """
    name = read_text(desk, text, desk.library.read(site_id).name)[0].site.name
    base = desk.library.text(site_id, base_version)
    kept = desk.library.save(site_id, text, base_version, name)
    for _ in range(_TRIES):
        if isinstance(kept, Stored):
            return kept, kept.version != base_version + 1
        found = merge(base, text, kept.theirs.text)
        if found.asked:
            break
        try:
            together = found.text({})
            name = read_text(desk, together, kept.theirs.name)[0].site.name
        except (EditError, FileFaults):
            break
        kept = desk.library.save(site_id, together, kept.theirs.version, name)
    if isinstance(kept, Stored):
        return kept, True
    return Clash(text, base_version, kept.theirs)


def compared(desk: Desk, site_id: str, mine: str, base_version: int) -> Merge:
    """A text compared with the one that is kept now, by the one both were made from.

    Raises:
        NoSuchSiteError: there is no such site or version.
        NotMergedError: the text is no TOML.
    """
    base = desk.library.text(site_id, base_version)
    try:
        return merge(base, mine, desk.library.read(site_id).text)
    except tomllib.TOMLDecodeError as error:
        raise NotMergedError((say(Message("merging.unreadable")), str(error))) from None


def together(found: Merge, chosen: dict[Key, Side]) -> str:
    """The text that two make together.

    Raises:
        NotMergedError: they cannot be put together key by key.
    """
    try:
        return found.text(chosen)
    except EditError:
        raise NotMergedError((say(Message("merging.impossible")),)) from None


def save_together(
    desk: Desk, site_id: str, found: Merge, chosen: dict[Key, Side], version: int
) -> Stored | Clash:
    """Keep the text that two make together as the next version.

    Args:
        desk: the desk.
        site_id: the site.
        found: the two.
        chosen: by key that both changed, whose counts.
        version: the version of theirs that was compared.

    Raises:
        NoSuchSiteError: there is no such site.
        NotMergedError: together they make no site that can be read.
    """
    text = together(found, chosen)
    try:
        name = read_text(desk, text, desk.library.read(site_id).name)[0].site.name
    except FileFaults as faults:
        lines = (say(Message("merging.refused")), *faults.lines()[1:])
        raise NotMergedError(lines) from faults
    return desk.library.save(site_id, text, version, name)


def keep_both(desk: Desk, mine: str, name: str) -> Stored:
    """Keep a text as a site of its own, under a name of its own.

    Raises:
        Refusal: this can be no name.
        FileFaults: the text cannot be read; nothing is kept.
    """
    wanted = name.strip()
    if not wanted or len(wanted) > _LONGEST_NAME or not wanted.isprintable():
        raise Refusal([say(Message("desk.refused.name"))])
    read_text(desk, mine, wanted)
    try:
        named = rewrite(mine, {**tomllib.loads(mine), "name": wanted})
    except EditError as error:
        raise Refusal([str(error)]) from error
    return import_text(desk, named, wanted)


def name_of_mine(desk: Desk, name: str) -> str:
    """A name for mine that no other site has."""
    taken = {one.name for one in desk.library.sites()}
    said = say(Message("merging.name_of_mine", {"name": name}))
    number, wanted = 1, said
    while wanted in taken:
        number += 1
        wanted = f"{said} {number}"
    return wanted
