"""Files changed and saved: one value at a time, nothing else touched, nothing lost."""

import hashlib
import os
import tempfile
import tomllib
from collections.abc import Mapping, MutableMapping, MutableSequence
from contextlib import suppress
from pathlib import Path
from typing import Any, cast

import tomlkit
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import String

from limen.store.editing_lines import untouched
from limen.store.faults import Fault, FileFaults

Value = str | int | bool | tuple[int, ...]
"""What can be set: a quantity is a text, rows that are on are whole numbers."""

Way = tuple[str | int, ...]
"""Keys, and places in lists counted from 0."""


class EditError(ValueError):
    """A value cannot be set: the way leads nowhere, or it is no TOML value."""


class ChangedOnDiskError(Exception):
    """The file is not what was read: somebody else has saved it, or removed it.

    Attributes:
        path: The file.
        text: What it holds now; None if it is gone.
    """

    def __init__(self, path: Path, text: bytes | None) -> None:
        """Say what happened."""
        what = "was removed" if text is None else "was changed by someone else"
        super().__init__(f"{path}: the file {what} since it was read; nothing saved")
        self.path = path
        self.text = text


def digest(text: str) -> str:
    """Return the SHA-256 of a text in UTF-8, to be given back to `save`."""
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def set_value(text: str, path: tuple[str | int, ...], value: Value) -> str:
    """Set one value of a TOML text; comments, order and spacing stay.

    Args:
        text: A TOML text.
        path: The way to the value: keys, and places in lists counted from 0. All
            but its last key must exist; the last is added if it is not there.
        value: The value: a text such as a quantity, which is put in quotes here,
            a whole number, true or false.

    Returns:
        The text, equal to the old one but for this value.

    Raises:
        EditError: The path is empty, leads nowhere, or to a table or a list.
    """
    return set_values(text, {path: value})


def set_values(
    text: str, values: Mapping[Way, Value], *, new_tables: bool = False
) -> str:
    """Set several values of a TOML text, as `set_value` sets one.

    Args:
        text: A TOML text.
        values: The values by the way to each.
        new_tables: Whether a table that is not there is made for its first value.

    Returns:
        The text, equal to the old one but for these values.

    Raises:
        EditError: A path is empty, leads nowhere, or to a table or a list of tables.
    """
    path: Way = ()
    try:
        document = tomlkit.parse(text)
        plain = tomlkit.dumps(document)
        for path, value in values.items():
            if not path:
                raise EditError("no key was named")
            if new_tables:
                _make_table(document, path[:-1])
            _put(_way(document, path[:-1]), path, value)
    except TOMLKitError as error:
        raise EditError(f"{_told(path)}: {error}") from error
    edited = line_ends(untouched(text, plain, tomlkit.dumps(document)), text)
    _make_sure(text, edited, values)
    return edited


def save(path: str | os.PathLike[str], text: str, *, expected: str | None) -> None:
    """Put a text in the place of a file, whole or not at all.

    The text goes to a new file in the same folder, is forced to the disk, and
    takes the old one's place in one step. A reader sees the old text or the new.
    A link stays a link: the file it leads to is replaced. Mode bits are kept.

    Args:
        path: The file.
        text: Its new text.
        expected: `digest` of what was read; None for a file that must not exist.

    Raises:
        ChangedOnDiskError: The file is not what was expected; nothing is written.
        FileFaults: The folder cannot be written to; the old file is untouched.
    """
    target = Path(os.path.realpath(path))
    try:
        _refuse_changed(target, expected)
        _replace(target, text.encode("utf-8"), expected)
    except OSError as error:
        why = f"cannot be saved: {(error.strerror or str(error)).lower()}"
        fault = Fault("", None, "", why, "a folder in which you may write")
        raise FileFaults(os.fspath(path), [fault]) from error


# One value -------------------------------------------------------------------


def _told(path: tuple[str | int, ...]) -> str:
    return ".".join(str(part) for part in path)


def _way(document: Any, path: tuple[str | int, ...]) -> Any:  # noqa: ANN401 - TOML
    """Walk to the table or list that holds the value."""
    place: Any = document
    for length, part in enumerate(path, 1):
        try:
            place = place[part]
        except (KeyError, IndexError, TypeError):
            raise EditError(f"{_told(path[:length])}: there is no such key") from None
    return place


def _make_table(document: Any, way: Way) -> None:  # noqa: ANN401 - TOML
    """Make the table at the end of a way, on the line of its first value."""
    if way and isinstance(way[-1], str):
        above = _way(document, way[:-1])
        if isinstance(above, MutableMapping):
            table = cast("MutableMapping[str, Any]", above)
            if way[-1] not in table:
                table[way[-1]] = tomlkit.inline_table()


def _put(place: object, path: tuple[str | int, ...], value: Value) -> None:
    """Set the value in its table or list, keeping the comment behind it."""
    last = path[-1]
    if isinstance(place, MutableMapping) and isinstance(last, str):
        table = cast("MutableMapping[str, Any]", place)
        _refuse_container(table.get(last), path, value)
        table[last] = _quoted(table.get(last), value)
    elif isinstance(place, MutableSequence) and isinstance(last, int):
        items = cast("MutableSequence[Any]", place)
        if not 0 <= last < len(items):
            raise EditError(f"{_told(path)}: the list has no such place")
        _refuse_container(items[last], path, value)
        items[last] = _quoted(None, value) if isinstance(value, tuple) else value
    else:
        raise EditError(f"{_told(path)}: there is no such key")


def _refuse_container(old: object, path: Way, value: Value) -> None:
    numbers = isinstance(old, MutableSequence) and isinstance(value, tuple)
    if isinstance(old, MutableMapping | MutableSequence) and not numbers:
        raise EditError(f"{_told(path)}: a table or list is not replaced by a value")


def _quoted(old: object, value: Value) -> object:
    """Put a text in the quotes its predecessor had, if they can hold it."""
    if isinstance(value, tuple):
        return list(value)
    if not isinstance(value, str):
        return value
    literal = isinstance(old, String) and old.as_string()[:1] == "'"
    plain = "'" not in value and value.isprintable()
    return tomlkit.string(value, literal=literal and plain)


def line_ends(edited: str, text: str) -> str:
    """Give a new line the line ends of the text, where these are all alike."""
    if "\r\n" in text and "\n" not in text.replace("\r\n", ""):
        return edited.replace("\r\n", "\n").replace("\n", "\r\n")
    return edited


def _make_sure(text: str, edited: str, values: Mapping[Way, Value]) -> None:
    """Refuse a text that differs from the old one in anything but the values."""
    wanted: Any = tomllib.loads(text)
    for path, value in values.items():
        _make_plain_table(wanted, path[:-1])
        plain = list(value) if isinstance(value, tuple) else value
        _way(wanted, path[:-1])[path[-1]] = plain
    try:
        same = tomllib.loads(edited) == wanted
    except tomllib.TOMLDecodeError:
        same = False
    if not same:
        told = ", ".join(_told(path) for path in values)
        raise EditError(f"{told}: cannot be set without touching other keys")


def _make_plain_table(wanted: Any, way: Way) -> None:  # noqa: ANN401 - TOML
    if way and isinstance(way[-1], str):
        above = _way(wanted, way[:-1])
        if isinstance(above, dict):
            cast("dict[str, object]", above).setdefault(way[-1], {})


# One file --------------------------------------------------------------------


def _refuse_changed(target: Path, expected: str | None) -> None:
    try:
        now = target.read_bytes()
    except FileNotFoundError:
        now = None
    found = None if now is None else hashlib.sha256(now).hexdigest()
    if found != expected:
        raise ChangedOnDiskError(target, now)


def _replace(target: Path, data: bytes, expected: str | None) -> None:
    descriptor, name = tempfile.mkstemp(
        prefix=f".{target.name}.", suffix=".new", dir=target.parent
    )
    try:
        with os.fdopen(descriptor, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        if expected is not None:
            Path(name).chmod(target.stat().st_mode & 0o7777)
        # As late as can be: what remains is the moment before the exchange.
        _refuse_changed(target, expected)
        Path(name).replace(target)
    except BaseException:
        with suppress(OSError):
            Path(name).unlink()
        raise
    _sync_folder(target.parent)


def _sync_folder(folder: Path) -> None:
    """Force the new name to the disk, where folders can be opened."""
    with suppress(OSError):
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)
