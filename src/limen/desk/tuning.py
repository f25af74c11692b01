"""The best settings of a doorway, or of every doorway of a site file."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from importlib.metadata import version
from pathlib import Path
from typing import TYPE_CHECKING

from limen.desk.clock import today
from limen.desk.shelves import DEFAULT, judging, shelf
from limen.desk.sites import chosen, read

if TYPE_CHECKING:
    from limen.findings.tuned import Tuned
    from limen.model.doorway import Doorway
    from limen.model.site import Site
    from limen.rules import Rulebook

Told = Callable[[int, int, str], None]
"""Hears how far the work is: steps done, steps in all, the doorway it is at."""


def unheard(_done: int, _of: int, _doing: str) -> None:
    """Nobody listens."""


@dataclass(frozen=True, slots=True)
class TunedSite:
    """A site and what was found for its doorways.

    Attributes:
        site: the site as read.
        doorways: one each, in the order of the file.
        rulebooks: the one that judged each doorway, in the same order.
    """

    site: "Site"
    doorways: "tuple[Tuned, ...]"
    rulebooks: "tuple[Rulebook, ...]"


def tune(
    path: str | Path,
    doorway: str | None = None,
    rulebook: str | None = None,
    on: date | None = None,
    *,
    edition: str | None = None,
    told: Told = unheard,
) -> TunedSite:
    """Read a site file and look for the best settings of its doorways, or of one.

    Each doorway is searched with the best settings of those before it in place, so
    that what is found can be set all together.

    Args:
        path: the site file.
        doorway: id of the only doorway.
        rulebook: the rulebook instead of the site's own.
        on: the day; today if not given.
        edition: the edition for all doorways, instead of that of their dates.
        told: hears how far the work is; whatever it raises ends it.

    Raises:
        Refusal: whatever cannot be used, all of it together.
    """
    site = read(path).site
    doors = chosen(site, doorway)
    books = judging(doors, shelf(), rulebook or site.rulebook or DEFAULT, edition)
    day, now, found = on or today(), site, list["Tuned"]()
    for number, (door, book) in enumerate(zip(doors, books, strict=True)):
        heard = _among(told, number, len(doors))
        tuned = search(door, book, site=now, on=day, told=heard)
        found.append(tuned)
        now = _with(now, tuned.best.study.doorway)
    return TunedSite(site, tuple(found), tuple(books))


def search(
    doorway: "Doorway",
    rulebook: "Rulebook",
    *,
    site: "Site | None" = None,
    on: date | None = None,
    told: Told = unheard,
) -> "Tuned":
    """The best settings of one doorway.

    Args:
        doorway: the doorway, its sheets hung on.
        rulebook: one edition.
        site: where it stands, for the doorways that it faces.
        on: the day for questions that have one.
        told: hears how far the search is; whatever it raises ends it.
    """
    from limen.tune.searching import tune as look

    def heard(done: int, of: int) -> None:
        told(done, of, doorway.name)

    return look(
        doorway, rulebook, on=on, site=site, version=version("limen"), told=heard
    )


def _among(told: Told, number: int, doors: int) -> Told:
    """How far one doorway is as how far all of them are."""

    def heard(done: int, of: int, doing: str) -> None:
        told(number * of + done, doors * of, doing)

    return heard


def _with(site: "Site", door: "Doorway") -> "Site":
    doors = tuple(door if one.id == door.id else one for one in site.doorway)
    return site.model_copy(update={"doorway": doors})
