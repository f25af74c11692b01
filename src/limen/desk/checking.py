"""Study doorways: of a file, or at hand."""

from dataclasses import dataclass
from datetime import date
from importlib.metadata import version
from pathlib import Path
from typing import TYPE_CHECKING

from limen.desk.clock import today
from limen.desk.shelves import DEFAULT, judging, shelf
from limen.desk.sites import chosen, digests, read

if TYPE_CHECKING:
    from limen.findings import Study
    from limen.model.doorway import Doorway
    from limen.model.site import Site
    from limen.rules import Rulebook


@dataclass(frozen=True, slots=True)
class Checked:
    """A site and what was found at its doorways.

    Attributes:
        site: the site as read.
        studies: one a doorway.
        rulebooks: the one that judged each doorway, in the same order.
        files: name and SHA-256 of every file that was read.
    """

    site: "Site"
    studies: "tuple[Study, ...]"
    rulebooks: "tuple[Rulebook, ...]"
    files: tuple[tuple[str, str], ...] = ()


def check(
    path: str | Path,
    doorway: str | None = None,
    rulebook: str | None = None,
    on: date | None = None,
    values: Path | None = None,
    *,
    edition: str | None = None,
) -> Checked:
    """Read a site file and study its doorways, or one of them.

    Args:
        path: the site file.
        doorway: id of the only doorway to study.
        rulebook: the rulebook instead of the site's own.
        on: the day; today if not given.
        values: a firm's values file.
        edition: the edition for all doorways, instead of that of their dates.

    Raises:
        Refusal: whatever cannot be used, all of it together.
    """
    file = read(path)
    site = file.site
    doors = chosen(site, doorway)
    books = judging(doors, shelf(values), rulebook or site.rulebook or DEFAULT, edition)
    day = on or today()
    studies = tuple(
        study(door, book, on=day, site=site)
        for door, book in zip(doors, books, strict=True)
    )
    return Checked(site, studies, tuple(books), digests(file))


def study(
    doorway: "Doorway",
    rulebook: "str | Rulebook" = DEFAULT,
    *,
    on: date | None = None,
    site: "Site | None" = None,
) -> "Study":
    """Ask every question of one doorway.

    Args:
        doorway: the doorway, its sheets hung on.
        rulebook: a rulebook, or the name of one: the doorway's own edition, or
            that of its date.
        on: the day for questions that have one.
        site: where it stands, for the doorways that it faces.

    Raises:
        Refusal: the rulebook cannot be used, or nothing settles its edition.
    """
    from limen.study import study as ask

    if isinstance(rulebook, str):
        (rulebook,) = judging([doorway], shelf(), rulebook, None)
    return ask(doorway, rulebook, on=on, site=site, version=version("limen"))


def study_site(
    site: "Site", rulebook: "str | Rulebook | None" = None, *, on: date | None = None
) -> "tuple[Study, ...]":
    """Ask every question of every doorway of a site.

    Args:
        site: the site.
        rulebook: a rulebook or the name of one; the site's own if not given.
        on: the day for questions that have one.

    Raises:
        Refusal: the rulebook cannot be used, or nothing settles its edition.
    """
    judge = rulebook or site.rulebook or DEFAULT
    return tuple(study(door, judge, on=on, site=site) for door in site.doorway)
