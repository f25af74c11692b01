"""`limen check --report`: a document beside the findings, never instead of them."""

from pathlib import Path

import pytest
from pypdf import PdfReader

from cli.conftest import Run
from limen.cli import checking
from limen.desk.sites import new


@pytest.fixture
def site(tmp_path: Path) -> Path:
    return new(tmp_path / "door.toml")


def test_findings_and_exit_status_are_the_same_with_a_report(
    run: Run, site: Path
) -> None:
    plain = run("check", site)
    reported = run("check", site, "--report", site.with_suffix(".pdf"))
    assert reported.exit_code == plain.exit_code
    assert reported.stdout == plain.stdout


def test_where_the_report_is_stands_beside_the_findings(run: Run, site: Path) -> None:
    out = site.with_suffix(".pdf")
    assert str(out) in run("check", site, "--report", out, "--json").stderr


def test_paper_can_be_chosen(run: Run, site: Path) -> None:
    out = site.with_suffix(".pdf")
    run("check", site, "--report", out, "--paper", "letter")
    assert float(PdfReader(out).pages[0].mediabox.height) == pytest.approx(792.0)


def test_another_paper_is_refused(run: Run, site: Path) -> None:
    assert run("check", site, "--report", "x.pdf", "--paper", "a5").exit_code == 2


def test_a_report_that_cannot_be_written_ends_with_2(run: Run, site: Path) -> None:
    refused = run("check", site, "--report", site.parent)
    assert refused.exit_code == 2
    assert "is a folder, not a file" in refused.stderr


def test_work_that_takes_long_says_so(
    run: Run, site: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(checking, "PATIENCE", 0.0)
    out = site.with_suffix(".pdf")
    assert "Making the report" in run("check", site, "--report", out).stderr
