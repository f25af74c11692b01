"""Bytes of a text file become text; what was assumed of their encoding is told."""

import codecs
import re
from dataclasses import dataclass

from charset_normalizer import from_bytes

from limen.findings import Message
from limen.store.doorlist.grid import ListRefused

ENCODINGS = (
    "utf-8",
    "utf-16",
    "cp1252",
    "iso8859-15",
    "cp1250",
    "cp1251",
    "cp1253",
    "cp1254",
    "cp850",
    "mac-roman",
    "shift_jis",
    "gb18030",
)
"""Encodings that are offered; any other that Python knows may be named."""
_LOOKED_FOR = ["cp1252", "cp1250", "cp1251", "cp1253", "cp1254", "cp850", "mac_roman"]
_MARKS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF32_LE, "utf-32"),
    (codecs.BOM_UTF32_BE, "utf-32"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)
_COMMON = "cp1252"
_WORD = re.compile(r"\w*[^\x00-\x7f\s]\w*")
_SHOWN = 5
_MOST_LOOKED_AT = 200_000
_ZEROS = 0.3
LOST = "\N{REPLACEMENT CHARACTER}"
"""Stands where bytes are no letters of the encoding."""


@dataclass(frozen=True, slots=True)
class Decoded:
    """A text, and how it was read.

    Attributes:
        text: the text; `LOST` where bytes are no letters.
        encoding: which encoding.
        told: what was assumed, with words in which an eye sees whether it is so.
    """

    text: str
    encoding: str
    told: Message


def decoded(data: bytes, chosen: str = "") -> Decoded:
    """Turn bytes into text.

    Args:
        data: the file.
        chosen: the encoding a person has chosen; looked for if empty.

    Raises:
        ListRefused: there is no such encoding, or none is likely.
    """
    if chosen:
        return _told(data, _known(chosen), "chosen")
    marked = next((name for mark, name in _MARKS if data.startswith(mark)), "")
    if marked:
        return _told(data, marked, "marked")
    wide = _wide(data)
    if wide:
        return _told(data, wide, "assumed")
    if data.isascii():
        return _told(data, "utf-8", "ascii")
    if _mostly_utf8(data):
        return _told(data, "utf-8", "fits")
    return _told(data, _likely(data), "assumed")


def _told(data: bytes, encoding: str, how: str) -> Decoded:
    text = data.decode(encoding, errors="replace").removeprefix("\ufeff")
    words = dict.fromkeys(_WORD.findall(text[:_MOST_LOOKED_AT]))
    shown = ", ".join(list(words)[:_SHOWN])
    values: dict[str, str | int] = {"encoding": encoding, "words": shown}
    if shown:
        how = f"{how}_words"
    return Decoded(text, encoding, Message(f"take_in.read.encoding.{how}", values))


def _known(chosen: str) -> str:
    """Its name, if it is an encoding of text."""
    try:
        found = codecs.lookup(chosen)
        "a".encode(found.name)
    except (LookupError, ValueError, UnicodeError):
        listed = ", ".join(ENCODINGS)
        raise ListRefused("no_encoding", found=chosen[:40], listed=listed) from None
    return found.name


def _wide(data: bytes) -> str:
    """UTF-16 without its mark: every second byte of Latin text is zero."""
    some = data[:_MOST_LOOKED_AT]
    for offset, name in ((1, "utf-16-le"), (0, "utf-16-be")):
        half = some[offset::2]
        other = some[1 - offset :: 2]
        zeros = half.count(0)
        if half and zeros > _ZEROS * len(half) and other.count(0) * 10 < zeros:
            return name
    return ""


def _mostly_utf8(data: bytes) -> bool:
    """Whether most lines with letters beyond ASCII are UTF-8.

    One line pasted from elsewhere does not make a file of another encoding; that line
    is refused later on.
    """
    lines = [line for line in re.split(rb"[\r\n]", data) if not line.isascii()]
    fits = sum(1 for line in lines if _is_utf8(line))
    return fits * 2 >= len(lines) and fits > 0


def _is_utf8(line: bytes) -> bool:
    try:
        line.decode("utf-8")
    except UnicodeDecodeError:
        return False
    return True


def _likely(data: bytes) -> str:
    """The encoding that makes words of it, by a library that knows languages."""
    # Lines of plain letters tell nothing, and drown those that do.
    lines = [line for line in re.split(rb"[\r\n]", data) if not line.isascii()]
    some = b"\n".join(lines)[:_MOST_LOOKED_AT]
    best = from_bytes(some, cp_isolation=_LOOKED_FOR).best()
    if best is None:
        raise ListRefused("encoding", listed=", ".join(ENCODINGS))
    found = codecs.lookup(best.encoding).name
    same = some.decode(_COMMON, errors="replace") == some.decode(found, "replace")
    return _COMMON if same else found
