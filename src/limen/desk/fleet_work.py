"""What a worker does: read the sites it is given, study doorways, give rows back.

Whatever is wrong with one doorway becomes its row; nothing ends the work of others.
"""

import json
import os
from dataclasses import asdict
from functools import lru_cache
from hashlib import sha256
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING
from zlib import decompress

from limen.desk.fleet_tasks import (
    FILE,
    Done,
    Kept,
    Piece,
    Settings,
    SiteText,
    Task,
    basis,
    key_of,
)
from limen.desk.refusal import Refusal, refusing

if TYPE_CHECKING:
    from limen.exchange.fleet_rows import Rows
    from limen.model.doorway import Doorway
    from limen.model.site import Site
    from limen.rules import Rulebook
    from limen.store.bookshelf import Bookshelf

THREADS = (
    "OMP_NUM_THREADS",
    "OPENBLAS_NUM_THREADS",
    "MKL_NUM_THREADS",
    "NUMBA_NUM_THREADS",
)
"""Workers share the cores among them: libraries must not do so once more."""
SITES_AT_HAND = 4
BOOKS_AT_HAND = 64


def one_thread() -> None:
    """Let libraries that are loaded from now on compute in one thread."""
    for name in THREADS:
        os.environ.setdefault(name, "1")


def work(task: Task) -> Done:
    """Study the doorways of a task.

    Args:
        task: which, and what is asked of them.
    """
    one_thread()
    from limen.words import read_as

    with read_as(task.settings.language):
        kept = [one for piece in task.pieces for one in _piece(piece, task.settings)]
    return Done(_basis(), tuple(kept))


def said(rows: "Rows") -> str:
    """Rows as they are kept: one line of JSON."""
    return json.dumps(asdict(rows), ensure_ascii=False, separators=(",", ":"))


def _piece(piece: Piece, settings: Settings) -> list[Kept]:
    from limen.exchange.fleet_rows import rows_without

    try:
        site = _site(piece.site)
    except Refusal as refusal:
        told = "\n".join(refusal.lines)
        rows = rows_without("not read", told, on=settings.on)
    except Exception as error:  # noqa: BLE001 - the other files are not at fault
        rows = rows_without("broken", _broken(error), on=settings.on)
    else:
        return [
            Kept(key_of(piece.key, n), said(_doorway(site, n, settings)))
            for n in piece.numbers
        ]
    return [Kept(key_of(piece.key, FILE), said(rows))]


def _doorway(site: "Site", number: int, settings: Settings) -> "Rows":
    from limen.exchange.fleet_rows import rows_without

    door = site.doorway[number]
    try:
        return _studied(site, door, settings)
    except Refusal as refusal:
        state, told = "not judged", "\n".join(refusal.lines)
    except Exception as error:  # noqa: BLE001 - the other doorways are not at fault
        state, told = "broken", _broken(error)
    return rows_without(
        state, told, on=settings.on, site=site.name, door=door.id, name=door.name
    )


def _studied(site: "Site", door: "Doorway", settings: Settings) -> "Rows":
    from limen.desk.checking import study
    from limen.desk.shelves import DEFAULT
    from limen.exchange.fleet_rows import rows_of
    from limen.keep.due import due_of
    from limen.quantity import Show

    name = settings.rulebook or site.rulebook or DEFAULT
    book = _judging(door, name, settings)
    found = study(door, book, on=settings.on, site=site)
    due = due_of(door, book, settings.on, site)
    return rows_of(found, site.name, site.place, due, system=Show(settings.units))


def _broken(error: Exception) -> str:
    from limen.findings import Message
    from limen.words import say

    return f"{say(Message('error.unexpected'))}\n{type(error).__name__}: {error}"


# At hand: what many doorways share is read once by each worker ------------------


@lru_cache(maxsize=1)
def _basis() -> str:
    return basis()


@lru_cache(maxsize=SITES_AT_HAND)
def _site(given: SiteText) -> "Site":
    from limen.desk.cache import weather_cache
    from limen.store.sheetfile import BESIDE, SheetText
    from limen.store.sitefile import parse_site

    sheets = {name: SheetText(path, text) for name, path, text in given.sheets}
    folders = [Path(given.folder) / BESIDE]
    if given.weather:
        folders = [_laid_out(given) / BESIDE, *folders]
    label = Path(given.label)
    with refusing():
        return parse_site(given.text, label, folders, weather_cache(), sheets).site


def _judging(door: "Doorway", name: str, settings: Settings) -> "Rulebook":
    """The edition that judges a doorway, read once for all that it judges."""
    from limen.desk.shelves import judging
    from limen.rules import AskEdition, choose_edition

    books = _shelf(settings.values)
    edition = settings.edition or door.edition
    if edition is None:
        with refusing():
            chosen = choose_edition(books.editions(name), door.commissioned)
        if isinstance(chosen, AskEdition):
            return judging([door], books, name, None)[0]
        edition = chosen.edition
    return _book(name, edition, settings.values)


@lru_cache(maxsize=BOOKS_AT_HAND)
def _book(name: str, edition: str, values: tuple[str, str] | None) -> "Rulebook":
    from limen.desk.shelves import bound_edition

    return bound_edition(_shelf(values), name, edition)


@lru_cache(maxsize=2)
def _shelf(values: tuple[str, str] | None) -> "Bookshelf":
    from limen.desk.shelves import shelf

    if values is None:
        return shelf()
    name, text = values
    path = _own_folder() / Path(name).name
    path.write_text(text, encoding="utf-8")
    return shelf(path)


def _laid_out(given: SiteText) -> Path:
    """A folder with the weather that came with a site."""
    digests = "".join(one.digest for one in given.weather)
    folder = _own_folder() / sha256(digests.encode()).hexdigest()
    for one in given.weather:
        path = folder / one.name
        if not path.is_file():
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(decompress(one.data))
    return folder


@lru_cache(maxsize=1)
def _own() -> "TemporaryDirectory[str]":
    return TemporaryDirectory(prefix="limen-fleet-")


def _own_folder() -> Path:
    """A folder of this worker's own, gone when it ends."""
    return Path(_own().name)
