"""What is put to a worker, and what it gives back: texts out, rows in.

A worker may be on another machine: it is given the texts of sites and sheets, never
only their names, and needs no disk that is shared.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from hashlib import sha256
from importlib.metadata import version
from importlib.resources import files
from importlib.resources.abc import Traversable

FORM = 2
"""Of what is kept; another is studied anew."""
FILE = "file"
"""Stands where a doorway's number would, when a whole file cannot be read."""


@dataclass(frozen=True, slots=True)
class Settings:
    """What is asked of all doorways alike.

    Attributes:
        on: the day.
        rulebook: instead of the site's own.
        edition: for all doorways, instead of that of their dates.
        language: of sentences.
        units: in sentences.
        values: name and text of a firm's values file.
    """

    on: date
    rulebook: str | None = None
    edition: str | None = None
    language: str = "en"
    units: str = "metric"
    values: tuple[str, str] | None = None


@dataclass(frozen=True, slots=True)
class Weather:
    """A year of weather as it is sent: its name in site files, digest, deflated."""

    name: str
    digest: str
    data: bytes


@dataclass(frozen=True, slots=True)
class SiteText:
    """A site file with all that it names.

    Attributes:
        label: how the file is called in results.
        folder: where it lies; on another machine there may be none.
        text: its text.
        sheets: name, path and text of each sheet that it names and that is there.
        weather: years of weather that are sent along.
    """

    label: str
    folder: str
    text: str
    sheets: tuple[tuple[str, str, str], ...] = ()
    weather: tuple[Weather, ...] = ()


@dataclass(frozen=True, slots=True)
class Piece:
    """Doorways of one site.

    Attributes:
        site: its text.
        key: of the site and all it rests on.
        numbers: which doorways, counted from 0 as they stand; none where only a
            reader can tell what the file holds.
        names: their ids.
    """

    site: SiteText
    key: str
    numbers: tuple[int, ...]
    names: tuple[str, ...]

    def alone(self) -> "Iterable[Piece]":
        """Each doorway by itself."""
        if len(self.numbers) < 2:  # noqa: PLR2004 - one is alone already
            return [self]
        both = zip(self.numbers, self.names, strict=True)
        return [Piece(self.site, self.key, (n,), (name,)) for n, name in both]


@dataclass(frozen=True, slots=True)
class Task:
    """What a worker does in one go."""

    settings: Settings
    pieces: tuple[Piece, ...]

    @property
    def doorways(self) -> int:
        """How many; a file of which nobody knows counts as one."""
        return sum(max(len(one.numbers), 1) for one in self.pieces)

    def alone(self) -> "list[Task]":
        """Each doorway as a task of its own."""
        singles = (one for piece in self.pieces for one in piece.alone())
        return [Task(self.settings, (one,)) for one in singles]


@dataclass(frozen=True, slots=True)
class Kept:
    """What is kept of a doorway, or of a file that cannot be read.

    Attributes:
        key: what it is kept under.
        said: its rows, as one line of JSON.
    """

    key: str
    said: str


@dataclass(frozen=True, slots=True)
class Done:
    """What a worker gives back.

    Attributes:
        basis: of the worker, to be held against that of whoever asked.
        kept: one a doorway.
    """

    basis: str
    kept: tuple[Kept, ...]


def key_of(site: str, which: int | str) -> str:
    """What a doorway is kept under: its site's key and its number there."""
    return f"{site}-{which}"


def basis() -> str:
    """What every study rests on: limen's version, its rulebooks and its sheets."""
    digest = sha256(f"{FORM} {version('limen')}".encode())
    for room in ("rulebooks", "sheets"):
        for text in _texts(files("limen").joinpath(room)):
            digest.update(sha256(text).digest())
    return digest.hexdigest()


def _texts(folder: Traversable) -> Iterable[bytes]:
    for one in sorted(folder.iterdir(), key=lambda each: each.name):
        if one.is_dir():
            yield from _texts(one)
        elif one.name.endswith(".toml"):
            yield one.name.encode() + b"\0" + one.read_bytes()
