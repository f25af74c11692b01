"""Weather files: where they lie, and the year that one holds.

Three forms are read, by pvlib: EPW, TMY3 (CSV) and TMY2 (columns of fixed width).  That
takes a second, most of it to load pvlib: a site's weather is read when somebody asks
for it, and what was read once may be kept.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from hashlib import sha256
from importlib.util import find_spec
from pathlib import Path

from limen.model.air import ENDINGS
from limen.model.doorway import Doorway
from limen.model.site import Site
from limen.model.weather import Year
from limen.store.faults import Fault, FileFaults
from limen.store.weatherforms import ACCEPTED

MOST_BYTES = 4_000_000
SHIPPED = "pvlib"
"""A package among whose data there are years of weather, to begin with."""


def find_weather(name: str, folders: Sequence[Path]) -> Path | None:
    """The weather file of a name: in one of the folders, else one that ships.

    Args:
        name: as a site file has it, already found to be no way out of the folder.
        folders: looked into in this order.
    """
    places = [folder / name for folder in folders]
    spec = find_spec(SHIPPED)
    if "/" not in name and spec is not None:
        data = (Path(p) / "data" for p in spec.submodule_search_locations or ())
        places += [folder / name for folder in data]
    return next((place for place in places if place.is_file()), None)


def shipped_weather() -> tuple[str, ...]:
    """Names of the years of weather that are there without fetching any."""
    spec = find_spec(SHIPPED)
    roots = spec.submodule_search_locations if spec else None
    found = [f for root in roots or () for f in (Path(root) / "data").iterdir()]
    return tuple(sorted(f.name for f in found if _looks_like_a_year(f)))


def _looks_like_a_year(file: Path) -> bool:
    ends = file.suffix.lower() in ENDINGS
    return ends and file.name[:1].isdigit()


# Of a site -----------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Named:
    """The weather file that a doorway names; read when its year is asked for.

    Attributes:
        path: the file.
        state: when it was changed last and how large it was.
        kept: folder where years are kept that were read before.
    """

    path: Path
    state: tuple[int, int]
    kept: Path | None

    def __call__(self) -> Year | None:
        """The year; None if the file is at fault."""
        try:
            return read_weather(self.path, self.kept)
        except FileFaults:
            return None


def with_weather(
    site: Site, sheet_folders: Sequence[Path], kept: Path | None = None
) -> Site:
    """The site with the weather that doorways name hung on them, not yet read.

    A weather file that is missing or at fault hinders nothing else: what needs it is
    then not known, and says so.

    Args:
        site: as read.
        sheet_folders: folders with sheets; weather lies beside them.
        kept: folder where years are kept that were read before.
    """
    if not any(door.air.weather for door in site.doorway):
        return site
    folders = [folder.parent for folder in sheet_folders]
    doors = tuple(_with_year(door, folders, kept) for door in site.doorway)
    return site.model_copy(update={"doorway": doors})


def _with_year(door: Doorway, folders: Sequence[Path], kept: Path | None) -> Doorway:
    path = find_weather(door.air.weather, folders) if door.air.weather else None
    try:
        state = path.stat() if path else None
    except OSError:
        return door
    if path is None or state is None:
        return door
    named = Named(path, (state.st_mtime_ns, state.st_size), kept)
    return door.model_copy(update={"air": door.air.model_copy(update={"hung": named})})


# Of a file -----------------------------------------------------------------------


def read_weather(path: Path, kept: Path | None = None) -> Year:
    """Read a weather file.

    Args:
        path: the file.
        kept: folder where years are kept that were read before; None keeps none.

    Raises:
        FileFaults: everything that is wrong with it, up to 20 faults.
    """
    try:
        state = path.stat()
        if state.st_size > MOST_BYTES:
            raise FileFaults(path.name, [_too_large()])
        found = _read(path, state.st_mtime_ns, state.st_size, kept)
    except OSError as error:
        why = error.strerror or "it cannot be read"
        raise FileFaults(path.name, [Fault("", None, "", why, ACCEPTED, "")]) from None
    if isinstance(found, Year):
        return found
    raise FileFaults(path.name, found)


@lru_cache(maxsize=16)
def _read(
    path: Path,
    changed: int,  # noqa: ARG001 - a key
    size: int,  # noqa: ARG001 - a key
    kept: Path | None,
) -> Year | tuple[Fault, ...]:
    """The year or what is wrong, so that a file at fault is not read again either."""
    try:
        return parse_weather(path.read_bytes(), path.name, kept)
    except FileFaults as faults:
        return faults.faults


def parse_weather(data: bytes, name: str, kept: Path | None = None) -> Year:
    """Turn the bytes of a weather file into a year.

    Args:
        data: the file, whole.
        name: its name; the ending says which form it has.
        kept: folder where years are kept that were read before; None keeps none.

    Raises:
        FileFaults: everything that is wrong with it, up to 20 faults.
    """
    if len(data) > MOST_BYTES:
        raise FileFaults(name, [_too_large()])
    from limen.store.weatherkept import Kept
    from limen.store.weatherread import year_of

    place = Kept(kept, sha256(data).hexdigest(), name) if kept else None
    found = place.read() if place else None
    if found is not None:
        return found
    year = year_of(data, name)
    if place:
        place.write(year)
    return year


def _too_large() -> Fault:
    return Fault("", None, "", "it is larger than 4 MB", ACCEPTED, "")
