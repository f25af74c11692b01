"""Photos are whole, are what they were announced as, and tell nothing else."""

import os
from hashlib import sha256
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builders.pictures import jpeg, png, webp
from limen.store.photos import add_piece, complete, part_of, photo_path
from limen.store.picture_heads import PhotoRefusedError, picture

PICTURE = png(40, 30)
DIGEST = sha256(PICTURE).hexdigest()


def test_a_photo_that_comes_in_pieces_is_put_together(tmp_path: Path) -> None:
    whole = len(PICTURE)
    assert add_piece(tmp_path, DIGEST, 0, whole, PICTURE[:20]) == 20
    assert part_of(tmp_path, DIGEST) == 20
    # The same again, and one that would leave a gap, change nothing.
    assert add_piece(tmp_path, DIGEST, 0, whole, PICTURE[:20]) == 20
    assert add_piece(tmp_path, DIGEST, 30, whole, PICTURE[30:]) == 20
    # One that overlaps goes on where it ends.
    assert add_piece(tmp_path, DIGEST, 10, whole, PICTURE[10:]) == whole
    found = complete(tmp_path, DIGEST)
    assert (found.kind, found.width, found.height) == ("image/png", 40, 30)
    path = photo_path(tmp_path, DIGEST)
    assert path.read_bytes() == PICTURE
    assert path.stat().st_mode & 0o077 == 0
    assert part_of(tmp_path, DIGEST) == 0


def test_a_photo_that_two_made_whole_at_once_is_whole(tmp_path: Path) -> None:
    add_piece(tmp_path, DIGEST, 0, len(PICTURE), PICTURE)
    assert complete(tmp_path, DIGEST) == complete(tmp_path, DIGEST)
    with pytest.raises(FileNotFoundError):
        complete(tmp_path, "0" * 64)


def test_pieces_that_nobody_went_on_with_for_a_month_go_with_the_next_photo(
    tmp_path: Path,
) -> None:
    days = {"a" * 64: 31, "b" * 64: 29}
    for digest, ago in days.items():
        add_piece(tmp_path, digest, 0, 40, b"some")
        part = tmp_path / "parts" / f"{digest}.part"
        then = part.stat().st_mtime - ago * 86_400
        os.utime(part, (then, then))
    add_piece(tmp_path, DIGEST, 0, len(PICTURE), PICTURE)
    complete(tmp_path, DIGEST)
    assert [part_of(tmp_path, digest) for digest in days] == [0, 4]


def test_other_bytes_than_announced_are_thrown_away(tmp_path: Path) -> None:
    wrong = bytes([*PICTURE[:-1], PICTURE[-1] ^ 1])
    add_piece(tmp_path, DIGEST, 0, len(wrong), wrong)
    with pytest.raises(PhotoRefusedError, match="digest"):
        complete(tmp_path, DIGEST)
    assert part_of(tmp_path, DIGEST) == 0
    assert not photo_path(tmp_path, DIGEST).exists()


@pytest.mark.parametrize(
    ("at", "whole"), [(0, 10), (0, 0), (0, 15_000_001), (70, 80)], ids=str
)
def test_more_bytes_than_announced_or_allowed_are_refused(
    tmp_path: Path, at: int, whole: int
) -> None:
    with pytest.raises(PhotoRefusedError, match="size"):
        add_piece(tmp_path, DIGEST, at, whole, PICTURE)


@pytest.mark.parametrize(
    ("data", "kind"),
    [
        (png(40, 30), "image/png"),
        (jpeg(40, 30, (0xE0, b"JFIF\0")), "image/jpeg"),
        (webp(40, 30), "image/webp"),
    ],
    ids=["png", "jpeg", "webp"],
)
def test_a_picture_says_its_kind_and_size(data: bytes, kind: str) -> None:
    found = picture(data)
    assert (found.kind, found.width, found.height) == (kind, 40, 30)


@pytest.mark.parametrize(
    ("body", "size"),
    [
        # RFC 9649, 2.5 (with RFC 6386, 9.1): 14 bits each after the start code
        (b"VP8 \x0a\0\0\0\0\0\0\x9d\x01\x2a\x28\x00\x1e\x00", (40, 30)),
        # RFC 9649, 2.6 and 3.4: one less in 14 bits each, after the signature
        (b"VP8L\x05\0\0\0\x2f\x27\x40\x07\x00\0", (40, 30)),
    ],
    ids=["lossy", "lossless"],
)
def test_a_plain_webp_says_its_size(body: bytes, size: tuple[int, int]) -> None:
    data = b"RIFF" + (len(body) + 4).to_bytes(4, "little") + b"WEBP" + body
    found = picture(data)
    assert (found.width, found.height) == size


@pytest.mark.parametrize(
    "data",
    [
        jpeg(40, 30, (0xE1, b"Exif\0\0MM\0*")),
        jpeg(40, 30, (0xE1, b"http://ns.adobe.com/xap/1.0/\0<x/>")),
        png(40, 30, (b"eXIf", b"MM\0*")),
        webp(40, 30, (b"EXIF", b"MM\0*")),
        webp(40, 30, (b"XMP ", b"<x/>")),
    ],
    ids=["jpeg", "jpeg-xmp", "png", "webp", "webp-xmp"],
)
def test_a_photo_that_says_where_it_was_taken_is_refused(data: bytes) -> None:
    with pytest.raises(PhotoRefusedError, match="place"):
        picture(data)


@pytest.mark.parametrize("size", [(10_000, 10_000), (30_001, 1), (0, 1)], ids=str)
def test_a_picture_of_too_many_pixels_is_refused(size: tuple[int, int]) -> None:
    with pytest.raises(PhotoRefusedError, match="pixels"):
        picture(png(*size))


@pytest.mark.parametrize("data", [b"", b"GIF89a", b"<svg/>", PICTURE[:12]], ids=str)
def test_what_is_no_known_picture_is_refused(data: bytes) -> None:
    with pytest.raises(PhotoRefusedError, match="kind"):
        picture(data)


@given(st.sampled_from([jpeg(9, 9), png(9, 9), webp(9, 9)]), st.data())
def test_no_bytes_break_the_reading_of_a_head(
    whole: bytes, data: st.DataObject
) -> None:
    cut = whole[: data.draw(st.integers(0, len(whole)))]
    tail = data.draw(st.binary(max_size=60))
    try:
        found = picture(cut + tail)
    except PhotoRefusedError:
        return
    assert found.width * found.height <= 50_000_000
