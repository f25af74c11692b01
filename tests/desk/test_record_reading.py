"""A record is read alike from its text and from its paper, or refused with a reason."""

from pathlib import Path

import pytest

from builders.sealed import on_paper
from limen.desk.record_reading import read_record
from limen.desk.refusal import Refusal
from limen.record import digest_of
from record.signing import sealed

RECORD = sealed(kind="record", site="A library")
PAPER = on_paper(RECORD)


def _read(folder: Path, data: bytes, name: str = "mine") -> str:
    """What reading a file comes to: the digest of its record, or why it is refused."""
    path = folder / name
    path.write_bytes(data)
    try:
        return read_record(path).digest
    except Refusal as refused:
        return str(refused)


@pytest.mark.parametrize("data", [RECORD, PAPER], ids=["text", "paper"])
def test_text_and_paper_are_the_same_record(tmp_path: Path, data: bytes) -> None:
    assert _read(tmp_path, data) == digest_of(RECORD)


NO_SEAL = "There is no seal where a sealed record has it"
APART = "do not belong together"
REFUSED = {
    "other text": (b"{}", "is no sealed record", NO_SEAL),
    "other paper": (b"%PDF-1.7\nmine", "is no sealed record", NO_SEAL),
    "changed text": (RECORD.replace(b"in use", b"in Use"), "relied on", APART),
    "changed paper": (PAPER.replace(b"in use", b"in Use"), "relied on", APART),
    "nothing inside": (on_paper(b"mine"), "no record", "inside it"),
    "another seal": (sealed(kind="tuning"), "no record of a doorway", "is sealed"),
    "another inside": (on_paper(sealed(kind="tuning")), "no record of a", "sealed"),
}


@pytest.mark.parametrize("case", REFUSED)
def test_what_is_no_record_says_where_why_and_what_would_do(
    tmp_path: Path, case: str
) -> None:
    data, what, why = REFUSED[case]
    said = _read(tmp_path, data, "given.pdf")
    assert what in said
    assert why in said
    assert str(tmp_path / "given.pdf") in said
    assert "ccepted" in said
    assert "JSON" in said


def test_a_file_that_is_not_there_is_named(tmp_path: Path) -> None:
    with pytest.raises(Refusal, match=r"gone\.pdf"):
        read_record(tmp_path / "gone.pdf")
