"""Site files: read one, begin one."""

from pathlib import Path
from typing import TYPE_CHECKING

from limen.desk.cache import weather_cache
from limen.desk.refusal import Refusal, refusing

if TYPE_CHECKING:
    from limen.model.doorway import Doorway
    from limen.model.site import Site
    from limen.store.sitefile import SiteFile


def load_site(path: str | Path) -> "Site":
    """Read a site file with the sheets it names.

    Raises:
        Refusal: all faults of the file, each with its place.
    """
    return read(path).site


def read(path: str | Path) -> "SiteFile":
    """Read a site file as `load_site` does, and keep its text and digests.

    Raises:
        Refusal: all faults of the file, each with its place.
    """
    from limen.store.sitefile import read_site

    with refusing():
        return read_site(Path(path), kept=weather_cache())


def digests(file: "SiteFile") -> tuple[tuple[str, str], ...]:
    """Name and SHA-256 of a site file and of each sheet that it uses."""
    sheets = ((f"sheet {one.name}", one.digest) for one in file.sheets)
    return ((file.path.name, file.digest), *sheets)


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


def in_full(short: str | Path, path: str | Path) -> Path:
    """Write a short form in full, what was assumed marked; nothing is overwritten.

    Args:
        short: a site file with doorways in the short form; it stays as it is.
        path: the file to write.

    Raises:
        Refusal: the short form cannot be used, or the file is there already or
            cannot be written.
    """
    from limen.store.reading import read_text
    from limen.store.short_full import full_text

    source, target = Path(short), Path(path)
    with refusing():
        text = full_text(read_text(source), source)
        with target.open("x", encoding="utf-8") as file:
            file.write(text)
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
