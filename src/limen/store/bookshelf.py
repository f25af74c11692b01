"""The shelf of rulebooks: folders found by name, read, a firm's figures put in.

A rulebook is a folder, an edition a folder inside it, with ``book.toml`` and
topic files. A folder with ``overlay.toml`` is laid on another rulebook and has the
editions of that one. Those that ship with limen come first; a folder of the user's
may add rulebooks and editions, and may not hide one that ships.
"""

import hashlib
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path

from limen.rules import (
    BOOK,
    OVERLAY,
    AskEdition,
    Edition,
    Mistake,
    Overlay,
    OwnValue,
    Rulebook,
    RulebookError,
    choose_edition,
    lay,
    override,
    read_edition,
    read_overlay,
    read_overlay_head,
    read_rulebook,
    read_values,
)

MOST_BYTES = 2_000_000
"""A rulebook file or values file beyond this size is refused unread."""


class RulebookNotFoundError(LookupError):
    """No such rulebook or edition on the shelf; the message lists what there is."""


@dataclass(frozen=True, slots=True)
class Book:
    """An edition on the shelf, not yet read through.

    Attributes:
        edition: which edition it is.
        folder: the folder of its files; of an overlay's, those of the overlay.
        base: the edition it is laid on; None if it stands by itself.
    """

    edition: Edition
    folder: Traversable
    base: "Book | None" = None

    @property
    def key(self) -> tuple[str, str]:
        """Rulebook and edition."""
        return self.edition.rulebook, self.edition.edition


@dataclass(frozen=True, slots=True)
class Bookshelf:
    """Every edition of every rulebook that can be used, and a firm's figures.

    Attributes:
        books: the editions, by rulebook and edition.
        values: figures from the firm's values files.
    """

    books: tuple[Book, ...]
    values: tuple[OwnValue, ...] = ()

    def names(self) -> tuple[str, ...]:
        """The rulebooks there are, sorted."""
        return tuple(sorted({book.edition.rulebook for book in self.books}))

    def editions(self, name: str) -> tuple[Edition, ...]:
        """The editions of a rulebook.

        Args:
            name: id of the rulebook.

        Returns:
            Its editions by name.

        Raises:
            RulebookNotFoundError: no such rulebook.
        """
        found = tuple(one.edition for one in self.books if one.edition.rulebook == name)
        if not found:
            there = ", ".join(self.names()) or "none"
            raise RulebookNotFoundError(f"no rulebook {name!r}; there are: {there}")
        return found

    def edition(self, name: str, edition: str) -> Rulebook:
        """Read one edition and put the firm's figures in.

        Args:
            name: id of the rulebook.
            edition: the edition.

        Returns:
            The rulebook.

        Raises:
            RulebookNotFoundError: no such rulebook or edition.
            RulebookError: what is wrong with its files or the firm's figures.
        """
        for book in self.books:
            if book.key == (name, edition):
                return self._read(book)
        there = ", ".join(one.edition for one in self.editions(name))
        raise RulebookNotFoundError(
            f"no edition {edition!r} of rulebook {name!r}; there are: {there}"
        )

    def _read(self, book: Book) -> Rulebook:
        """A firm's figures for the base count before the overlay is laid on it."""
        if book.base is None:
            return override(_read(book), self.values)
        base = self._read(book.base)
        editions = [one.edition for one in self.editions(base.id)]
        return override(_laid(book, base, editions), self.values)

    def for_door(
        self, name: str, commissioned: date | None, edition: str | None = None
    ) -> Rulebook | AskEdition:
        """Read the edition that judges a door.

        Args:
            name: id of the rulebook.
            commissioned: the day the door was commissioned, if known.
            edition: the edition a person chose; it goes before the date.

        Returns:
            The rulebook, or what to ask when the date does not settle it.

        Raises:
            RulebookNotFoundError: no such rulebook or edition.
            RulebookError: what is wrong with its files or the firm's figures.
        """
        if edition is not None:
            return self.edition(name, edition)
        chosen = choose_edition(self.editions(name), commissioned)
        if isinstance(chosen, AskEdition):
            return chosen
        return self.edition(name, chosen.edition)


def open_shelf(
    folder: Path | None = None, values_files: Iterable[Path] = ()
) -> Bookshelf:
    """Find the rulebooks that ship and the user's own.

    Args:
        folder: a folder of the user's with rulebooks, if there is one.
        values_files: values files of the firm.

    Returns:
        The shelf.

    Raises:
        RulebookError: a book that cannot be named, one that stands on the shelf
            twice, or what is wrong with the firm's figures.
        OSError: a file that cannot be read.
    """
    places: list[Traversable] = [files("limen").joinpath("rulebooks")]
    if folder is not None:
        places.append(folder)
    whole = list(_found(places))
    _refuse_twice(whole)
    laid = [book for place in places for book in _overlays(place, whole)]
    books = sorted([*whole, *laid], key=lambda book: book.key)
    _refuse_twice(books)
    own = tuple(value for path in values_files for value in _values(path))
    _refuse_strangers(own, books)
    return Bookshelf(tuple(books), own)


# Finding ----------------------------------------------------------------------


def _found(places: Iterable[Traversable]) -> Iterable[Book]:
    for place in places:
        for rulebook in _folders(place):
            for folder in _folders(rulebook):
                if folder.joinpath(BOOK).is_file():
                    yield _book(rulebook.name, folder)


def _overlays(place: Traversable, whole: list[Book]) -> Iterable[Book]:
    """An overlay stands on the shelf once for each edition of its base."""
    for folder in _folders(place):
        if folder.joinpath(OVERLAY).is_file():
            head = _head(folder)
            below = [book for book in whole if book.edition.rulebook == head.base]
            if not below:
                why = f"{head.base!r} is no rulebook that stands by itself"
                raise RulebookError.of(f"{folder.name}/{OVERLAY}", "", "base", why)
            for book in below:
                yield _over(book, head, folder)


def _over(base: Book, head: Overlay, folder: Traversable) -> Book:
    title = f"{head.title}, on {base.edition.title}"
    return Book(replace(base.edition, rulebook=head.id, title=title), folder, base)


def _head(folder: Traversable) -> Overlay:
    head = read_overlay_head(_parsed(folder.joinpath(OVERLAY), _bytes(folder, OVERLAY)))
    if head.id != folder.name:
        why = f"says {head.id}; its folder is {folder.name}"
        raise RulebookError.of(f"{folder.name}/{OVERLAY}", "", "id", why)
    return head


def _folders(place: Traversable) -> list[Traversable]:
    inside = (one for one in place.iterdir() if one.is_dir())
    return sorted(inside, key=lambda one: one.name)


def _book(rulebook: str, folder: Traversable) -> Book:
    edition = read_edition(_parsed(folder.joinpath(BOOK), _bytes(folder, BOOK)))
    named = (edition.rulebook, edition.edition)
    if named != (rulebook, folder.name):
        why = f"says {'/'.join(named)}; its folder is {rulebook}/{folder.name}"
        raise RulebookError.of(f"{folder.name}/{BOOK}", "", "id, edition", why)
    return Book(edition, folder)


def _refuse_twice(books: list[Book]) -> None:
    seen: dict[tuple[str, str], Book] = {}
    for book in books:
        first = seen.setdefault(book.key, book)
        if first is not book:
            why = f"stands both in {first.folder} and {book.folder}; rename your own"
            raise RulebookError.of(" ".join(book.key), "", "", why)


def _refuse_strangers(values: Iterable[OwnValue], books: list[Book]) -> None:
    """A figure for a rulebook that is not there would be passed over in silence."""
    there = ", ".join(".".join(book.key) for book in books)
    strangers = [
        Mistake(value.file, value.rule, "rule", f"no such rulebook; known: {there}")
        for value in values
        if not any(value.meant_for(*book.key) for book in books)
    ]
    twice = [
        Mistake(later.file, later.rule, later.limit, f"stands in {first.file} too")
        for first, later in _same_limit(values)
    ]
    if strangers or twice:
        raise RulebookError([*strangers, *twice])


def _same_limit(values: Iterable[OwnValue]) -> Iterable[tuple[OwnValue, OwnValue]]:
    seen: dict[tuple[str, str], OwnValue] = {}
    for value in values:
        first = seen.setdefault((value.rule, value.limit), value)
        if first is not value:
            yield first, value


# Reading ----------------------------------------------------------------------


def _read(book: Book) -> Rulebook:
    texts = _texts(book.folder)
    digest = hashlib.sha256(b"".join(texts.values())).hexdigest()
    return read_rulebook(_all_parsed(book.folder, texts), digest)


def _laid(book: Book, base: Rulebook, editions: list[str]) -> Rulebook:
    texts = _texts(book.folder)
    parsed = _all_parsed(book.folder, texts)
    both = b"".join((base.digest.encode(), *texts.values()))
    overlay = read_overlay(parsed, base.edition, editions)
    return lay(base, overlay, hashlib.sha256(both).hexdigest())


def _texts(folder: Traversable) -> dict[str, bytes]:
    """The files of a folder by name, in the order of their names."""
    names = sorted(one.name for one in folder.iterdir() if one.name.endswith(".toml"))
    return {name: _bytes(folder, name) for name in names}


def _all_parsed(
    folder: Traversable, texts: Mapping[str, bytes]
) -> dict[str, Mapping[str, object]]:
    """Parse every file before complaining about any."""
    parsed: dict[str, Mapping[str, object]] = {}
    mistakes: list[Mistake] = []
    for name, text in texts.items():
        try:
            parsed[name] = _parsed(folder.joinpath(name), text)
        except RulebookError as error:
            mistakes.extend(error.mistakes)
    if mistakes:
        raise RulebookError(mistakes)
    return parsed


def _values(path: Path) -> tuple[OwnValue, ...]:
    return read_values(_parsed(path, _bytes(path.parent, path.name)), path.name)


def _bytes(folder: Traversable, name: str) -> bytes:
    with folder.joinpath(name).open("rb") as file:
        text = file.read(MOST_BYTES + 1)
    if len(text) > MOST_BYTES:
        raise RulebookError.of(name, "", "", f"is larger than {MOST_BYTES} bytes")
    return text


def _parsed(file: Traversable, text: bytes) -> dict[str, object]:
    try:
        return tomllib.loads(text.decode("utf-8"))
    except UnicodeDecodeError as error:
        why = f"is no UTF-8 text (byte {error.start})"
    except ValueError as error:  # a number of 5000 digits is no TOMLDecodeError
        why = f"is no TOML: {error}"
    except RecursionError:
        why = "is nested too deeply"
    raise RulebookError.of(file.name, "", "", why)
