"""Site files of a fleet: found in folders, looked at, and sent to workers as texts."""

import os
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass
from functools import lru_cache
from hashlib import sha256
from pathlib import Path
from typing import Any, cast
from zlib import compress

from limen.desk.fault_words import faults_told
from limen.desk.fleet_tasks import Settings, SiteText, Weather
from limen.desk.refusal import Refusal
from limen.findings import Message
from limen.store.faults import FileFaults
from limen.store.reading import read_text
from limen.store.sheetfile import BESIDE, find_sheet
from limen.store.sitefile import sheets_named
from limen.store.syntax import read_toml
from limen.store.weatherfile import MOST_BYTES, find_weather
from limen.words import say

ENDING = ".toml"
LIST = ".txt"
_DOORS = ("doorway", "short")


@dataclass(frozen=True, slots=True)
class Look:
    """A site file as it was looked at; its text is not kept.

    Attributes:
        label: how it is called in results.
        path: the file.
        key: of its text and of all that it names.
        names: ids of its doorways in the order of a reader; empty where only a
            reader can tell.
        sheets: names of sheets that it names.
        weather: names of years of weather that lie with it.
        told: why it is no text; empty if it is one.
    """

    label: str
    path: Path
    key: str
    names: tuple[str, ...] = ()
    sheets: tuple[str, ...] = ()
    weather: tuple[str, ...] = ()
    told: str = ""

    @property
    def doorways(self) -> int:
        """How many; a file of which nobody knows counts as one."""
        return max(len(self.names), 1)


def files_in(where: Sequence[Path]) -> Iterator[tuple[str, Path]]:
    """Every file that may be a site, and how it is called in results.

    Folders are gone through to the bottom, in the order of names; their files are
    called by their way from there.  Folders ``sheets`` hold no sites.

    Args:
        where: folders, site files, or lists of both: text files ending in .txt.

    Raises:
        Refusal: something is not there.
    """
    for place in where:
        if place.is_dir():
            yield from _inside(place)
        elif not place.is_file():
            raise Refusal([say(Message("fleet.refused.nothing", {"file": f"{place}"}))])
        elif place.suffix.lower() == LIST:
            yield from files_in(_listed(place))
        else:
            yield place.as_posix(), place


def look(label: str, path: Path, settings: Settings, basis: str) -> Look | None:
    """Look at a file.

    Args:
        label: how it is called in results.
        path: the file.
        settings: what is asked of all.
        basis: what every study rests on.

    Returns:
        What it holds; None if it is no site file.
    """
    try:
        text = read_text(path)
    except FileFaults as faults:
        return _unread(label, path, faults, settings, basis)
    data = read_toml(text).data
    if data is not None and not any(key in data for key in _DOORS):
        return None
    names = _names(data)
    weather = _weather_named(data, path)
    found = Look(label, path, "", names, sheets_named(data), weather)
    try:
        return _keyed(found, text, settings, basis)
    except FileFaults as faults:  # a sheet that is no text
        return _unread(label, path, faults, settings, basis)


def opened(
    one: Look, settings: Settings, basis: str, *, send: bool = False
) -> SiteText | None:
    """The texts of a file that was looked at before.

    Args:
        one: the file as it was.
        settings: what is asked of all.
        basis: what every study rests on.
        send: whether years of weather go along, to where there is no such disk.

    Returns:
        None if it has changed since.
    """
    try:
        text = read_text(one.path)
        if _keyed(one, text, settings, basis) != one:
            return None
        sheets = tuple(_sheets(one))
    except FileFaults:
        return None
    sent = tuple(_sent(one)) if send else ()
    return SiteText(one.label, str(one.path.parent), text, sheets, sent)


# A folder ------------------------------------------------------------------------


def _inside(folder: Path) -> Iterator[tuple[str, Path]]:
    for root, folders, files in os.walk(folder):
        folders[:] = sorted(one for one in folders if one != BESIDE and one[0] != ".")
        for name in sorted(files):
            if name.endswith(ENDING) and not name.startswith("."):
                path = Path(root) / name
                yield path.relative_to(folder).as_posix(), path


def _listed(place: Path) -> list[Path]:
    try:
        lines = read_text(place).splitlines()
    except FileFaults as faults:
        raise Refusal(faults_told(faults)) from faults
    named = (line.strip() for line in lines)
    return [place.parent / line for line in named if line and line[0] != "#"]


# A file --------------------------------------------------------------------------


def _keyed(one: Look, text: str, settings: Settings, basis: str) -> Look:
    digest = sha256(_common(settings, basis).encode())
    for part in (one.label, text, *_rests_on(one)):
        digest.update(sha256(part.encode()).digest())
    return Look(
        one.label, one.path, digest.hexdigest(), one.names, one.sheets, one.weather
    )


def _rests_on(one: Look) -> Iterator[str]:
    for name, _, text in _sheets(one):
        yield name
        yield text
    for name in one.weather:
        yield name
        yield _weather_digest(one, name)


@lru_cache(maxsize=4)
def _common(settings: Settings, basis: str) -> str:
    return f"{basis} {sorted((k, str(v)) for k, v in asdict(settings).items())}"


def _unread(
    label: str, path: Path, faults: FileFaults, settings: Settings, basis: str
) -> Look:
    told = "\n".join(faults_told(faults))
    key = sha256(f"{_common(settings, basis)} {label} {told}".encode()).hexdigest()
    return Look(label, path, key, told=told)


def _names(data: Mapping[str, Any] | None) -> tuple[str, ...]:
    """Ids in the order of a reader: doorways in full, then those in short."""
    doors: list[object] = []
    for key in _DOORS:
        found = (data or {}).get(key)
        doors += cast("list[object]", found) if isinstance(found, list) else []
    return tuple(str(_of(one, "id") or "?") for one in doors)


def _of(table: object, key: str) -> object:
    if not isinstance(table, Mapping):
        return None
    return cast("Mapping[str, object]", table).get(key)


def _sheets(one: Look) -> Iterator[tuple[str, str, str]]:
    for name in one.sheets:
        found = find_sheet(name, (one.path.parent / BESIDE,))
        if found is not None:
            yield name, found.path, found.text


# Weather -------------------------------------------------------------------------


def _weather_named(data: Mapping[str, Any] | None, path: Path) -> tuple[str, ...]:
    """Years of weather that lie with a site file; those that ship are everywhere."""
    doors = (data or {}).get("doorway")
    if not isinstance(doors, list):
        return ()
    airs = (_of(one, "air") for one in cast("list[object]", doors))
    named = (_of(air, "weather") for air in airs)
    own = (name for name in named if isinstance(name, str) and _lies(name, path))
    return tuple(dict.fromkeys(own))


def _lies(name: str, path: Path) -> bool:
    if Path(name).is_absolute() or ".." in Path(name).parts or not name.isprintable():
        return False
    return find_weather(name, (path.parent,)) == path.parent / name


def _weather_digest(one: Look, name: str) -> str:
    path = one.path.parent / name
    try:
        state = path.stat()
        return _digest_of(path, state.st_mtime_ns, state.st_size)
    except OSError:
        return ""


@lru_cache(maxsize=256)
def _digest_of(path: Path, _changed: int, size: int) -> str:
    if size > MOST_BYTES:
        return f"{size}"
    return sha256(path.read_bytes()).hexdigest()


def _sent(one: Look) -> Iterator[Weather]:
    for name in one.weather:
        path = one.path.parent / name
        if path.is_file() and path.stat().st_size <= MOST_BYTES:
            data = path.read_bytes()
            yield Weather(name, sha256(data).hexdigest(), compress(data, 1))
