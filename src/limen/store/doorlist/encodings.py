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
_AS_LIKELY = 0.05
_WITHIN = re.compile(r"(?<=[a-zß-öø-ÿ])[À-ÖØ-ÞŒŠŽŸ](?=[a-z])|[à-öø-ÿa-z][À-ÖØ-Þ](?=\W)")
_OFTEN = frozenset("äöüßéèàçêôâîûñóá")
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
    """The encoding that makes words of it.

    A library says which can be; of names and streets, which are no sentences, it finds
    several alike. Of these the one counts in which letters sit as in words.
    """
    # Lines of plain letters tell nothing, and drown those that do.
    lines = [line for line in re.split(rb"[\r\n]", data) if not line.isascii()]
    some = b"\n".join(lines)[:_MOST_LOOKED_AT]
    found = [*from_bytes(some, cp_isolation=_LOOKED_FOR)]
    order = {codecs.lookup(name).name: at for at, name in enumerate(_LOOKED_FOR)}
    ranked = [
        (_odd(some.decode(name, "replace")), -one.coherence, order[name], name)
        for one in found
        if one.chaos <= found[0].chaos + _AS_LIKELY
        for name in {codecs.lookup(like).name for like in one.could_be_from_charset}
    ]
    if not ranked:
        raise ListRefused("encoding", listed=", ".join(ENCODINGS))
    return min(ranked)[-1]


def _odd(text: str) -> int:
    """How many signs sit as in no word, less those that are common in words."""
    odd = sum(1 for _ in _WITHIN.finditer(text))
    strange = sum(1 for sign in text if sign > "\x7f" and not sign.isalnum())
    mixed = sum(1 for word in _WORD.findall(text) if _mixed(word))
    common = sum(1 for sign in text if sign in _OFTEN)
    return odd + strange + mixed - common


def _mixed(word: str) -> bool:
    """Whether Latin letters stand beside those of another script."""
    return bool(re.search(r"[a-zA-Z]", word) and re.search(r"[\u0370-\u04ff]", word))
