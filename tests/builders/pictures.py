"""Small pictures, made byte by byte."""

import struct
import zlib


def png(width: int, height: int, *chunks: tuple[bytes, bytes]) -> bytes:
    """A grey picture (ISO/IEC 15948), with further chunks before its pixels."""
    head = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    rows = zlib.compress(b"\0" * ((width + 1) * min(height, 100)))
    parts = (
        (b"IHDR", head),
        *chunks,
        (b"IDAT", rows),
        (b"IEND", b""),
    )
    return b"\x89PNG\r\n\x1a\n" + b"".join(_chunk(*part) for part in parts)


def jpeg(width: int, height: int, *segments: tuple[int, bytes]) -> bytes:
    """The head of a picture (ITU-T T.81), with further segments, and an empty scan."""
    frame = struct.pack(">BHHB", 8, height, width, 1) + b"\x01\x11\x00"
    every = (*segments, (0xC0, frame), (0xDA, b"\x01\x01\x00\x00\x3f\x00"))
    made = (
        b"\xff" + bytes([mark]) + struct.pack(">H", len(body) + 2) + body
        for mark, body in every
    )
    return b"\xff\xd8" + b"".join(made) + b"\x00\xff\xd9"


def webp(width: int, height: int, *chunks: tuple[bytes, bytes]) -> bytes:
    """An extended picture (RFC 9649, 2.7), with further chunks and no pixels."""
    size = (width - 1).to_bytes(3, "little") + (height - 1).to_bytes(3, "little")
    every = ((b"VP8X", b"\0\0\0\0" + size), *chunks)
    body = b"".join(
        name + struct.pack("<I", len(data)) + data + b"\0" * (len(data) % 2)
        for name, data in every
    )
    return b"RIFF" + struct.pack("<I", len(body) + 4) + b"WEBP" + body


def _chunk(name: bytes, body: bytes) -> bytes:
    check = struct.pack(">I", zlib.crc32(name + body))
    return struct.pack(">I", len(body)) + name + body + check
