"""Every version of a site: what became of which key, looked at and taken back."""

import tomllib
from dataclasses import dataclass

from limen.desk.library import Clash, Desk, NoSuchSiteError, Stored, Version, read_text
from limen.desk.merging import Change, changed

PAGE = 20
"""Versions that are compared for one page."""


@dataclass(frozen=True, slots=True)
class Step:
    """One version, and what it changed.

    Attributes:
        version: which, when and why.
        changes: by key, what the version before did not say; None for the first
            text, and where one of the two is no TOML.
        first: whether there is none before it.
    """

    version: Version
    changes: tuple[Change, ...] | None
    first: bool = False


@dataclass(frozen=True, slots=True)
class History:
    """Some versions of a site, the newest first.

    Attributes:
        stored: the site as it is kept.
        steps: the versions.
        newer, older: the version at which a page of newer or older ones begins; None
            where there are none.
    """

    stored: Stored
    steps: tuple[Step, ...]
    newer: int | None = None
    older: int | None = None


def history_of(desk: Desk, site_id: str, upto: int | None = None) -> History:
    """Versions of a site with what each of them changed.

    Args:
        desk: the desk.
        site_id: the site.
        upto: the newest version that is wanted; the one that is kept if None.

    Raises:
        NoSuchSiteError: there is no such site.
    """
    stored = desk.library.read(site_id)
    every = desk.library.history(site_id)
    begin = next((n for n, v in enumerate(every) if v.number <= (upto or v.number)), 0)
    shown = every[begin : begin + PAGE]
    texts = {
        one.number: desk.library.text(site_id, one.number)
        for one in every[begin : begin + PAGE + 1]
    }
    steps = tuple(_step(one, texts) for one in shown)
    end = begin + len(shown)
    return History(
        stored,
        steps,
        every[max(0, begin - PAGE)].number if begin else None,
        every[end].number if end < len(every) else None,
    )


def against_now(desk: Desk, site_id: str, number: int) -> tuple[Change, ...] | None:
    """What would become of each key if a version were taken back; None if unknown.

    Raises:
        NoSuchSiteError: there is no such site or version.
    """
    stored = desk.library.read(site_id)
    return _compared(stored.text, desk.library.text(site_id, number))


def take_back(
    desk: Desk, site_id: str, number: int, base_version: int
) -> Stored | Clash:
    """Keep an earlier text as the next version.

    Args:
        desk: the desk.
        site_id: the site.
        number: the version whose text it is.
        base_version: the version that was kept when it was looked at.

    Raises:
        NoSuchSiteError: there is no such site or version.
        FileFaults: the text cannot be read any more: a sheet was taken away.
    """
    text = desk.library.text(site_id, number)
    name = read_text(desk, text, desk.library.read(site_id).name)[0].site.name
    return desk.library.save(site_id, text, base_version, name)


def _step(version: Version, texts: dict[int, str]) -> Step:
    before = texts.get(version.number - 1)
    if before is None:
        return Step(version, None, first=True)
    return Step(version, _compared(before, texts[version.number]))


def _compared(before: str, after: str) -> tuple[Change, ...] | None:
    try:
        return changed(before, after)
    except tomllib.TOMLDecodeError:
        return None


__all__ = [
    "History",
    "NoSuchSiteError",
    "Step",
    "against_now",
    "history_of",
    "take_back",
]
