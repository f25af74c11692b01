"""Work on the whole list: every site read, every doorway studied that was not yet."""

from collections.abc import Sequence
from contextlib import suppress
from itertools import groupby
from time import monotonic

from limen.desk import library_lines
from limen.desk.doors_kept import (
    ALL,
    read_stale,
    refresh,
    write_checks,
    write_studied,
)
from limen.desk.exporting import Told
from limen.desk.library import Desk, Opened, open_site, study_of
from limen.desk.library_known import lasting_basis, note_down
from limen.desk.refusal import Refusal
from limen.desk.studied import note_unjudged
from limen.store.database import NoSuchSiteError
from limen.store.database.doors import stale_sites, unstudied
from limen.store.faults import FileFaults

WRITE_EVERY = 2.0
"""Seconds of work that may be lost when the desk is ended."""
LONGEST = 3600.0


def study_all(desk: Desk, told: Told) -> None:
    """Read every site, add up every visit, study every doorway not studied today.

    What is done is kept as it goes: ended and begun again, it goes on where it was.

    Args:
        desk: the desk.
        told: is told how far it is; may end the work.

    Raises:
        NotKeptError: the disk does not take it.
    """
    _read_all(desk, told)
    refresh(desk, LONGEST, ALL)
    write_checks(desk, None)
    todo = unstudied(desk.library, lasting_basis(desk), desk.day().isoformat())
    done = 0
    try:
        for site, doors in groupby(todo, key=lambda one: one[0]):
            done = _site(desk, site, [one[1] for one in doors], told, done, len(todo))
    finally:
        write_studied(desk)
        note_down(desk)


def _read_all(desk: Desk, told: Told) -> None:
    key = lasting_basis(desk)
    stale = stale_sites(desk.library, key)
    for at, one in enumerate(stale):
        told(at, len(stale), one.name)
        read_stale(desk, one, key)


def _site(
    desk: Desk, site: str, doors: Sequence[str], told: Told, done: int, of: int
) -> int:
    """Study doorways of a site; how many of all are done then."""
    with suppress(NoSuchSiteError, FileFaults):  # taken away, or changed, meanwhile
        opened = open_site(desk, site)
        since = monotonic()
        for at, door in enumerate(doors):
            told(done + at, of, opened.stored.name)
            _study(desk, opened, door)
            if monotonic() - since > WRITE_EVERY:
                write_studied(desk)
                since = monotonic()
        if len(doors) == len(opened.site.doorway) <= desk.studies.most:
            library_lines.tallied(desk, site)  # each study is at hand
        write_studied(desk)
        note_down(desk)
    return done + len(doors)


def _study(desk: Desk, opened: Opened, door: str) -> None:
    try:
        study_of(desk, opened, door)
    except Refusal:  # no edition judges it, or it is not there any more
        key, digest = lasting_basis(desk), opened.stored.digest
        note_unjudged(desk.studied, (opened.stored.id, door), digest, key, desk.day())
