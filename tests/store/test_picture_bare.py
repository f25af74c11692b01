"""A picture is kept without what it tells of place, time and camera."""

import struct

import pytest

from builders.pictures import jpeg, png, webp
from limen.store.picture_bare import TurnedError, bare
from limen.store.picture_heads import PhotoRefusedError, picture

ORIENTATION = 0x0112
"""Tag 274.  Source: TIFF, Revision 6.0, 1992, section 8."""


def _exif(turned: int, order: str = "<") -> bytes:
    mark = b"II*\0" if order == "<" else b"MM\0*"
    entry = struct.pack(f"{order}HHIHH", ORIENTATION, 3, 1, turned, 0)
    head = mark + struct.pack(f"{order}I", 8) + struct.pack(f"{order}H", 1)
    return b"Exif\0\0" + head + entry


@pytest.mark.parametrize(
    "data",
    [
        jpeg(40, 30, (0xE1, _exif(1)), (0xFE, b"by whom")),
        jpeg(40, 30, (0xE1, b"http://ns.adobe.com/xap/1.0/\0place")),
        png(40, 30, (b"eXIf", b"place"), (b"tEXt", b"Author\0who")),
        webp(40, 30, (b"VP8 ", b"pixels"), (b"EXIF", b"place"), (b"XMP ", b"who")),
    ],
    ids=["exif", "xmp", "png", "webp"],
)
def test_what_it_tells_is_left_out_and_its_size_stays(data: bytes) -> None:
    with pytest.raises(PhotoRefusedError):
        picture(data)
    kept = bare(data)
    found = picture(kept)
    assert (found.width, found.height) == (40, 30)
    for word in (b"place", b"who", b"Exif"):
        assert word not in kept
    assert bare(kept) == kept


def test_a_picture_that_tells_nothing_stays_to_the_byte() -> None:
    for data in (jpeg(4, 3), png(4, 3), webp(4, 3, (b"VP8 ", b"pixels"))):
        assert bare(data) == data


def test_what_follows_the_end_of_a_picture_is_left_out() -> None:
    assert bare(jpeg(4, 3) + jpeg(9, 9, (0xE1, _exif(1)))) == jpeg(4, 3)


@pytest.mark.parametrize("order", ["<", ">"])
def test_one_that_only_a_note_turns_upright_is_refused(order: str) -> None:
    with pytest.raises(TurnedError):
        bare(jpeg(4, 3, (0xE1, _exif(6, order))))


@pytest.mark.parametrize(
    "data", [jpeg(9, 9), png(9, 9), webp(9, 9, (b"VP8 ", b"xxxx"))]
)
def test_one_that_ends_too_early_is_refused_or_kept_no_longer(data: bytes) -> None:
    for end in range(13, len(data) - 1):
        try:
            assert len(bare(data[:end])) <= end
        except PhotoRefusedError:
            continue


def test_anything_else_is_left_to_be_refused() -> None:
    assert bare(b"<svg/>") == b"<svg/>"
