"""What is to be done at each site is worked out once, and not again at each start."""

from datetime import date
from pathlib import Path

import pytest

from limen.desk import library as opened
from limen.desk import library_known as known_
from limen.desk import library_lines as lines
from limen.desk import library_sites as sites
from limen.desk.library import Desk, open_desk
from limen.store.starter import starter_text

DAY = date(2026, 11, 25)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "library.db"


def _opened(path: Path, day: date = DAY) -> Desk:
    return open_desk(path, today=lambda: day)


@pytest.fixture
def studied(path: Path) -> str:
    """The id of a site that was studied before the desk was closed."""
    desk = _opened(path)
    site = sites.import_text(desk, starter_text())
    assert lines.overview(desk)[0].tally is None
    assert lines.tallied(desk, site.id).tally is not None
    known_.note_down(desk)
    desk.library.close()
    return site.id


def test_after_a_start_the_list_is_there_without_a_text_being_read(
    path: Path, studied: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    def read(*_: object) -> None:
        raise AssertionError

    monkeypatch.setattr(lines, "open_site", read)
    desk = _opened(path)
    (line,) = lines.overview(desk)
    assert line.stored.id == studied
    assert line.tally is not None
    assert line.doors
    assert all(door.tally for door in line.doors)
    assert lines.glanced(desk, studied) == line == lines.tallied(desk, studied)
    desk.library.close()


def test_another_day_another_text_or_another_sheet_is_studied_anew(
    path: Path, studied: str
) -> None:
    tomorrow = _opened(path, date(2026, 11, 26))
    (line,) = lines.overview(tomorrow)
    assert line.tally is None
    assert line.doors  # its doorways are what they were
    tomorrow.library.close()
    today = _opened(path)
    assert lines.overview(today)[0].tally is not None
    today.sheets.mkdir()
    (today.sheets / "own.toml").write_text("", "utf-8")
    assert lines.overview(today)[0].tally is None
    (today.sheets / "own.toml").unlink()
    sites.rename(today, studied, "Another name")
    assert lines.overview(today)[0].tally is None
    today.library.close()


def test_looking_writes_nothing_and_is_remembered_all_the_same(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def written(*_: object) -> None:
        raise AssertionError

    desk = _opened(path)
    site = sites.import_text(desk, starter_text())
    monkeypatch.setattr(known_, "know", written)
    whole = lines.tallied(desk, site.id)
    assert whole.tally is not None
    assert lines.overview(desk) == (whole,)
    desk.library.close()


def test_what_cannot_be_kept_is_still_shown(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> None:
        raise opened.NotKeptError("full")

    monkeypatch.setattr(known_, "know", full)
    desk = _opened(path)
    site = sites.import_text(desk, starter_text())
    assert lines.tallied(desk, site.id).tally is not None
    known_.note_down(desk)
    assert not desk.noted
    desk.library.close()


def test_of_a_long_list_only_so_many_texts_are_read_at_once(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(lines, "MOST_READ", 2)
    desk = _opened(path)
    for _ in range(3):
        sites.import_text(desk, starter_text())
    assert sum(bool(one.doors) for one in lines.overview(desk)) == 2
    assert sum(bool(one.doors) for one in lines.overview(desk)) == 3
    desk.library.close()
