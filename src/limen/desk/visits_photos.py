"""Photos of visits: taken in piece by piece, given out whole."""

import re
from dataclasses import dataclass
from pathlib import Path

from limen.desk.library import Desk
from limen.desk.refusal import Refusal, refusing
from limen.findings import Message
from limen.model.visit import PHOTO_BYTES, PHOTO_PIXELS
from limen.store.database.photos import KeptPhoto, keep_photo, photo_of
from limen.store.photos import add_piece, complete, part_of, photo_path
from limen.store.picture_heads import PhotoRefusedError
from limen.words import say

FOLDER = "photos"
_DIGEST = re.compile(r"[0-9a-f]{64}")


@dataclass(frozen=True, slots=True)
class PhotoState:
    """How much of a photo is on the disk.

    Attributes:
        sha256: which photo.
        kept: bytes that are there.
        whole: whether these are all, and of this digest.
    """

    sha256: str
    kept: int
    whole: bool


def photo_state(desk: Desk, sha256: str) -> PhotoState:
    """How much of a photo is there: from where on to send.

    Raises:
        Refusal: that is no digest.
    """
    _checked(sha256)
    found = photo_of(desk.library, sha256)
    if found is not None:
        return PhotoState(sha256, found.bytes, whole=True)
    return PhotoState(sha256, part_of(_folder(desk), sha256), whole=False)


def take_piece(
    desk: Desk, sha256: str, piece: bytes, *, at: int = 0, whole: int | None = None
) -> PhotoState:
    """Keep a piece of a photo, or all of it; what is said is on the disk.

    Args:
        desk: the desk.
        sha256: digest of the whole photo.
        piece: its bytes.
        at: number of bytes before it.
        whole: bytes of the whole photo; the piece is all of it if None.

    Raises:
        Refusal: it is not the photo that was announced, or none that is taken in.
    """
    _checked(sha256)
    known = photo_of(desk.library, sha256)
    if known is not None:
        return PhotoState(sha256, known.bytes, whole=True)
    folder, size = _folder(desk), len(piece) if whole is None else whole
    try:
        with refusing():
            there = add_piece(folder, sha256, at, size, piece)
            if there < size:
                return PhotoState(sha256, there, whole=False)
            found = complete(folder, sha256)
    except PhotoRefusedError as fault:
        values = {"most": PHOTO_BYTES // 10**6, "pixels": PHOTO_PIXELS // 10**6}
        said = say(Message(f"visits.photo_refused.{fault.why}", values))
        raise Refusal([said]) from fault
    keep_photo(desk.library, sha256, size, found)
    return PhotoState(sha256, size, whole=True)


def photo(desk: Desk, sha256: str) -> tuple[KeptPhoto, bytes] | None:
    """A photo and its bytes; None while it is not whole.

    Raises:
        Refusal: that is no digest, or its file cannot be read.
    """
    _checked(sha256)
    found = photo_of(desk.library, sha256)
    if found is None:
        return None
    with refusing():
        return found, photo_path(_folder(desk), sha256).read_bytes()


def _folder(desk: Desk) -> Path:
    return desk.sheets.parent / FOLDER


def _checked(sha256: str) -> None:
    """Refuse what is no digest: a name of a file is made of it.

    Raises:
        Refusal: it is none.
    """
    if _DIGEST.fullmatch(sha256) is None:
        raise Refusal([say(Message("visits.photo_refused.name"))])
