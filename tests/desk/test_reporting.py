"""A report is written whole or not at all, and says why where it cannot be."""

import os
from datetime import date
from hashlib import sha256
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from limen.desk.checking import Checked, check
from limen.desk.refusal import Refusal
from limen.desk.reporting import contents, report
from limen.desk.sites import new
from limen.exchange import contract, dumps

ON = date(2026, 11, 12)


@pytest.fixture(scope="module")
def checked(tmp_path_factory: pytest.TempPathFactory) -> Checked:
    site = new(tmp_path_factory.mktemp("site") / "door.toml")
    return check(site, on=ON)


def test_the_report_holds_the_findings_that_the_command_prints(
    checked: Checked, tmp_path: Path
) -> None:
    written = report(checked, tmp_path / "door.pdf")
    inside = PdfReader(written).attachments["findings.json"]
    printed = dumps(contract(checked.studies, site=checked.site.name))
    assert inside == [printed.encode()]


def test_the_digests_are_those_of_the_files_that_were_read(tmp_path: Path) -> None:
    site = new(tmp_path / "door.toml")
    files = dict(check(site, on=ON).files)
    assert files["door.toml"] == sha256(site.read_bytes()).hexdigest()
    assert any(name.startswith("sheet ") for name in files)


def test_nothing_is_left_beside_the_report(checked: Checked, tmp_path: Path) -> None:
    report(checked, tmp_path / "door.pdf")
    assert [one.name for one in tmp_path.iterdir()] == ["door.pdf"]


def test_a_report_that_is_there_is_replaced_and_keeps_its_mode(
    checked: Checked, tmp_path: Path
) -> None:
    old = tmp_path / "door.pdf"
    old.write_bytes(b"old")
    old.chmod(0o640)
    report(checked, old)
    assert old.read_bytes().startswith(b"%PDF-")
    assert old.stat().st_mode & 0o777 == 0o640


def test_an_old_report_stays_where_a_new_one_cannot_be_made(
    checked: Checked, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    old = tmp_path / "door.pdf"
    old.write_bytes(b"old")

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device", str(old))

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(Refusal, match="no room is left"):
        report(checked, old)
    assert old.read_bytes() == b"old"
    assert [one.name for one in tmp_path.iterdir()] == ["door.pdf"]


@pytest.mark.parametrize("place", ["", "missing/door.pdf", "file/door.pdf"])
def test_a_path_that_cannot_be_written_is_named_with_the_reason(
    checked: Checked, tmp_path: Path, place: str
) -> None:
    (tmp_path / "file").write_text("a file", encoding="utf-8")
    with pytest.raises(Refusal) as refused:
        report(checked, tmp_path / place)
    (line,) = refused.value.lines
    assert line.startswith(f"{tmp_path / place}: ")


def test_a_letter_no_font_has_is_refused_and_nothing_written(
    checked: Checked, tmp_path: Path
) -> None:
    site = checked.site.model_copy(update={"name": "漢"})
    strange = Checked(site, checked.studies, checked.rulebooks, checked.files)
    with pytest.raises(Refusal, match="漢"):
        report(strange, tmp_path / "door.pdf")
    assert list(tmp_path.iterdir()) == []


def test_paper_is_that_of_the_rulebooks_country(
    checked: Checked, tmp_path: Path
) -> None:
    american = check(new(tmp_path / "door.toml"), rulebook="us", on=ON)
    assert contents(checked).paper == "a4"
    assert contents(american).paper == "letter"
    assert contents(american, paper="a4").paper == "a4"


def test_every_figure_printed_belongs_to_a_question_that_was_asked(
    checked: Checked,
) -> None:
    asked = {one.question for study in checked.studies for one in study.findings}
    limits = contents(checked).limits
    assert limits
    assert {one.question for one in limits} <= asked


def test_the_body_is_that_of_the_rulebook(checked: Checked) -> None:
    (body,) = contents(checked).bodies
    assert (body.wide, body.deep, body.high) == (0.3, 0.2, 0.7)


def test_the_document_opens(checked: Checked, tmp_path: Path) -> None:
    written = report(checked, tmp_path / "door.pdf", paper="letter", units="feet")
    assert len(PdfReader(BytesIO(written.read_bytes())).pages) > 2
