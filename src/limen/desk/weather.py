"""Years of weather: of a file, of the library's own folder, and those that ship."""

import os
import re
from pathlib import Path
from tempfile import NamedTemporaryFile
from typing import TYPE_CHECKING

from limen.desk.cache import weather_cache
from limen.desk.refusal import Refusal, refusing
from limen.findings import Message
from limen.words import say

if TYPE_CHECKING:
    from collections.abc import Sequence

    from limen.desk.library import Desk
    from limen.model.doorway import Doorway
    from limen.model.weather import Year

FOLDER = "weather"
_ODD = re.compile(r"[^A-Za-z0-9_.-]+")
_LONGEST = 80


def weather_of(path: Path) -> "Year":
    """The year of a weather file; by its bare name also of one that ships.

    Raises:
        Refusal: everything that is wrong with it.
    """
    from limen.store.weatherfile import find_weather, read_weather

    with refusing():
        bare = path.parent == Path()
        found = find_weather(path.name, [Path()]) if bare else None
        return read_weather(found or path, weather_cache())


def with_year(door: "Doorway", year: "Year") -> "Doorway":
    """The doorway with the weather of a year, whatever its file names."""
    from limen.model.weather import Known

    air = door.air.model_copy(update={"weather": year.name, "hung": Known(year)})
    return door.model_copy(update={"air": air})


def refuse_unread(doors: "Sequence[Doorway]", folder: Path) -> None:
    """Refuse what is wrong with weather files that doorways name.

    Raises:
        Refusal: one is not there, or everything that is wrong with it.
    """
    from limen.store.weatherfile import find_weather

    unread = {one.air.weather for one in doors if one.air.year is None}
    for name in sorted(one for one in unread if one):
        place = find_weather(name, [folder])
        if place is None:
            raise Refusal([say(Message("flows.refused.no_weather", {"file": name}))])
        weather_of(place)


# The library's own ---------------------------------------------------------------


def weathers(desk: "Desk") -> tuple[str, ...]:
    """Names of the years at hand: kept ones first, then those that ship."""
    from limen.store.weatherfile import shipped_weather

    own = sorted(one.name for one in _folder(desk).glob("*.*") if one.is_file())
    return (*(f"{FOLDER}/{name}" for name in own), *shipped_weather())


def year_named(desk: "Desk", name: str) -> "Year":
    """One of the years at hand.

    Raises:
        Refusal: there is none of this name, or everything that is wrong with it.
    """
    from limen.store.weatherfile import find_weather

    place = find_weather(name, [_home(desk)]) if name in weathers(desk) else None
    if place is None:
        said = {"file": name[:_LONGEST]}
        raise Refusal([say(Message("flows.refused.no_weather", said))])
    return weather_of(place)


def keep_weather(desk: "Desk", name: str, data: bytes) -> str:
    """Keep a weather file in the library's folder; none is overwritten.

    Args:
        desk: the library.
        name: what the file is called where it comes from.
        data: the file, whole.

    Returns:
        The name by which site files call it.

    Raises:
        Refusal: everything that is wrong with it; another file has its name.
    """
    from limen.store.weatherfile import parse_weather

    plain = _ODD.sub("-", Path(name.replace("\\", "/")).name).lstrip("-.")[-_LONGEST:]
    with refusing():
        parse_weather(data, plain or "weather", weather_cache())
        folder = _folder(desk)
        folder.mkdir(mode=0o700, exist_ok=True)
        place = folder / plain
        if place.is_file() and place.read_bytes() != data:
            raise Refusal([say(Message("flows.refused.taken", {"file": plain}))])
        _write(place, data)
    return f"{FOLDER}/{plain}"


def _write(place: Path, data: bytes) -> None:
    with NamedTemporaryFile(dir=place.parent, prefix=".", delete=False) as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())
    Path(file.name).replace(place)


def _home(desk: "Desk") -> Path:
    return desk.sheets.parent


def _folder(desk: "Desk") -> Path:
    return _home(desk) / FOLDER
