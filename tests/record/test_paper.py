"""A sealed PDF is sealed over all of its bytes, and is still a PDF."""

import io
import random

import pytest
import typst
from pypdf import PdfReader

from limen.record import seal_paper, verify_bytes
from limen.record.paper import NoPaperError
from record.signing import CERTIFICATE, DEVICE, FIRM, STRANGER, sealed

PAGE = b"""
#set document(title: "A record", date: datetime(year: 2026, month: 11, day: 25))
#pdf.attach("record.json", relationship: "data", mime-type: "application/json",
  description: "The record")
= A record
"""


@pytest.fixture(scope="module")
def paper() -> bytes:
    page = {"main": PAGE, "record.json": sealed()}
    made = typst.compile(
        page,  # pyright: ignore[reportArgumentType]  # its stub knows no files
        format="pdf",
        pdf_standards=["a-3b"],
    )
    return seal_paper(made, DEVICE, CERTIFICATE)


def test_a_sealed_page_says_who_sealed_it(paper: bytes) -> None:
    found = verify_bytes(paper, firms=[FIRM.public])
    assert found.unchanged
    assert found.signer is not None
    assert found.signer.trusted


def test_it_can_still_be_read_with_what_it_carries(paper: bytes) -> None:
    read = PdfReader(io.BytesIO(paper), strict=True)
    assert "A record" in read.pages[0].extract_text()
    (carried,) = read.attachments["record.json"]
    assert carried == sealed()


def test_each_of_two_thousand_bytes_counts(paper: bytes) -> None:
    """Of the file by chance, and every byte of the seal and of the file's end."""
    chance = random.Random(20261125)  # which bytes, not a secret
    last = range(paper.rindex(b"%limen-by"), len(paper))
    for place in [*chance.sample(range(len(paper)), 2000), *last]:
        bit = 1 << chance.randrange(8)
        other = paper[:place] + bytes([paper[place] ^ bit]) + paper[place + 1 :]
        assert not verify_bytes(other).unchanged, place


@pytest.mark.parametrize(
    "more", [b"\n", b" ", b"\0", b"%%EOF", b"%PDF-1.7\nstartxref\n0\n%%EOF\n"]
)
def test_what_is_appended_is_found(paper: bytes, more: bytes) -> None:
    assert not verify_bytes(paper + more).unchanged
    assert not verify_bytes(more + paper).unchanged


def test_what_is_cut_off_is_found(paper: bytes) -> None:
    for many in (1, 2, 7, 200):
        assert not verify_bytes(paper[:-many]).unchanged


def test_a_page_is_sealed_once(paper: bytes) -> None:
    with pytest.raises(NoPaperError):
        seal_paper(paper, STRANGER, CERTIFICATE)
    with pytest.raises(NoPaperError):
        seal_paper(b"no page", DEVICE, CERTIFICATE)


def test_the_certificate_of_another_device_does_not_do(paper: bytes) -> None:
    plain = paper[: paper.rindex(b"%limen-by")] + paper[paper.rindex(b"startxref") :]
    assert verify_bytes(seal_paper(plain, STRANGER, CERTIFICATE)).where == "certificate"
    assert verify_bytes(plain).where == "form"
