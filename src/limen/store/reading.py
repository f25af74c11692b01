"""Files in: bytes that may be anything become text, and text becomes a model.

Whatever is wrong with a file is the file's fault, and is told as such: nothing
here raises anything but `FileFaults`, and nothing is repaired.
"""

import errno
import os
import stat
from collections.abc import Mapping
from typing import Any, NoReturn, TypeVar, cast

from pydantic import BaseModel, ValidationError

from limen.store.explaining import explain, key_text
from limen.store.faults import Fault, FileFaults
from limen.store.syntax import read_toml
from limen.store.tomllines import locate

LIMIT_BYTES = 2_000_000
"""The size up to which a site file is read."""

_Model = TypeVar("_Model", bound=BaseModel)
_UTF8 = "text saved as UTF-8 without a byte order mark"


def read_text(path: str | os.PathLike[str], limit_bytes: int = LIMIT_BYTES) -> str:
    """Read a text file whole.

    Args:
        path: An ordinary file; pipes and devices are refused before they are
            opened.
        limit_bytes: The size above which nothing is read.

    Raises:
        FileFaults: There is no such file, it is none, too large, no UTF-8.
    """
    name = os.fspath(path)
    try:
        _refuse_special(os.stat(name).st_mode, name)  # noqa: PTH116 - a path as given
        data = _bytes(name, limit_bytes)
    except OSError as error:
        _refuse(name, *_reason(error))
    except ValueError:
        _refuse(name, "no file can have this name", "a name without control signs")
    return decode(data, name=name, limit_bytes=limit_bytes)


def decode(data: bytes, *, name: str, limit_bytes: int = LIMIT_BYTES) -> str:
    """Turn the bytes of a file or an upload into text.

    A byte order mark is refused and not skipped: what is saved must be what was
    read, and other programs would stumble over it.

    Args:
        data: The bytes, whole.
        name: The file's name for the message.
        limit_bytes: The size above which they are refused.

    Raises:
        FileFaults: Too large, binary, not UTF-8, or with a byte order mark.
    """
    if len(data) > limit_bytes:
        _refuse_size(name, limit_bytes)
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        _refuse(name, "saved as UTF-16", _UTF8)
    if data.startswith(b"\xef\xbb\xbf"):
        _refuse(name, "begins with a byte order mark", _UTF8, line=1)
    zero = data.find(b"\0")
    if zero >= 0:
        _refuse(name, "not a text: it holds zero bytes", _UTF8, _line(data, zero))
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as error:
        byte = f"byte 0x{data[error.start]:02X}"
        line = _line(data, error.start)
        _refuse(name, f"{byte} is no UTF-8; saved in another encoding?", _UTF8, line)


def read_document(
    text: str,
    model: type[_Model],
    *,
    name: str,
    context: Mapping[str, Any] | None = None,
) -> _Model:
    """Turn the text of a TOML file into a model, or tell all its faults at once.

    Lists reach the model as tuples: a frozen model holds nothing that changes.

    Args:
        text: The text of the file.
        model: A pydantic model; unions in it are discriminated.
        name: The file's name for the message.
        context: What the model's validators may ask for.

    Raises:
        FileFaults: Everything that is wrong: lines that are no TOML, and keys and
            values that the model refuses.
    """
    toml = read_toml(text)
    faults = list(toml.faults)
    result: _Model | None = None
    if toml.data is not None:
        try:
            result = model.model_validate(
                _frozen(toml.data), context=dict(context or {})
            )
        except ValidationError as error:
            broken = {fault.line for fault in faults}
            told = explain(error, model, toml.data, locate(text))
            faults += [fault for fault in told if fault.line not in broken - {None}]
    if faults or result is None:
        raise FileFaults(name, faults)
    return result


def fault_at(
    text: str, path: tuple[str | int, ...], why: str, accepted: str, example: str = ""
) -> Fault:
    """Tell a fault that only the reader can find: a sheet that is not there.

    Args:
        text: The text of the file, free of other faults.
        path: The way to the value at fault.
        why: Why it is refused.
        accepted: What is accepted.
        example: A line that is accepted.
    """
    data: object = read_toml(text).data
    found: Any = data
    for part in path:
        found = found[part]
    return Fault(
        key_text(path, data),
        locate(text).get(path),
        f'"{found}"',
        why,
        accepted,
        example,
    )


# Bytes -----------------------------------------------------------------------


def _bytes(name: str, limit_bytes: int) -> bytes:
    """Read a file, making sure of what was opened: it may have been exchanged."""
    flags = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
    with open(os.open(name, flags), "rb") as file:  # noqa: PTH123 - of a descriptor
        status = os.fstat(file.fileno())
        _refuse_special(status.st_mode, name)
        if status.st_size > limit_bytes:
            _refuse_size(name, limit_bytes)
        return file.read(limit_bytes + 1)


def _refuse_special(mode: int, name: str) -> None:
    if stat.S_ISDIR(mode):
        _refuse(name, "a folder, not a file", "a file")
    if not stat.S_ISREG(mode):
        _refuse(name, "a pipe or device, not a file", "an ordinary file")


def _refuse_size(name: str, limit_bytes: int) -> NoReturn:
    why = f"larger than {limit_bytes / 1e6:g} MB, and not read"
    _refuse(name, why, "a site file is some kilobytes of text")


def _refuse(name: str, why: str, accepted: str, line: int | None = None) -> NoReturn:
    raise FileFaults(name, [Fault("", line, "", why, accepted)]) from None


_REASONS = {
    errno.ENOENT: ("there is no such file", "the path of a file"),
    errno.ENOTDIR: ("a part of the path is no folder", "the path of a file"),
    errno.EISDIR: ("a folder, not a file", "a file"),
    errno.EACCES: ("may not be read by you", "a file you may read"),
    errno.EPERM: ("may not be read by you", "a file you may read"),
    errno.ELOOP: ("a link that leads to itself", "a file, or a link to one"),
    errno.ENAMETOOLONG: ("no file can have so long a name", "the path of a file"),
}


def _reason(error: OSError) -> tuple[str, str]:
    said = (error.strerror or str(error)).lower()
    return _REASONS.get(error.errno or 0, (f"cannot be read: {said}", "a file"))


def _line(data: bytes, place: int) -> int:
    return data.count(b"\n", 0, place) + 1


def _frozen(value: object) -> object:
    """Turn lists into tuples, all the way down."""
    if isinstance(value, dict):
        table = cast("dict[str, object]", value)
        return {key: _frozen(item) for key, item in table.items()}
    if isinstance(value, list):
        return tuple(_frozen(item) for item in cast("list[object]", value))
    return value
