"""Site files: read one, begin one."""

from pathlib import Path
from typing import TYPE_CHECKING

from limen.desk.refusal import Refusal, refusing

if TYPE_CHECKING:
    from limen.model.doorway import Doorway
    from limen.model.site import Site


def load_site(path: str | Path) -> "Site":
    """Read a site file with the sheets it names.

    Raises:
        Refusal: all faults of the file, each with its place.
    """
    from limen.store.sitefile import read_site

    with refusing():
        return read_site(Path(path)).site


def new(path: str | Path) -> Path:
    """Write a site file to begin with; a file that is there stays as it is.

    Raises:
        Refusal: there is such a file, or it cannot be written.
    """
    from limen.store.starter import starter_text

    target = Path(path)
    with refusing(), target.open("x", encoding="utf-8") as file:
        file.write(starter_text())
    return target


def chosen(site: "Site", wanted: str | None) -> "tuple[Doorway, ...]":
    """All doorways of a site, or the one asked for.

    Raises:
        Refusal: there is no such doorway; those that are there are listed.
    """
    if wanted is None:
        return site.doorway
    try:
        return (site.door(wanted),)
    except KeyError:
        there = ", ".join(door.id for door in site.doorway)
        raise Refusal([f'no doorway "{wanted}"; there are: {there}']) from None
