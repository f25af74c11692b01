"""Values set and files saved: nothing else touched, nothing lost."""

import os
import stat
import tomllib
from pathlib import Path

import pytest
import tomlkit
from hypothesis import given
from hypothesis import strategies as st

from limen.quantity import Dimension, Quantity, write
from limen.store.editing import (
    ChangedOnDiskError,
    EditError,
    Value,
    digest,
    save,
    set_value,
)
from limen.store.faults import FileFaults
from limen.store.reading import read_document, read_text
from store.small_site import SOUND, Site

Way = tuple[str | int, ...]


@pytest.mark.parametrize(
    ("path", "value", "old_line", "new_line"),
    [
        (
            ("doorway", 0, "id"),
            "wide",
            'id = "main"           # the wide one',
            'id = "wide"           # the wide one',
        ),
        (
            ("doorway", 0, "clear_width"),
            "1790 mm",
            'clear_width = "1800 mm"',
            'clear_width = "1790 mm"',
        ),
        (
            ("doorway", 0, "leaves", "thickness"),
            "41 mm",
            'thickness = "40 mm"',
            'thickness = "41 mm"',
        ),
        (
            ("doorway", 0, "fitting", 0, "fan", "half"),
            "31°",
            'fan = { form = "angles", half = "30°" }',
            'fan = { form = "angles", half = "31°" }',
        ),
        (
            ("doorway", 0, "fitting", 0, "rows", 1),
            "6°",
            'rows = ["2.5°", "5°"]',
            'rows = ["2.5°", "6°"]',
        ),
        (("doorway", 0, "fitting", 0, "channel"), 3, "channel = 2", "channel = 3"),
        (
            ("doorway", 1, "leaves", "kind"),
            "bi-parting",
            'leaves = { kind = "single", thickness = "45 mm" }',
            'leaves = { kind = "bi-parting", thickness = "45 mm" }',
        ),
    ],
)
def test_one_value_is_set_and_every_other_character_stays(
    path: Way, value: Value, old_line: str, new_line: str
) -> None:
    assert SOUND.count(old_line) == 1
    assert set_value(SOUND, path, value) == SOUND.replace(old_line, new_line)


def test_a_key_that_is_not_there_is_added_to_its_table() -> None:
    edited = set_value(SOUND, ("doorway", 0, "fitting", 0, "tested"), True)
    wanted = tomllib.loads(SOUND)
    wanted["doorway"][0]["fitting"][0]["tested"] = True
    assert tomllib.loads(edited) == wanted
    kept = [line for line in edited.split("\n") if not line.startswith("tested")]
    assert kept == SOUND.split("\n")


def test_single_quotes_stay_single() -> None:
    assert set_value("a = 'x' # c\n", ("a",), "y") == "a = 'y' # c\n"
    assert set_value("a = 'x'\n", ("a",), "it's") == 'a = "it\'s"\n'


def test_line_ends_of_another_system_stay() -> None:
    text = SOUND.replace("\n", "\r\n")
    edited = set_value(text, ("doorway", 0, "fitting", 0, "tested"), True)
    assert "\n" not in edited.replace("\r\n", "")


@pytest.mark.parametrize(
    ("path", "why"),
    [
        ((), "no key"),
        (("nowhere", "x"), "nowhere: there is no such key"),
        (("doorway", 7, "id"), "doorway.7: there is no such key"),
        (("doorway", 0), "not replaced"),
        (("doorway", 0, "leaves"), "not replaced"),
        (("doorway", 0, "fitting", 0, "rows"), "not replaced"),
        (("doorway", 0, "fitting", 0, "rows", 2), "no such place"),
        (("name", "x"), "no such key"),
        (("doorway", "id"), "no such key"),
    ],
)
def test_a_way_that_leads_nowhere_is_refused(path: Way, why: str) -> None:
    with pytest.raises(EditError, match=why):
        set_value(SOUND, path, "1 m")


def test_an_edit_that_would_touch_another_key_is_refused(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    text = "a = 'x'\nb = 'y'\n"
    for wrong in ("a = 'z'\n", "a = 'z'\nb = 'z'\n", "a = "):
        monkeypatch.setattr(tomlkit, "dumps", lambda _, wrong=wrong: wrong)
        with pytest.raises(EditError, match="without touching other keys"):
            set_value(text, ("a",), "z")


def test_what_is_no_toml_is_not_edited() -> None:
    with pytest.raises(EditError):
        set_value("a = ", ("a",), "1 m")


@given(st.floats(0.5, 12.0))
def test_a_remedy_written_to_the_file_is_read_back_exactly(width: float) -> None:
    value = write(Quantity(width), Dimension.LENGTH)
    edited = set_value(SOUND, ("doorway", 0, "clear_width"), value)
    site = read_document(edited, Site, name="quay.toml")
    assert site.doorway[0].clear_width.value == width


@given(st.text(max_size=20))
def test_any_text_is_set_as_it_is_or_refused(value: str) -> None:
    try:
        edited = set_value(SOUND, ("name",), value)
    except EditError:
        return
    wanted = {**tomllib.loads(SOUND), "name": value}
    assert tomllib.loads(edited) == wanted
    assert edited.split("\n")[2:] == SOUND.split("\n")[2:]


def test_undoing_an_edit_gives_the_first_text_again() -> None:
    path = ("doorway", 0, "leaves", "thickness")
    there = set_value(SOUND, path, "41 mm")
    assert set_value(there, path, "40 mm") == SOUND


@pytest.mark.parametrize("text", [SOUND, SOUND.replace("\n", "\r\n"), "", "# only\n"])
def test_load_save_load_is_the_same_file(tmp_path: Path, text: str) -> None:
    path = tmp_path / "quay.toml"
    path.write_bytes(text.encode())
    first = read_text(path)
    save(path, first, expected=digest(first))
    assert path.read_bytes() == text.encode()
    assert read_text(path) == first
    assert tomlkit.dumps(tomlkit.parse(first)) == first


def test_a_new_file_is_written_where_there_is_none(tmp_path: Path) -> None:
    save(tmp_path / "new.toml", "a = 1\n", expected=None)
    assert (tmp_path / "new.toml").read_text() == "a = 1\n"
    with pytest.raises(ChangedOnDiskError):
        save(tmp_path / "new.toml", "a = 2\n", expected=None)


@pytest.mark.parametrize("meanwhile", ["somebody else's text", None])
def test_what_somebody_else_saved_meanwhile_is_not_overwritten(
    tmp_path: Path, meanwhile: str | None
) -> None:
    path = tmp_path / "quay.toml"
    path.write_text("mine")
    path.write_text(meanwhile) if meanwhile else path.unlink()
    with pytest.raises(ChangedOnDiskError, match="nothing saved") as caught:
        save(path, "mine, edited", expected=digest("mine"))
    now = path.read_text() if path.exists() else None
    assert now == meanwhile
    assert caught.value.text == (meanwhile.encode() if meanwhile else None)
    assert len(list(tmp_path.iterdir())) == (1 if meanwhile else 0)


def test_a_change_in_the_last_moment_is_seen(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "quay.toml"
    path.write_text("old")
    sync = os.fsync

    def somebody_saves(descriptor: int) -> None:
        sync(descriptor)
        path.write_text("theirs")

    monkeypatch.setattr(os, "fsync", somebody_saves)
    with pytest.raises(ChangedOnDiskError):
        save(path, "ours", expected=digest("old"))
    assert path.read_text() == "theirs"
    assert [item.name for item in tmp_path.iterdir()] == ["quay.toml"]


@pytest.mark.parametrize("step", ["fsync", "replace"])
def test_a_save_that_is_cut_short_leaves_the_old_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, step: str
) -> None:
    path = tmp_path / "quay.toml"
    path.write_text("old")

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    if step == "fsync":
        monkeypatch.setattr(os, "fsync", full)
    else:
        monkeypatch.setattr(Path, "replace", full)
    with pytest.raises(FileFaults, match="no space left"):
        save(path, "new", expected=digest("old"))
    assert path.read_text() == "old"
    assert [item.name for item in tmp_path.iterdir()] == ["quay.toml"]


def test_a_folder_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(FileFaults, match="cannot be saved"):
        save(tmp_path / "none" / "x.toml", "a = 1", expected=None)


def test_a_link_stays_a_link_and_a_mode_a_mode(tmp_path: Path) -> None:
    path, link = tmp_path / "quay.toml", tmp_path / "link.toml"
    path.write_text("old")
    path.chmod(0o640)
    link.symlink_to(path.name)
    save(link, "new", expected=digest("old"))
    assert link.is_symlink()
    assert path.read_text() == "new"
    assert stat.S_IMODE(path.stat().st_mode) == 0o640
