"""`limen card`: the files that go to the door, and what comes back."""

import json
from pathlib import Path
from typing import Any

import pytest

from browsing.server import demo_text
from builders.visit_events import STARTED, raw
from cli.conftest import Run
from limen.desk import card_files
from limen.desk.library import open_desk


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A user's folder, a site file in it, and a bundle with next to nothing in it."""
    monkeypatch.setenv("LIMEN_HOME", str(tmp_path / "home"))
    bundle = tmp_path / "onefile"
    bundle.mkdir()
    (bundle / "card.js").write_text("0;")
    (bundle / "card.css").write_text("p{}")
    monkeypatch.setattr(card_files, "BUNDLE", bundle)
    (tmp_path / "door.toml").write_bytes(demo_text())
    return tmp_path


def _site(home: Path) -> Any:
    desk = open_desk(home / "home" / "library.db")
    try:
        (one,) = desk.library.sites()
        return one
    finally:
        desk.library.close()


def test_both_files_are_written_and_the_site_is_kept(home: Path, run: Run) -> None:
    door, out = home / "door.toml", home / "cards"
    done = run("card", door, "--doorway", "main", "--out", out)
    assert done.exit_code == 0, done.output
    assert "was not in the library, and is now" in done.output
    html, pdf = (out / f"alder-quay-library-main-card.{one}" for one in ("html", "pdf"))
    assert html.read_text("utf-8").startswith("<!doctype html>")
    assert pdf.read_bytes().startswith(b"%PDF-")


def test_a_site_is_named_by_file_id_or_name(
    home: Path, run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(card_files, "packs_of", lambda *_: [{"name": "Main"}])
    monkeypatch.setattr(card_files, "page_of", lambda _: "page")
    monkeypatch.chdir(home)
    assert run("card", "door.toml", "--only", "html").exit_code == 0
    site = _site(home)
    for asked in ("door.toml", site.id, site.name):
        done = run("card", asked, "--only", "html")
        assert done.exit_code == 0
        assert "was not in the library" not in done.output
    assert _site(home).id == site.id


def test_what_is_not_there_is_refused_in_one_sentence(home: Path, run: Run) -> None:
    for asked, said in (
        ("nowhere.toml", "There is no file nowhere.toml"),
        (home / "door.toml", "no-such"),
    ):
        done = run("card", asked, "--doorway", "no-such")
        assert done.exit_code == 2
        assert said in done.output + str(done.stderr)


def test_a_card_without_its_script_says_how_to_build_it(
    home: Path, run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(card_files, "BUNDLE", home / "none")
    monkeypatch.setattr(card_files, "packs_of", lambda *_: [{"name": "Main"}])
    done = run("card", home / "door.toml")
    assert done.exit_code == 2
    assert "./run setup" in done.output + str(done.stderr)


def _saved(home: Path, *events: Any) -> Path:
    file = home / "limen-visit.json"
    file.write_text(json.dumps({"limen_visit": 1, "events": events, "photos": []}))
    return file


def test_what_came_back_is_told_and_what_is_broken_ends_with_2(
    home: Path, run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(card_files, "packs_of", lambda *_: [{"name": "Main"}])
    monkeypatch.setattr(card_files, "page_of", lambda _: "page")
    run("card", home / "door.toml", "--only", "html", "--out", home)
    site = _site(home).id
    good = raw("phone-a", 1, "started", dict(STARTED), site=site)
    bad = raw("phone-a", 2, "step", {"step": "box.left"}, site=site)
    done = run("card", "take-in", _saved(home, good))
    assert done.exit_code == 0
    assert "1 event taken in." in done.output
    done = run("card", "take-in", _saved(home, good, bad))
    assert done.exit_code == 2
    assert "1 event was known already." in done.output
    assert "Event 2 of the file" in done.output


def test_help_names_both_ways(run: Run) -> None:
    for words in (("card", "--help"), ("card",)):
        said = run(*words).output
        assert "take-in" in said
        assert "limen card door.toml" in said
