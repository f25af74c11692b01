"""Whatever is wrong with a file is told clearly, once, and nothing is written."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from typer.testing import CliRunner

from broken.files import DOOR, GOOD, GOOD_SHEET, OUT, OUTSIDE, SHEETS, SITES, Broken
from limen.cli.main import app
from limen.store.faults import Fault, FileFaults
from limen.store.sitefile import SiteFaults, read_site

NOBODY = 65534
FEWEST = 50


def _faults(path: Path) -> list[Fault]:
    with pytest.raises(FileFaults) as caught:
        read_site(path)
    return list(caught.value.faults)


def _written(folder: Path, text: str | bytes) -> Path:
    path = folder / "site.toml"
    path.write_bytes(text.encode("utf-8") if isinstance(text, str) else text)
    return path


def _everything(folder: Path) -> dict[str, bytes]:
    return {
        str(path.relative_to(folder)): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file() and not path.is_symlink()
    }


def _said(path: Path) -> str:
    """What the command line says; it ends with 2 and writes nothing."""
    before = _everything(path.parent)
    result = CliRunner().invoke(app, ["check", str(path)])
    assert result.exit_code == 2, result.output
    assert result.stdout == ""
    assert "Traceback" not in result.stderr
    assert _everything(path.parent) == before
    return result.stderr


def _names(broken: Broken) -> str:
    return broken.name


def test_the_good_file_is_good(tmp_path: Path) -> None:
    assert read_site(_written(tmp_path, GOOD)).site.name == "Reference doorway"


def test_there_are_enough_broken_files_and_no_two_alike() -> None:
    texts = [broken.of(GOOD) for broken in SITES]
    assert len(texts) + len(SHEETS) >= FEWEST
    assert len(set(texts)) == len(texts)
    assert GOOD not in texts


@pytest.mark.parametrize("broken", SITES, ids=_names)
def test_one_fault_is_told_once_with_place_and_reason(
    broken: Broken, tmp_path: Path
) -> None:
    faults = _faults(_written(tmp_path, broken.of(GOOD)))
    told = [f for f in faults if f.key == broken.key and broken.word in f.why]
    assert len(told) == 1, [fault.lines() for fault in faults]
    assert told[0].line
    assert told[0].accepted or told[0].example


@pytest.mark.parametrize("broken", SITES, ids=_names)
def test_the_command_line_tells_it_and_ends_with_two(
    broken: Broken, tmp_path: Path
) -> None:
    said = _said(_written(tmp_path, broken.of(GOOD)))
    assert "site.toml" in said
    assert broken.key in said
    assert broken.word in said
    assert "line " in said


@pytest.mark.parametrize("broken", SHEETS, ids=_names)
def test_a_fault_of_a_sheet_is_told_with_the_file_it_stands_in(
    broken: Broken, tmp_path: Path
) -> None:
    path = _with_sheet(tmp_path, broken.of(GOOD_SHEET))
    with pytest.raises(SiteFaults) as caught:
        read_site(path)
    (part,) = caught.value.parts
    assert part.file.endswith("own.toml")
    told = [f for f in part.faults if f.key == broken.key and broken.word in f.why]
    assert len(told) == 1, part.lines()
    assert broken.word in _said(path)


def _with_sheet(folder: Path, sheet: str, site: str = GOOD) -> Path:
    (folder / "sheets").mkdir()
    (folder / "sheets" / "own.toml").write_text(sheet, encoding="utf-8")
    return _written(folder, site.replace(OUT, OUT.replace("reference-two-row", "own")))


def test_the_line_is_the_line_of_the_key(tmp_path: Path) -> None:
    text = next(b for b in SITES if b.name == "a decimal comma").of(GOOD)
    (fault,) = _faults(_written(tmp_path, text))
    assert fault.line is not None
    assert text.splitlines()[fault.line - 1] == 'clear_width = "1,8 m"'


def test_faults_of_the_site_and_of_its_sheets_come_together(tmp_path: Path) -> None:
    site = GOOD.replace('"2000 mm"', '"2,0 m"').replace("channel = 2", "channel = 0")
    path = _with_sheet(tmp_path, GOOD_SHEET.replace("spots = 24", "spots = 1"), site)
    with pytest.raises(SiteFaults) as caught:
        read_site(path)
    own, sheet = caught.value.parts
    assert [fault.key for fault in own.faults] == [
        f"{DOOR} · clear_width",
        f'{DOOR} · fitting "inside" · settings.channel',
    ]
    assert len(sheet.faults) == 2
    said = _said(path)
    assert said.index("site.toml") < said.index("own.toml")


def test_every_disagreement_is_told_not_only_the_first(tmp_path: Path) -> None:
    text = GOOD.replace('fan = "wide"', 'fan = "none"').replace(
        "channel = 1", "channel = 9"
    )
    keys = [fault.key for fault in _faults(_written(tmp_path, text))]
    assert keys == [
        f"{OUTSIDE} · settings.fan",
        f"{OUTSIDE} · settings.channel",
        f'{DOOR} · fitting "inside" · settings.fan',
    ]


# Files that are hardly texts ---------------------------------------------------

BYTES = {
    "binary": (bytes(range(256)) * 8, "zero bytes"),
    "a byte order mark": (b"\xef\xbb\xbf" + GOOD.encode(), "byte order mark"),
    "UTF-16": (GOOD.encode("utf-16"), "UTF-16"),
    "Latin-1": (GOOD.replace("Reference", "R\xe9f").encode("latin-1"), "no UTF-8"),
    "ten megabytes": (GOOD.encode() + b"#" * 10_000_000, "larger than 2 MB"),
    "deep lists": (b"note = " + b"[" * 5000 + b"]" * 5000, "nest"),
    "deep dotted keys": (b".".join([b"a"] * 5000) + b" = 1", "nest"),
    "empty": (b"", "needed"),
    "only a comment": (b"# nothing\n", "needed"),
    "another kind of text": (b"<html><body>404</body></html>\n", "site.toml"),
    "control characters": (GOOD.encode() + b'\nplace = "a\x07b"\n', "control"),
    "no doorway": (b'name = "x"\ndoorway = []\n', "at least 1"),
    "a doorway that is a number": (
        b'name = "x"\ndoorway = [1]\n',
        "is not accepted here",
    ),
    "a fitting that is a text": (
        b'name = "x"\n[[doorway]]\nfitting = "x"\n',
        "fitting",
    ),
}


@pytest.mark.parametrize("name", BYTES)
def test_a_file_that_is_hardly_a_text_is_refused(name: str, tmp_path: Path) -> None:
    data, word = BYTES[name]
    path = _written(tmp_path, data)
    assert _faults(path)
    assert word in _said(path)


@pytest.mark.parametrize(
    ("kind", "word"),
    [
        ("nothing", "no such file"),
        ("folder", "a folder, not a file"),
        ("loop", "a link that leads to itself"),
        ("pipe", "a pipe or device"),
    ],
)
def test_a_path_that_is_no_file_is_refused(
    kind: str, word: str, tmp_path: Path
) -> None:
    path = tmp_path / "site.toml"
    match kind:
        case "folder":
            path.mkdir()
        case "loop":
            path.symlink_to(path)
        case "pipe":
            os.mkfifo(path)
        case _:
            pass
    (fault,) = _faults(path)
    assert word in fault.why
    assert word in _said(path)


def test_a_file_that_may_not_be_read_is_refused(tmp_path: Path) -> None:
    path = _written(tmp_path, GOOD)
    path.chmod(0)
    with _as_nobody():
        (fault,) = _faults(path)
    assert "may not be read by you" in fault.why


@contextmanager
def _as_nobody() -> Iterator[None]:
    """An administrator may read everything; be somebody else for a while."""
    if os.geteuid() != 0:
        yield
        return
    os.seteuid(NOBODY)
    try:
        yield
    finally:
        os.seteuid(0)


# Sheets that are hardly files --------------------------------------------------


@pytest.mark.parametrize("kind", ["loop", "nowhere", "folder", "pipe"])
def test_a_sheet_that_cannot_be_read_is_not_passed_over_for_a_generic_one(
    kind: str, tmp_path: Path
) -> None:
    sheet = tmp_path / "sheets" / "reference-two-row.toml"
    sheet.parent.mkdir()
    match kind:
        case "loop":
            sheet.symlink_to(sheet)
        case "nowhere":
            sheet.symlink_to(tmp_path / "gone.toml")
        case "folder":
            sheet.mkdir()
        case _:
            os.mkfifo(sheet)
    with pytest.raises(SiteFaults) as caught:
        read_site(_written(tmp_path, GOOD))
    (part,) = caught.value.parts
    assert part.file.endswith("reference-two-row.toml")


def test_a_folder_of_sheets_that_leads_to_itself_is_told(tmp_path: Path) -> None:
    (tmp_path / "sheets").symlink_to(tmp_path / "sheets")
    assert "a link that leads to itself" in _said(_written(tmp_path, GOOD))
