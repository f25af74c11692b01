"""What the head of a picture says: its kind, its size, and what it should not tell.

A photo that still carries where, when and with what it was taken is refused: whoever
is given a record is given its photos.  The card leaves all that out.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from limen.model.visit import PHOTO_PIXELS

Kind = Literal["image/jpeg", "image/png", "image/webp"]
Fault = Literal["size", "digest", "kind", "pixels", "place"]

_LONGEST_SIDE = 30_000


class PhotoRefusedError(ValueError):
    """A photo that is not taken in.

    Attributes:
        why: ``size`` (too many bytes, or more than announced), ``digest`` (other
            bytes than announced), ``kind`` (no picture of a known kind), ``pixels``
            (too many) or ``place`` (it still says where or with what it was taken).
    """

    def __init__(self, why: Fault) -> None:
        """Say why."""
        super().__init__(why)
        self.why: Fault = why


@dataclass(frozen=True, slots=True)
class Picture:
    """What the head of a picture says.

    Attributes:
        kind: its media type.
        width, height: in pixels.
    """

    kind: Kind
    width: int
    height: int


def picture(data: bytes) -> Picture:
    """What the head of a picture says.

    Raises:
        PhotoRefusedError: it is no picture of a known kind, has too many pixels, or
            still says where or with what it was taken.
    """
    found = _jpeg(data) or _png(data) or _webp(data)
    if found is None:
        raise PhotoRefusedError("kind")
    width, height = found.width, found.height
    if not (0 < width <= _LONGEST_SIDE and 0 < height <= _LONGEST_SIDE):
        raise PhotoRefusedError("pixels")
    if width * height > PHOTO_PIXELS:
        raise PhotoRefusedError("pixels")
    return found


_JPEG, _PNG = b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n"
_TELLING = (b"Exif\0", b"http://ns.adobe.com/xap")
_FRAMES = frozenset(range(0xC0, 0xD0)) - {0xC4, 0xC8, 0xCC}
_ALONE = frozenset({0x01, *range(0xD0, 0xD9)})
_SCAN, _APP1 = 0xDA, 0xE1


def _jpeg(data: bytes) -> Picture | None:
    """A JPEG (ITU-T T.81, B.1: markers before the first scan)."""
    if not data.startswith(_JPEG):
        return None
    size: tuple[int, int] | None = None
    for marker, body in _segments(data):
        if marker == _APP1 and body.startswith(_TELLING):
            raise PhotoRefusedError("place")
        if marker in _FRAMES and len(body) >= 5:  # noqa: PLR2004 - height, width
            size = int.from_bytes(body[3:5]), int.from_bytes(body[1:3])
    return Picture("image/jpeg", *size) if size else None


def _segments(data: bytes) -> Iterator[tuple[int, bytes]]:
    at = 2
    while at + 4 <= len(data) and data[at] == 0xFF:  # noqa: PLR2004 - begins a marker
        marker = data[at + 1]
        if marker == 0xFF:  # noqa: PLR2004 - fills up
            at += 1
        elif marker in _ALONE:
            at += 2
        elif marker == _SCAN:
            return
        else:
            end = at + 2 + int.from_bytes(data[at + 2 : at + 4])
            yield marker, data[at + 4 : end]
            at = end


def _png(data: bytes) -> Picture | None:
    """A PNG (ISO/IEC 15948, 5.3: chunks of length, name, body, check)."""
    if not data.startswith(_PNG) or data[12:16] != b"IHDR":
        return None
    at = len(_PNG)
    while at + 8 <= len(data):
        if data[at + 4 : at + 8] in {b"eXIf", b"iTXt", b"tEXt", b"zTXt"}:
            raise PhotoRefusedError("place")
        at += 12 + int.from_bytes(data[at : at + 4])
    return Picture(
        "image/png", int.from_bytes(data[16:20]), int.from_bytes(data[20:24])
    )


def _webp(data: bytes) -> Picture | None:
    """A WebP (RFC 9649, 2.3 to 2.7: a RIFF file of chunks)."""
    if data[:4] != b"RIFF" or data[8:12] != b"WEBP":
        return None
    size: tuple[int, int] | None = None
    for name, body in _chunks(data):
        if name in {b"EXIF", b"XMP "}:
            raise PhotoRefusedError("place")
        size = size or _webp_size(name, body)
    return Picture("image/webp", *size) if size else None


def _chunks(data: bytes) -> Iterator[tuple[bytes, bytes]]:
    at = 12
    while at + 8 <= len(data):
        length = int.from_bytes(data[at + 4 : at + 8], "little")
        yield data[at : at + 4], data[at + 8 : at + 8 + length]
        at += 8 + length + length % 2


def _webp_size(name: bytes, body: bytes) -> tuple[int, int] | None:
    match name:
        case b"VP8 ":
            both = (body[6:8], body[8:10])
            width, height = (int.from_bytes(one, "little") & 0x3FFF for one in both)
            return width, height
        case b"VP8L":
            bits = int.from_bytes(body[1:5], "little")
            return (bits & 0x3FFF) + 1, (bits >> 14 & 0x3FFF) + 1
        case b"VP8X":
            both = (body[4:7], body[7:10])
            width, height = (int.from_bytes(one, "little") + 1 for one in both)
            return width, height
        case _:
            return None
