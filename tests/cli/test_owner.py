"""`limen owner`: the sheet and the page for the phone, as files."""

from pathlib import Path

import pytest

from browsing.server import demo_text
from cli.conftest import Run


@pytest.fixture
def door(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A site file in a user's folder."""
    monkeypatch.setenv("LIMEN_HOME", str(tmp_path / "home"))
    (tmp_path / "door.toml").write_bytes(demo_text())
    return tmp_path / "door.toml"


def test_the_page_for_the_phone_is_written_and_the_site_is_kept(
    door: Path, run: Run
) -> None:
    out = door.parent / "phone"
    asked = ("owner", door, "--doorway", "staff", "--html", "--out", out)
    done = run(*asked)
    assert done.exit_code == 0, done.output
    made = out / "alder-quay-library-staff-owner.html"
    assert made.read_text("utf-8").startswith("<!doctype html>")
    assert "was not in the library, and is now" in done.output
    assert "was not in the library" not in run(*asked).output


def test_a_sheet_in_two_languages_is_one_file(door: Path, run: Run) -> None:
    out = door.parent / "sheet.pdf"
    done = run("owner", door, "--doorway", "staff", "--also", "fr", "--out", out)
    assert done.exit_code == 0, done.output
    assert out.read_bytes().startswith(b"%PDF")


def test_a_door_that_is_not_there_is_refused(door: Path, run: Run) -> None:
    assert run("owner", door, "--doorway", "x").exit_code == 2
