"""Photos as they were taken in: each a file of its own, named by its SHA-256.

A photo comes in pieces.  What has come is on the disk when it is answered; once all
is there, it must have the digest that it was announced under.
"""

import os
from contextlib import suppress
from hashlib import sha256
from pathlib import Path

from limen.model.visit import PHOTO_BYTES
from limen.store.picture_heads import PhotoRefusedError, Picture, picture

_PART = ".part"
_WAITS = 30 * 86_400.0
"""Seconds that a photo of which no more comes is waited for."""


def photo_path(folder: Path, digest: str) -> Path:
    """Where a photo of this digest lies, once it is whole."""
    return folder / digest[:2] / digest


def part_of(folder: Path, digest: str) -> int:
    """How many bytes of a photo are on the disk already, while it is not whole."""
    try:
        return _part(folder, digest).stat().st_size
    except FileNotFoundError:
        return 0


def add_piece(folder: Path, digest: str, at: int, whole: int, piece: bytes) -> int:
    """Put a piece of a photo to what is there.

    A piece that is there already changes nothing; one that would leave a gap is left
    out: the answer says from where on to send.

    Args:
        folder: of all photos.
        digest: of the whole photo.
        at: number of bytes before the piece.
        whole: bytes of the whole photo.
        piece: the bytes.

    Returns:
        How many bytes are on the disk now.

    Raises:
        PhotoRefusedError: it is too large, or goes beyond its end.
        OSError: the disk does not take it.
    """
    if not 0 < whole <= PHOTO_BYTES or at + len(piece) > whole:
        raise PhotoRefusedError("size")
    path = _part(folder, digest)
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    there = part_of(folder, digest)
    if at > there or at + len(piece) <= there:
        return there
    with os.fdopen(os.open(path, os.O_WRONLY | os.O_CREAT, 0o600), "wb") as file:
        file.seek(at)
        file.write(piece)
        file.flush()
        os.fsync(file.fileno())
    return at + len(piece)


def complete(folder: Path, digest: str) -> Picture:
    """Make a photo whole, of which all bytes are there.

    Pieces of others to which nothing came for a month are thrown away: the device
    has them still, and sends them from the beginning.

    Args:
        folder: of all photos.
        digest: of the photo.

    Raises:
        PhotoRefusedError: it is not the photo that was announced, or none that is
            taken in; what was there of it is gone.
        OSError: the disk does not take it.
    """
    part, path = _part(folder, digest), photo_path(folder, digest)
    try:
        data = part.read_bytes()
    except FileNotFoundError:  # somebody sent the same at once, and was quicker
        return picture(path.read_bytes())
    try:
        found = _announced(data, digest)
    except PhotoRefusedError:
        part.unlink(missing_ok=True)
        raise
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    _tidy(part)
    part.replace(path)
    for place in (path.parent, part.parent):
        _sync(place)
    return found


def _announced(data: bytes, digest: str) -> Picture:
    if sha256(data).hexdigest() != digest:
        raise PhotoRefusedError("digest")
    return picture(data)


def _tidy(last: Path) -> None:
    """Throw away what is a month older than the last piece; none of it is needed."""
    with suppress(OSError):  # another does the same at once
        since = last.stat().st_mtime - _WAITS
        for one in last.parent.glob(f"*{_PART}"):
            if one.stat().st_mtime < since:
                one.unlink(missing_ok=True)


def _part(folder: Path, digest: str) -> Path:
    return folder / "parts" / f"{digest}{_PART}"


def _sync(folder: Path) -> None:
    """Let a folder forget no name that was given in it."""
    if os.name != "posix":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
