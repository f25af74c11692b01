"""A picture without what it tells of place, time and camera; its pixels untouched."""

from collections.abc import Iterator

from limen.store.picture_heads import PhotoRefusedError

_JPEG, _PNG = b"\xff\xd8", b"\x89PNG\r\n\x1a\n"
_KEPT_PNG = frozenset(
    {b"IHDR", b"PLTE", b"IDAT", b"IEND", b"tRNS", b"gAMA", b"cHRM", b"sRGB", b"iCCP"}
)
_KEPT_WEBP = frozenset({b"VP8 ", b"VP8L", b"VP8X", b"ALPH", b"ICCP", b"ANIM", b"ANMF"})
_TELLING = frozenset({0xFE, *range(0xE0, 0xF0)}) - {0xE0, 0xE2, 0xEE}
"""Comments and applications' own segments; JFIF, colour profile and Adobe's stay."""
_PROFILE = b"ICC_PROFILE\0"
_APP2, _SCAN, _END = 0xE2, 0xDA, 0xD9
_ALONE = frozenset({0x01, *range(0xD0, 0xD8)})
_WEBP_TELLS = 0b0000_1100
"""Flags of a WebP that say it has EXIF and XMP (RFC 9649, 2.7.1)."""
_UPRIGHT = 1


class TurnedError(ValueError):
    """A picture that is upright only by a note in what is left out."""


def bare(data: bytes) -> bytes:
    """A picture without what it tells beside its pixels.

    Args:
        data: JPEG, PNG or WebP; what is neither comes back as it is.

    Raises:
        TurnedError: without its notes it would lie on its side.
        PhotoRefusedError: its parts do not fit together.
    """
    if data.startswith(_JPEG):
        return b"".join(_bare_jpeg(data))
    if data.startswith(_PNG):
        return _PNG + b"".join(_bare_png(data))
    if data[:4] == b"RIFF" and data[8:12] == b"WEBP":
        body = b"WEBP" + b"".join(_bare_webp(data))
        return b"RIFF" + len(body).to_bytes(4, "little") + body
    return data


def _bare_jpeg(data: bytes) -> Iterator[bytes]:
    """The segments and scans that are kept (ITU-T T.81, B.1.1)."""
    yield _JPEG
    at = len(_JPEG)
    while True:
        marker, at = _marker(data, at)
        if marker == _END:
            yield b"\xff\xd9"
            return
        if marker in _ALONE:
            yield bytes((0xFF, marker))
            continue
        end = at + int.from_bytes(data[at : at + 2])
        body = data[at:end]
        if end > len(data) or len(body) < 2:  # noqa: PLR2004 - its own length
            raise PhotoRefusedError("kind")
        _upright(body[2:])
        foreign = marker == _APP2 and not body[2:].startswith(_PROFILE)
        if marker not in _TELLING and not foreign:
            yield bytes((0xFF, marker)) + body
        at = end
        if marker == _SCAN:
            end = _scan_end(data, at)
            yield data[at:end]
            at = end


def _marker(data: bytes, at: int) -> tuple[int, int]:
    """A marker and where what follows it begins; fill bytes are passed over."""
    if data[at : at + 1] != b"\xff":
        raise PhotoRefusedError("kind")
    while data[at : at + 1] == b"\xff":
        at += 1
    if at >= len(data):
        raise PhotoRefusedError("kind")
    return data[at], at + 1


def _scan_end(data: bytes, at: int) -> int:
    """Where the next marker after a scan's own bytes stands."""
    while True:
        at = data.find(b"\xff", at)
        if at < 0 or at + 1 >= len(data):
            raise PhotoRefusedError("kind")
        if data[at + 1] != 0 and data[at + 1] not in _ALONE:
            return at
        at += 2


def _upright(body: bytes) -> None:
    """Refuse a picture whose notes turn it (TIFF 6.0, tag 274).

    Raises:
        TurnedError: they do.
    """
    if not body.startswith(b"Exif\0\0"):
        return
    tiff = body[6:]
    order = "little" if tiff[:2] == b"II" else "big"
    start = int.from_bytes(tiff[4:8], order)
    count = int.from_bytes(tiff[start : start + 2], order)
    for entry in range(start + 2, start + 2 + 12 * count, 12):
        if int.from_bytes(tiff[entry : entry + 2], order) != 0x0112:  # noqa: PLR2004
            continue
        if int.from_bytes(tiff[entry + 8 : entry + 10], order) > _UPRIGHT:
            raise TurnedError


def _bare_png(data: bytes) -> Iterator[bytes]:
    """The chunks that are kept (ISO/IEC 15948, 5.3)."""
    at = len(_PNG)
    while at + 12 <= len(data):
        end = at + 12 + int.from_bytes(data[at : at + 4])
        if end > len(data):
            raise PhotoRefusedError("kind")
        name = data[at + 4 : at + 8]
        if name in _KEPT_PNG:
            yield data[at:end]
        if name == b"IEND":
            return
        at = end
    raise PhotoRefusedError("kind")


def _bare_webp(data: bytes) -> Iterator[bytes]:
    """The chunks that are kept (RFC 9649, 2.3)."""
    at = 12
    while at + 8 <= len(data):
        name, size = data[at : at + 4], int.from_bytes(data[at + 4 : at + 8], "little")
        end = at + 8 + size
        if end > len(data):
            raise PhotoRefusedError("kind")
        body = data[at + 8 : end]
        if name == b"EXIF":
            _upright(body if body.startswith(b"Exif") else b"Exif\0\0" + body)
        if name == b"VP8X":
            body = bytes((body[0] & ~_WEBP_TELLS & 0xFF,)) + body[1:]
        if name in _KEPT_WEBP:
            yield name + data[at + 4 : at + 8] + body + b"\0" * (size % 2)
        at = end + size % 2
